export type FitFact = { words: string, value: string, detail: string, };

export type MeasuredChoice = { value: string, words: string, };

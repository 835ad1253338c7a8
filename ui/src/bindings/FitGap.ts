export type FitGap = { place: string, words: string, mm: number | null, u_mm: number | null, now_mm: number | null, word: string, line: string, };

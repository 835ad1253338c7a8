export type FitStateView = { state: import("./WheelState").WheelState, words: string, headline: string, word: string, detail: string, gaps: Array<import("./FitGap").FitGap>, text: string, };

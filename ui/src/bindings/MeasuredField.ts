export type MeasuredField = { name: string, words: string, unit: string, hint: string, value: string, choices: Array<import("./MeasuredChoice").MeasuredChoice>, };

export type MeasuredRef = { car: string, part: import("./MeasuredPart").MeasuredPart, of: string, };

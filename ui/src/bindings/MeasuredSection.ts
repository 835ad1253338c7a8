export type MeasuredSection = { title: string, good: string, fields: Array<import("./MeasuredField").MeasuredField>, };

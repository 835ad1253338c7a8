export type KeepMeasured = { car: string, part: import("./MeasuredPart").MeasuredPart, of: string, tape: import("./TapeUnit").TapeUnit, fields: { [key in string]: string }, };

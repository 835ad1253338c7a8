// What the four tapes are called, and how an inch is divided on them.
import type { TapeStep } from "../bindings/TapeStep";
import type { TapeUnit } from "../bindings/TapeUnit";

/** The choice of a tape, for every form that asks for one. */
export const TAPES = [
  { value: "in", words: "inches, 1/16", test: "tape-in" },
  { value: "in32", words: "inches, 1/32", test: "tape-in32" },
  { value: "mm", words: "mm", test: "tape-mm" },
  { value: "cm", words: "cm", test: "tape-cm" },
] as const satisfies readonly { value: TapeUnit; words: string; test: string }[];

/** The unit as it stands behind a number. */
export type UnitWord = "in" | "mm" | "cm";

export function unitWord(tape: TapeUnit): UnitWord {
  return tape === "in32" ? "in" : tape;
}

/** Parts of an inch on an inch tape; null on a metric one. */
export function partsOfAnInch(tape: TapeUnit): 16 | 32 | null {
  if (tape === "in") return 16;
  return tape === "in32" ? 32 : null;
}

/** The finest lines of a tape of one's own. */
export const STEPS = [
  { value: "sixteenths", words: "1/16 in", test: "step-sixteenths" },
  { value: "thirty_seconds", words: "1/32 in", test: "step-thirty_seconds" },
  { value: "mm", words: "1 mm", test: "step-mm" },
  { value: "half_mm", words: "0.5 mm", test: "step-half_mm" },
  { value: "cm", words: "cm and mm", test: "step-cm" },
] as const satisfies readonly { value: TapeStep; words: string; test: string }[];

/** The unit that bare numbers of such a tape have. */
export function unitOfStep(step: TapeStep): UnitWord {
  if (step === "sixteenths" || step === "thirty_seconds") return "in";
  return step === "cm" ? "cm" : "mm";
}

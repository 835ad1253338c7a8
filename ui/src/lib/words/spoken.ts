// A reading as it is said aloud: "front right, ten and seven sixteenths", "rear left, four hundred three".
import type { StepView } from "../../bindings/StepView";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { inchParts } from "../entry";
import { partsOfAnInch } from "../tape";
import { CORNER } from "./corner";

const SMALL = (
  "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen " +
  "eighteen nineteen"
).split(" ");
const TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/** A whole number in words, up to 9,999; a larger one as its digits. */
export function whole(number: number): string {
  if (number >= 10_000) return `${number}`;
  const rest = (of: number) => (number % of === 0 ? "" : ` ${whole(number % of)}`);
  if (number >= 1000) return `${whole(Math.floor(number / 1000))} thousand${rest(1000)}`;
  if (number >= 100) return `${whole(Math.floor(number / 100))} hundred${rest(100)}`;
  if (number < 20) return SMALL[number] ?? `${number}`;
  const unit = number % 10;
  return `${TENS[Math.floor(number / 10)]}${unit === 0 ? "" : `-${SMALL[unit]}`}`;
}

const PARTS: Record<number, string> = {
  4: "quarter",
  8: "eighth",
  16: "sixteenth",
  32: "thirty-second",
  64: "sixty-fourth",
};

function fraction(numerator: number, denominator: number): string {
  if (numerator === 1 && denominator === 2) return "a half";
  const part = PARTS[denominator];
  if (!part) return `${whole(numerator)} over ${whole(denominator)}`;
  return `${whole(numerator)} ${part}${numerator === 1 ? "" : "s"}`;
}

function decimal(text: string): string | null {
  const match = /^(\d+)(?:[.,](\d+))?$/.exec(text);
  if (!match) return null;
  const digits = [...(match[2] ?? "")].map((digit) => whole(Number(digit))).join(" ");
  return `${whole(Number(match[1]))}${digits === "" ? "" : ` point ${digits}`}`;
}

/** A number as typed, in words; text of any other shape ("60.0 cm") as it stands. */
export function spokenNumber(text: string, tape: TapeUnit | "°"): string {
  const trimmed = text.trim();
  if (tape === "°") {
    const degrees = decimal(trimmed.replace(/^[-−+]/, "").replace(/°$/, ""));
    if (degrees === null) return trimmed;
    return `${/^[-−]/.test(trimmed) ? "nose-up" : "nose-down"} ${degrees}`;
  }
  const parts = partsOfAnInch(tape) ? inchParts(trimmed) : null;
  if (!parts || parts.numerator === null) return decimal(trimmed) ?? trimmed;
  const part = fraction(parts.numerator, parts.denominator);
  return parts.whole === "" ? part : `${whole(Number(parts.whole))} and ${part}`;
}

/** The corner and what was accepted there. */
export function spokenReading(step: StepView, text: string, tape: TapeUnit): string {
  return `${CORNER[step.corner]}, ${spokenNumber(text, step.kind === "gauge" ? "°" : tape)}`;
}

// Both axes of the settling picture: even heights in the unit shown, and days that have room for their labels.
import type { SettlingView } from "../../bindings/SettlingView";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { builtUp, inchText, wholeMm } from "../format";
import { partsOfAnInch } from "../tape";
import type { Scale } from "./scale";

/** Labels of the height axis are at least so far apart, px. */
const LABELS_APART = 22;
const STEPS_MM = [1, 2, 5, 10, 20, 50, 100, 200];
const STEPS_IN = [0.125, 0.25, 0.5, 1, 2, 4, 8];
/** Kilometres between labels, and between ticks. */
const KM: readonly (readonly [number, number])[] = [1, 10, 100, 1_000, 10_000].flatMap(
  (ten) =>
    [
      [10 * ten, 5 * ten],
      [20 * ten, 10 * ten],
      [50 * ten, 10 * ten],
    ] as const,
);
/** Days between labels, and between ticks. */
const DAYS: readonly (readonly [number, number])[] = [
  [1, 1],
  [2, 1],
  [7, 1],
  [14, 7],
  [28, 7],
  [56, 14],
  [91, 91],
  [182, 91],
  [364, 91],
  [728, 182],
  [1456, 364],
];
/** Letters of a label: about this wide, px. */
export const LETTER = 6.9;

export interface Tick {
  at: number;
  words: string;
}

/** What is drawn in: one strip's scales and room. */
export interface Frame {
  time: Scale;
  y: Scale;
  k: number;
  top: number;
  bottom: number;
  left: number;
  right: number;
  radius: number;
  unit: TapeUnit;
  /** At which end the cause of a day is written. */
  named: ReadonlyMap<string, string>;
}

/** Even heights in the unit shown, with their words. */
export function heightRows({ y, k, top, bottom, unit }: Frame): Tick[] {
  const parts = partsOfAnInch(unit);
  const [steps, per] = parts === null ? [STEPS_MM, 1] : [STEPS_IN, 25.4];
  const step = (steps.find((step) => step * per * k >= LABELS_APART) ?? steps.at(-1) ?? 1) * per;
  const [low, high] = y.domain;
  const rows: Tick[] = [];
  for (let i = Math.ceil(low / step); i * step <= high; i += 1) {
    const where = y(i * step);
    if (where < top || where > bottom) continue;
    rows.push({ at: where, words: parts === null ? wholeMm(i * step) : inchText(builtUp(i * step, parts)) });
  }
  return rows;
}

/** Ticks and labels of time; the unit stands at the right end, in the last label's place. */
export function timeTicks(
  view: Pick<SettlingView, "until" | "clock" | "clock_words">,
  time: Scale,
  right: number,
): { ticks: number[]; labels: Tick[] } {
  const perUnit = time(1) - time(0);
  const widest = `${Math.round(view.until)}`.length * LETTER + 14;
  const steps = view.clock === "days" ? DAYS : KM;
  const [label, tick] = steps.find(([label]) => label * perUnit >= widest && (label >= 7 || view.until <= 21)) ??
    steps.at(-1) ?? [1, 1];
  // Ticks nearer than 8 px run together.
  const apart = steps.find(([, tick]) => tick * perUnit >= 8)?.[1] ?? label;
  const every = (step: number) => Array.from({ length: Math.floor(view.until / step) + 1 }, (_, i) => i * step);
  const room = right - view.clock_words.length * LETTER - 12;
  return {
    ticks: every(Math.max(tick, apart)).map((at) => time(at)),
    labels: every(label)
      .map((at) => ({ at: time(at), words: `${at}` }))
      .filter(({ at, words }) => at + (words.length * LETTER) / 2 < room),
  };
}

/** A place to a tenth of a pixel. */
export function px(value: number): number {
  return Math.round(value * 10) / 10;
}

// Hollow days: where they stood, the line to where they count, and their cause where it covers least.
import type { SettlingEnd } from "../../bindings/SettlingEnd";
import type { SettlingPoint } from "../../bindings/SettlingPoint";
import { LETTER, px, type Frame } from "./settling-axes";

/** Nearer than this two marks of a day would be one blot, px. */
const APART = 13;
/** Of more days than these none is named in the picture; the list names them. */
const MOST_NAMED = 40;

/** A day that stood with another load: where it stood, and the line to where it counts. */
export interface Hollow {
  x: number;
  y: number;
  /** From where it stood to where it counts; empty where the two are one. */
  lead: string;
  words: string;
  /** Where the words begin or end. */
  wordsX: number;
  wordsY: number;
  anchor: "start" | "end";
}

export function hollows({ end, points }: SettlingEnd, frame: Frame, lines: readonly number[]): Hollow[] {
  const { time, y, left, right, radius, named } = frame;
  return points.flatMap((point) => {
    if (point.stood_mm == null) return [];
    const x = time(point.at);
    const alone = blot(point, frame);
    const [from, to] = [y(point.stood_mm), y(point.height_mm)];
    const way = Math.sign(to - from);
    const cause = named.get(point.snapshot) !== end || points.length > MOST_NAMED ? "" : point.cause;
    const wordsY = alone ? y(point.height_mm + way * point.band_mm) + (way < 0 ? -2 : 4) : from;
    const wide = cause.length * LETTER + radius + 5;
    // What the words would cover on either side. Below a falling curve the left is free, above it the right.
    const covers = (low: number, high: number) =>
      (low < left - 4 || high > right ? 100 : 0) +
      lines.filter((at) => at > low && at < high).length +
      points.filter((other) => {
        const at = time(other.at);
        const [up, down] = [y(other.height_mm + other.band_mm), y(other.height_mm - other.band_mm)];
        return other !== point && at > low - 6 && at < high + 6 && up < wordsY + 9 && down > wordsY - 9;
      }).length;
    const [before, after] = [covers(x - wide, x), covers(x, x + wide)];
    const toLeft = before === after ? way < 0 : before < after;
    // Where it would cover more than one day it stands in the list only.
    const words = Math.min(before, after) > 1 ? "" : cause;
    return [
      {
        x,
        y: alone ? to : from,
        lead: alone ? "" : `M${px(x)} ${px(from + way * (radius + 1))}V${px(to - way * (radius + 1))}`,
        words,
        wordsX: toLeft ? x - radius - 5 : x + radius + 5,
        wordsY,
        anchor: toLeft ? ("end" as const) : ("start" as const),
      },
    ];
  });
}

/** Where a day stood and where it counts lie on each other. */
export function blot({ stood_mm, height_mm }: SettlingPoint, { k }: Frame): boolean {
  return stood_mm != null && Math.abs(stood_mm - height_mm) * k < APART;
}

/** A cause is written once, at the end that it moved most. */
export function namedAt(ends: readonly SettlingEnd[]): Map<string, string> {
  const most = new Map<string, { end: string; moved: number }>();
  for (const { end, points } of ends)
    for (const { snapshot, stood_mm, height_mm } of points) {
      const moved = stood_mm == null ? 0 : Math.abs(stood_mm - height_mm);
      if (moved > (most.get(snapshot)?.moved ?? 0)) most.set(snapshot, { end, moved });
    }
  return new Map([...most].map(([snapshot, { end }]) => [snapshot, end]));
}

// Axes of a chart as geometry: even ticks on both sides, and paths through its points.
import { evenly, linear, type Scale } from "./scale";

export interface Tick {
  at: number;
  words: string;
}

export interface Chart {
  x: Scale;
  y: Scale;
  columns: Tick[];
  rows: Tick[];
}

/** Where a chart lies in its picture. */
export interface Box {
  left: number;
  right: number;
  top: number;
  foot: number;
}

/** Ticks of 1, 2 or 5 times a power of ten, below 1 too; at most so many steps. */
export function ticks([low, high]: readonly [number, number], most: number): number[] {
  const span = high - low;
  if (!(span > 0)) return [];
  // Whole numbers are what `evenly` steps in.
  const finer = 10 ** Math.max(0, Math.ceil(Math.log10((2 * most) / span)));
  return evenly([low * finer, high * finer], most).map((tick) => tick / finer);
}

/** A number for an axis, with as many decimals as its neighbours need, and a true minus. */
export function axisWords(values: readonly number[]): string[] {
  const decimals = Math.max(
    0,
    ...values.map((value) => (`${Math.round(value * 1e6) / 1e6}`.split(".")[1] ?? "").length),
  );
  return values.map((value) => {
    const text = Math.abs(value).toFixed(decimals);
    return value < 0 && Number(text) !== 0 ? `−${text}` : text;
  });
}

/** A chart over these reaches. */
export function chart(
  across: readonly [number, number],
  up: readonly [number, number],
  { left, right, top, foot }: Box,
  most: { columns: number; rows: number },
): Chart {
  const x = linear(across, [left, right]);
  const y = linear(up, [foot, top]);
  const named = (values: number[], scale: Scale): Tick[] => {
    const words = axisWords(values);
    return values.map((value, i) => ({ at: scale(value), words: words[i] ?? "" }));
  };
  return { x, y, columns: named(ticks(across, most.columns), x), rows: named(ticks(up, most.rows), y) };
}

const px = (value: number) => Math.round(value * 10) / 10;

/** A path through points. */
export function through(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${px(x)} ${px(y)}`).join("");
}

// Pictures of bench sums as geometry, px: two arms and their sweep, a pedal, a shim, a cut, a core. Angles in degrees, lengths in mm.
import { short, type Point } from "./curve";

const RAD = Math.PI / 180;

/** From a pivot so far out, so many degrees clockwise from straight up. */
export function swung([x, y]: Point, reach: number, degrees: number): Point {
  return [short(x + reach * Math.sin(degrees * RAD)), short(y - reach * Math.cos(degrees * RAD))];
}

/** A line through points. */
export function line(points: readonly Point[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${short(x)} ${short(y)}`).join("");
}

export interface Arm {
  pivot: Point;
  ball: Point;
  /** At both locks. */
  locks: readonly [Point, Point];
  /** From one lock to the other. */
  arc: string;
  /** Over the middle of the arc. */
  label: Point;
}

/** An arm that points up and swings half its sweep to either side. */
export function arm(pivot: Point, reach: number, sweep: number): Arm {
  const [from, to] = [swung(pivot, reach, -sweep / 2), swung(pivot, reach, sweep / 2)];
  const large = sweep > 180 ? 1 : 0;
  return {
    pivot,
    ball: swung(pivot, reach, 0),
    locks: [from, to],
    arc: `M${from[0]} ${from[1]}A${short(reach)} ${short(reach)} 0 ${large} 1 ${to[0]} ${to[1]}`,
    label: [pivot[0], short(pivot[1] - reach - 14)],
  };
}

/** Pixels a mm at which two arms and their sweeps stand side by side. */
export function armsScale(
  reaches: readonly number[],
  sweeps: readonly number[],
  width: number,
  tallest: number,
): number {
  const aside = reaches.map((reach, i) => reach * Math.sin((Math.min(sweeps[i] ?? 0, 180) / 2) * RAD));
  return Math.min((width / 2 - 24) / (2 * Math.max(...aside, 1)), tallest / Math.max(...reaches, 1));
}

/** How far a lever turns whose end goes so far. */
export function leverDegrees(travel: number, reach: number): number {
  return Math.asin(Math.min(1, travel / reach)) / RAD;
}

/** A shim, its thick end at the right (rear) or at the left: three corners, its flat face up or down. */
export function shim(at: Point, length: number, thickness: number, thickRear: boolean, flatUp: boolean): Point[] {
  const [x, y] = at;
  const [left, right] = [x - length / 2, x + length / 2];
  const thick = thickRear ? right : left;
  const thin = thickRear ? left : right;
  const way = flatUp ? 1 : -1;
  return [
    [thin, y],
    [thick, y],
    [thick, y + way * thickness],
  ];
}

/** What is cut out of a bar: its base at the top or the bottom wall, its point at the other. */
export function cut(at: Point, depth: number, base: number, top: boolean): Point[] {
  const [x, y] = at;
  const [wall, far] = top ? [y - depth / 2, y + depth / 2] : [y + depth / 2, y - depth / 2];
  return [
    [x - base / 2, wall],
    [x + base / 2, wall],
    [x, far],
  ];
}

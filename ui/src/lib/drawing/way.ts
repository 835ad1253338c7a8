// The dotted way round the car in the walk picture, in the plan's own px: nose up, from beside the first corner to half-way to the last.
import type { Corner } from "../../bindings/Corner";
import { short, type Point } from "./curve";

export interface Way {
  path: string;
  /** Tip of the arrow. */
  end: Point;
  /** Which way it points: 0 right, 90 down, degrees. */
  turnDeg: number;
}

/** `box`: left, top, right, bottom of the way; `axles`: front and rear axle, px; `r`: radius of its corners. */
export function wayRound(
  corners: readonly Corner[],
  box: [number, number, number, number],
  axles: [number, number],
  r = 14,
): Way {
  const [left, top, right, bottom] = box;
  const [first, second, third, last] = corners as [Corner, Corner, Corner, Corner];
  const x = (corner: Corner) => (corner.endsWith("L") ? left : right);
  const outer = (corner: Corner): Point => [x(corner), corner.startsWith("F") ? top : bottom];
  const start: Point = [x(first), axles[first.startsWith("F") ? 0 : 1]];
  const across = first[0] === second[0];
  const from = outer(third);
  const to = outer(last);
  const end: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const points: Point[] = [start, ...(across ? [outer(first)] : []), outer(second), from, end];
  let path = `M${start.map(short).join(" ")}`;
  for (let i = 1; i < points.length; i++) {
    const [before, at, after] = [points[i - 1], points[i], points[i + 1]];
    if (!before || !at) continue;
    if (!after) {
      path += `L${at.map(short).join(" ")}`;
      continue;
    }
    const inward = towards(at, before, r);
    const outward = towards(at, after, r);
    path += `L${inward.map(short).join(" ")}Q${at.map(short).join(" ")} ${outward.map(short).join(" ")}`;
  }
  return { path, end, turnDeg: Math.round((Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI) };
}

function towards(from: Point, to: Point, by: number): Point {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const share = Math.min(by, long / 2) / long;
  return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
}

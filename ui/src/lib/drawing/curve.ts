// Smooth outlines through anchors: centripetal Catmull-Rom (alpha 0.5), a new run at each corner anchor.
import { curveCatmullRom, line } from "d3-shape";

export type Point = readonly [number, number];

export interface Anchor {
  at: Point;
  corner: boolean;
}

/** Anchors from the notation of the look: "4,262c 120,272 352,288c"; a `c` marks a corner. */
export function anchors(notation: string): Anchor[] {
  return notation
    .trim()
    .split(/\s+/)
    .map((word) => {
      const corner = word.endsWith("c");
      const [x, y] = (corner ? word.slice(0, -1) : word).replaceAll("−", "-").split(",").map(Number);
      if (x === undefined || y === undefined || Number.isNaN(x) || Number.isNaN(y)) throw new Error(`anchor ${word}`);
      return { at: [x, y] as const, corner };
    });
}

/** SVG path through the anchors after `place` has moved each to the screen. `start` is "M" for a new path, "L" to go on. */
export function through(list: readonly Anchor[], place: (at: Point) => Point, start: "M" | "L" = "M"): string {
  const runs: Point[][] = [];
  let run: Point[] = [];
  for (const anchor of list) {
    run.push(place(anchor.at));
    if (anchor.corner && run.length > 1) {
      runs.push(run);
      run = [place(anchor.at)];
    }
  }
  if (run.length > 1 || runs.length === 0) runs.push(run);
  const smooth = line<Point>().curve(curveCatmullRom.alpha(0.5));
  const drawn = runs.map((points) => (smooth(points) ?? "").replace(/^M/, "L")).join("");
  return start + drawn.slice(1);
}

/** A straight path through screen points. */
export function straight(points: readonly Point[], start: "M" | "L" = "M"): string {
  return points.map(([x, y], i) => `${i === 0 ? start : "L"}${short(x)},${short(y)}`).join("");
}

/** Two decimals are more than a screen shows. */
export function short(value: number): number {
  return Math.round(value * 100) / 100;
}

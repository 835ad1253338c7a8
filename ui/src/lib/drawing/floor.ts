// The floor as a block on a level plate, seen from its left front, raised; and the same floor as columns under a level line.
import { short, straight, type Point } from "./curve";

/** Heights of the four spots S1 to S4 (front left, front right, rear left, rear right of facing A), mm. */
export type Four = readonly [number, number, number, number];

export interface BlockShapes {
  plate: string;
  top: string;
  left: string;
  front: string;
  grid: string[];
  /** Chalk crosses at S1 to S4. */
  spots: [Point, Point, Point, Point];
  /** Faces of the plates that lie on spots, to be filled one after the other. */
  plates: { left: string; front: string; top: string }[];
  height: number;
  width: number;
}

/** Thickness under the lowest spot, in picture widths. */
const BASE = 0.012;

/**
 * The block. `along` and `across` are the floor's sides in mm, heights are drawn `times` as tall as they are. It fills `width`
 * px; the front left spot is the lowest point of the picture, the nose points to the lower left. `plates` lie on spots, as thick
 * as they are in the scale of the heights.
 */
export function block(
  heights: Four,
  along: number,
  across: number,
  times: number,
  width: number,
  plates: readonly { spot: number; mm: number }[] = [],
): BlockShapes {
  // Unit steps on screen of one along-side (to the rear) and one across-side (to the left).
  const rearward: Point = [0.687, -0.244];
  const squat = Math.min(1.15, Math.max(0.8, (across / along) * 1.9));
  const leftward: Point = [0.313 * squat, 0.185 * squat];
  const span = rearward[0] + leftward[0];
  const scale = width / span;
  const mm = (scale * times * 0.6) / along;
  const base = BASE * scale;
  // u to the rear (0 front), v to the left (0 right); z in mm.
  const at = (u: number, v: number, z: number): Point => [
    short((u * rearward[0] + v * leftward[0]) * scale),
    short((u * rearward[1] + v * leftward[1]) * scale - z * mm - base),
  ];
  const foot = (u: number, v: number): Point => {
    const [x, y] = at(u, v, 0);
    return [x, short(y + base)];
  };
  const [fl, fr, rl, rr] = heights;
  const z = (u: number, v: number) => (1 - u) * ((1 - v) * fr + v * fl) + u * ((1 - v) * rr + v * rl);
  const corner = { fl: at(0, 1, fl), fr: at(0, 0, fr), rl: at(1, 1, rl), rr: at(1, 0, rr) };
  const overhang = 0.06;
  const plate: Point[] = [
    foot(-overhang, -overhang),
    foot(-overhang, 1 + overhang),
    foot(1 + overhang, 1 + overhang),
    foot(1 + overhang, -overhang),
  ];
  const boxes = plates.map(({ spot, mm: thick }) => {
    // As long and wide as a tire's footprint is drawn, its outer edges on the floor's own.
    const [u0, u1] = spot < 2 ? [0, 0.13] : [0.87, 1];
    const [v0, v1] = spot % 2 === 0 ? [0.76, 1] : [0, 0.24];
    const lift = Math.max(thick, 3 / (mm || 1));
    const top = (u: number, v: number) => at(u, v, z(u, v) + lift);
    const foot = (u: number, v: number) => at(u, v, z(u, v));
    return {
      left: [foot(u0, v1), foot(u1, v1), top(u1, v1), top(u0, v1)],
      front: [foot(u0, v0), foot(u0, v1), top(u0, v1), top(u0, v0)],
      top: [top(u0, v0), top(u0, v1), top(u1, v1), top(u1, v0)],
    };
  });
  const grid: string[] = [];
  for (let i = 1; i < 6; i++) grid.push(edge((t) => at(i / 6, t, z(i / 6, t))));
  for (let i = 1; i < 4; i++) grid.push(edge((t) => at(t, i / 4, z(t, i / 4))));
  const every: Point[] = [...plate, ...Object.values(corner), ...boxes.flatMap((box) => box.top)];
  const minX = Math.min(...every.map(([x]) => x));
  const minY = Math.min(...every.map(([, y]) => y));
  const maxX = Math.max(...every.map(([x]) => x));
  const maxY = Math.max(...every.map(([, y]) => y));
  const shrink = width / (maxX - minX);
  const move = ([x, y]: Point): Point => [short((x - minX) * shrink), short((y - minY) * shrink)];
  const moved = (points: Point[]) => `${straight(points.map(move))}Z`;
  return {
    plate: moved(plate),
    top: moved([corner.fl, corner.fr, corner.rr, corner.rl]),
    left: moved([corner.fl, corner.rl, foot(1, 1), foot(0, 1)]),
    front: moved([corner.fr, corner.fl, foot(0, 1), foot(0, 0)]),
    grid: grid.map((path) => remap(path, move)),
    spots: [move(corner.fl), move(corner.fr), move(corner.rl), move(corner.rr)],
    plates: boxes.map((box) => ({ left: moved(box.left), front: moved(box.front), top: moved(box.top) })),
    height: (maxY - minY) * shrink,
    width,
  };
}

/** Tops of four columns of floor under a level line: px below the line, to one scale, the middle of the rules left out. */
export function columnTops(readings: readonly (number | null)[], shallow: number, deep: number): number[] {
  const known = readings.filter((value): value is number => value !== null);
  const least = Math.min(...known);
  const most = Math.max(...known);
  const range = Math.max(most - least, 20);
  return readings.map((value) =>
    value === null ? (shallow + deep) / 2 : short(shallow + ((value - least) / range) * (deep - shallow)),
  );
}

/** A ruled line is straight on a bilinear surface. */
function edge(at: (t: number) => Point): string {
  return straight([at(0), at(1)]);
}

function remap(path: string, move: (at: Point) => Point): string {
  const points = path
    .slice(1)
    .split("L")
    .map((pair) => pair.split(",").map(Number) as unknown as Point);
  return straight(points.map(move));
}

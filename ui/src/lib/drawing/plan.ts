// The car from above: nose up, x to the car's right, y backwards from the front axle; both in px.
import type { Corner } from "../../bindings/Corner";
import type { SideView } from "../../bindings/SideView";
import { anchors, short, straight, through, type Point } from "./curve";
import { alongOf } from "./fitted";
import { PLAN } from "./outlines";

export interface PlanShapes {
  outline: string;
  details: string[];
  axles: [Point, Point][];
  tires: Record<Corner, { x: number; y: number; width: number; height: number }>;
  wheels: Record<Corner, Point>;
  /** Place of the nose on the centre line. */
  nose: number;
  /** Extent, px: left, top, right, bottom. */
  box: [number, number, number, number];
}

/** The plan at `k` px a mm, front axle centre at 0,0. */
export function planShapes(side: SideView, k: number): PlanShapes {
  const shape = PLAN[side.outline];
  const unit = (side.wheelbase_mm / 1000) * k;
  const half = anchors(shape.half);
  const drawn = half.map(({ at }) => at[0]);
  const along = alongOf(side, { nose: Math.min(...drawn), tail: Math.max(...drawn) });
  const right = ([s, y]: Point): Point => [short(y * unit), short(along(s) * unit)];
  const left = ([s, y]: Point): Point => [short(-y * unit), short(along(s) * unit)];
  // Tracks and sections are the car's own; the body keeps inside or outside of them as its kind does.
  const outline = `${through(half, right)}${through([...half].reverse(), left, "L")}Z`;
  const axle = (view: { track_mm: number }) => (view.track_mm / 2) * k;
  const wheelbase = side.wheelbase_mm * k;
  const wheels: Record<Corner, Point> = {
    FL: [-axle(side.front_wheel), 0],
    FR: [axle(side.front_wheel), 0],
    RL: [-axle(side.rear_wheel), wheelbase],
    RR: [axle(side.rear_wheel), wheelbase],
  };
  const bar = (corner: Corner) => {
    const view = corner.startsWith("F") ? side.front_wheel : side.rear_wheel;
    const [x, y] = wheels[corner];
    const width = Math.max(view.section_mm * k, 4);
    const height = 2 * view.free_radius_mm * k;
    return { x: short(x - width / 2), y: short(y - height / 2), width: short(width), height: short(height) };
  };
  const tires = { FL: bar("FL"), FR: bar("FR"), RL: bar("RL"), RR: bar("RR") };
  const ys = half.map(({ at }) => Math.abs(at[1]) * unit);
  const ss = half.map(({ at }) => along(at[0]) * unit);
  const edges = Object.values(tires);
  return {
    outline,
    details: [
      ...shape.mirrored.flatMap((notation) => [through(anchors(notation), right), through(anchors(notation), left)]),
      ...shape.once.map((notation) => straight(anchors(notation).map(({ at }) => right(at)))),
    ],
    axles: shape.axles
      ? [
          [wheels.FL, wheels.FR],
          [wheels.RL, wheels.RR],
        ]
      : [],
    tires,
    wheels,
    nose: Math.min(...ss),
    box: [
      -Math.max(...ys, ...edges.map((e) => e.x + e.width)),
      Math.min(...ss, ...edges.map((e) => e.y)),
      Math.max(...ys, ...edges.map((e) => e.x + e.width)),
      Math.max(...ss, ...edges.map((e) => e.y + e.height)),
    ],
  };
}

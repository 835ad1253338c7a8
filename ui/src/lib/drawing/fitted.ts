// An outline fitted to the car: its ends to the measured overhangs, its hood and roof to the measured heights. What was not
// measured stays as it is drawn, and so do the wheel openings.
import type { SideView } from "../../bindings/SideView";
import { anchors, type Point } from "./curve";
import { FRAME, OPENING, SIDE, type SideShape } from "./outlines";

/** Outlines are drawn to be told from each other, not to be stretched out of their kind. */
const [LEAST, MOST] = [0.4, 2.6];
/** Below this an outline is the frame's, above it the body's, thousandths over the rails. */
const SILL = 60;

interface Ends {
  nose: number;
  tail: number;
}

/** Where the drawn outline ends, thousandths behind the front axle. */
function drawnEnds(shape: SideShape): Ends {
  const pieces = [shape.body, ...shape.pieces, shape.fenders?.front ?? "", shape.fenders?.rear ?? ""].filter(Boolean);
  const s = (pieces.length > 0 ? pieces : [FRAME.upper]).flatMap((piece) => anchors(piece).map(({ at }) => at[0]));
  return { nose: Math.min(...s), tail: Math.max(...s) };
}

/** Where the fitted outline ends, in wheelbases ahead of the front axle and behind the rear axle; with room for the wheels. */
export function overhangs(side: SideView): { front: number; rear: number } {
  const { overhang } = SIDE[side.outline];
  const front = side.overhang_front_mm === null ? overhang.front : side.overhang_front_mm / side.wheelbase_mm + 0.03;
  const rear = side.overhang_rear_mm === null ? overhang.rear : side.overhang_rear_mm / side.wheelbase_mm + 0.03;
  const wheel = (view: { free_radius_mm: number }) => view.free_radius_mm / side.wheelbase_mm + 0.02;
  return { front: Math.max(front, wheel(side.front_wheel)), rear: Math.max(rear, wheel(side.rear_wheel)) };
}

/** Moves a place along the car, thousandths. */
export function alongOf(side: SideView, ends = drawnEnds(SIDE[side.outline])): (s: number) => number {
  const { half } = OPENING;
  const stretch = (from: number, drawn: number, measured: number) => {
    const factor = (measured - from) / (drawn - from);
    return Number.isFinite(factor) && drawn > from ? Math.min(Math.max(factor, LEAST), MOST) : 1;
  };
  const unit = 1000 / side.wheelbase_mm;
  // A short nose has no room in front of its wheel opening: then it is stretched from the axle.
  const [noseFrom, tailFrom] = [-ends.nose > half + 40 ? half : 0, ends.tail - 1000 > half + 40 ? half : 0];
  const front = side.overhang_front_mm === null ? 1 : stretch(noseFrom, -ends.nose, side.overhang_front_mm * unit);
  const rear = side.overhang_rear_mm === null ? 1 : stretch(tailFrom, ends.tail - 1000, side.overhang_rear_mm * unit);
  return (s) => {
    if (s < -noseFrom) return -noseFrom - (-noseFrom - s) * front;
    if (s > 1000 + tailFrom) return 1000 + tailFrom + (s - 1000 - tailFrom) * rear;
    return s;
  };
}

/** Moves a height over the rails, thousandths. */
export function upOf(side: SideView): (h: number) => number {
  const shape = SIDE[side.outline];
  const unit = 1000 / side.wheelbase_mm;
  const drawn = hoodOf(shape);
  const top = shape.top;
  const roof = side.roof_over_rail_mm === null ? null : side.roof_over_rail_mm * unit;
  const scale = roof === null ? 1 : clamp((roof - SILL) / (top - SILL));
  const hood =
    side.hood_over_rail_mm === null
      ? SILL + (drawn - SILL) * scale
      : SILL + (drawn - SILL) * clamp((side.hood_over_rail_mm * unit - SILL) / (drawn - SILL));
  const upper = Math.max(hood + 12, roof === null ? top : SILL + (top - SILL) * scale);
  return (h) => {
    if (h <= SILL) return h;
    if (h <= drawn) return SILL + ((h - SILL) * (hood - SILL)) / (drawn - SILL);
    return hood + ((h - drawn) * (upper - hood)) / (top - drawn);
  };
}

/** Height of the highest fitted place over the rails, thousandths. */
export function topOf(side: SideView): number {
  return upOf(side)(SIDE[side.outline].top);
}

/** Rear edge of the hood as drawn, and the highest place, thousandths: where their heights are read. */
export function readAt(side: SideView): { hood: Point; roof: Point } {
  const shape = SIDE[side.outline];
  const [along, up] = [alongOf(side), upOf(side)];
  const all = [shape.body, ...shape.strokes].filter(Boolean).flatMap((piece) => anchors(piece).map(({ at }) => at));
  const roof = all.reduce<Point>((best, at) => (at[1] > best[1] ? at : best), [500, shape.top * 0.9]);
  return { hood: [along(300), up(hoodOf(shape))], roof: [along(roof[0]), topOf(side)] };
}

/** Height of the hood's rear edge as drawn: the body's over the place where the windscreen begins. */
function hoodOf(shape: SideShape): number {
  const near = shape.body === "" ? [] : anchors(shape.body).filter(({ at }) => at[0] > 200 && at[0] < 360);
  return near.length === 0 ? 120 : Math.min(Math.max(...near.map(({ at }) => at[1])), shape.top - 20);
}

const clamp = (factor: number) => (Number.isFinite(factor) ? Math.min(Math.max(factor, LEAST), MOST) : 1);

// The side view as screen geometry: axes s (behind the front axle) and z (above level ground), nose left, one scale for both.
import type { SideView } from "../../bindings/SideView";
import type { WheelView } from "../../bindings/WheelView";
import { anchors, short, straight, through, type Point } from "./curve";
import { alongOf, overhangs, topOf, upOf } from "./fitted";
import { FRAME, OPENING, SIDE } from "./outlines";

/** mm to px, with the front axle at `x0` and level ground at `ground`. */
export interface Scale {
  k: number;
  x0: number;
  ground: number;
}

export interface WheelShape {
  cx: number;
  cy: number;
  /** Tire circle cut flat at the ground. */
  tire: string;
  rim: number;
  rings: [number, number];
}

export interface SideShapes {
  closed: boolean;
  frame: string;
  body: string;
  pieces: string[];
  fender: string;
  strokes: string[];
  details: string[];
  lamp: { cx: number; cy: number; r: number } | null;
  wheels: [WheelShape, WheelShape];
  rail: [Point, Point];
  marks: [Point, Point];
}

/** The scale that fits the car between the margins. `behind` widens the room behind the rear axle, in wheelbases. */
export function fit(side: SideView, width: number, margin: number, ground: number, behind?: number): Scale {
  const overhang = overhangs(side);
  const rear = behind ?? overhang.rear;
  const k = (width - 2 * margin) / (side.wheelbase_mm * (overhang.front + 1 + rear));
  return { k, x0: margin + overhang.front * side.wheelbase_mm * k, ground };
}

/** Height of the picture above the ground, px. */
export function risePx(side: SideView, scale: Scale): number {
  const rail = Math.max(side.rail_front_mm, side.rail_rear_mm);
  const wheels = Math.max(...[side.front_wheel, side.rear_wheel].map((w) => w.loaded_radius_mm + w.free_radius_mm));
  return Math.max(rail + (topOf(side) * side.wheelbase_mm) / 1000, wheels) * scale.k;
}

/** Height of the rail line at s, mm. */
export function railAt(side: SideView, sMm: number): number {
  return side.rail_front_mm + ((side.rail_rear_mm - side.rail_front_mm) * sMm) / side.wheelbase_mm;
}

export function screen(scale: Scale, sMm: number, zMm: number): Point {
  return [short(scale.x0 + sMm * scale.k), short(scale.ground - zMm * scale.k)];
}

/** Everything the side view draws. */
export function sideShapes(side: SideView, scale: Scale): SideShapes {
  const shape = SIDE[side.outline];
  const unit = side.wheelbase_mm / 1000;
  const [along, up] = [alongOf(side), upOf(side)];
  const ride = ([s, h]: Point): Point => screen(scale, along(s) * unit, railAt(side, along(s) * unit) + up(h) * unit);
  // Openings hang on the lips, which were read.
  const asRead = ([s, h]: Point): Point => screen(scale, along(s) * unit, railAt(side, along(s) * unit) + h * unit);
  const lips = [lip(side, "front"), lip(side, "rear")] as const;
  const body = shape.body === "" ? "" : through(anchors(shape.body), ride);
  return {
    closed: shape.closed,
    frame: `${through(anchors(FRAME.upper), ride)}${through(anchors(FRAME.lower), ride, "L")}Z`,
    body: body === "" ? "" : shape.closed ? `${body}${lowerEdge(lips, asRead)}Z` : `${body}Z`,
    pieces: shape.pieces.map((piece) => `${through(anchors(piece), ride)}Z`),
    fender: shape.fenders ? fenders(shape.fenders, lips, asRead) : "",
    strokes: shape.strokes.map((stroke) => through(anchors(stroke), ride)),
    details: shape.details.map((detail) => through(anchors(detail), ride)),
    lamp: lamp(shape.lamp, ride, unit * scale.k),
    wheels: [wheel(side.front_wheel, 0, scale), wheel(side.rear_wheel, side.wheelbase_mm, scale)],
    rail: railLine(side, scale),
    marks: [mark(side, "front", scale), mark(side, "rear", scale)],
  };
}

/** Ticks under the ground line every 100 mm of the car's own length, every fifth longer, from edge to edge. */
export function ticks(width: number, scale: Scale): { x: number; long: boolean }[] {
  const pitch = 100 * scale.k;
  const first = Math.ceil(-scale.x0 / pitch);
  const last = Math.floor((width - scale.x0) / pitch);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const n = first + i;
    return { x: short(scale.x0 + n * pitch), long: n % 5 === 0 };
  });
}

/** One wheel: centre at the loaded radius, tire of the free radius cut flat at the ground. */
export function wheel(view: WheelView, sMm: number, scale: Scale): WheelShape {
  const [cx, cy] = screen(scale, sMm, view.loaded_radius_mm);
  const radius = view.free_radius_mm * scale.k;
  const drop = Math.min(view.loaded_radius_mm * scale.k, radius);
  const half = Math.sqrt(Math.max(0, radius * radius - drop * drop));
  const tire =
    `M${short(cx - half)},${short(cy + drop)}` +
    `A${short(radius)},${short(radius)} 0 1 1 ${short(cx + half)},${short(cy + drop)}Z`;
  const rim = view.rim_radius_mm * scale.k;
  return { cx, cy, tire, rim, rings: [rim * 0.8, rim * 0.42] };
}

/** The heavy lower edge of the frame: from mark to mark where the marks are on it, else between the wheels. */
function railLine(side: SideView, scale: Scale): [Point, Point] {
  if (side.kind === "frame_rail") return [mark(side, "front", scale), mark(side, "rear", scale)];
  const [from, to] = [0.13 * side.wheelbase_mm, 0.86 * side.wheelbase_mm];
  return [screen(scale, from, railAt(side, from)), screen(scale, to, railAt(side, to))];
}

function mark(side: SideView, end: "front" | "rear", scale: Scale): Point {
  const s = end === "front" ? side.front_s_mm : side.rear_s_mm;
  const read = end === "front" ? side.front_mm.value : side.rear_mm.value;
  return screen(scale, s, read ?? railAt(side, s));
}

/** Height of the lip above the rail line, thousandths; where none was read, just above the tire. */
function lip(side: SideView, end: "front" | "rear"): number {
  const [read, wheel, s] =
    end === "front" ? [side.lip_front_mm, side.front_wheel, 0] : [side.lip_rear_mm, side.rear_wheel, side.wheelbase_mm];
  const z = read ?? wheel.loaded_radius_mm + wheel.free_radius_mm * 0.9;
  const h = ((z - railAt(side, s)) * 1000) / side.wheelbase_mm;
  return Math.min(Math.max(h, 60), 190);
}

/** From the tail along the rocker to the nose, with two wheel openings. */
function lowerEdge([front, rear]: readonly [number, number], ride: (at: Point) => Point): string {
  const { half, rocker, nose, tail } = OPENING;
  return (
    straight([ride([1000 + half, tail])], "L") +
    arch(1000, rear, half, tail, rocker, ride) +
    straight([ride([half, rocker])], "L") +
    arch(0, front, half, rocker, nose, ride)
  );
}

/** A wheel opening from its rear edge over the lip to its front edge: upright sides, round shoulders. */
function arch(s: number, top: number, half: number, from: number, to: number, ride: (at: Point) => Point): string {
  const c = (points: Point[]) => `C${points.map((p) => ride(p).join(",")).join(" ")}`;
  return (
    c([
      [s + half, from + 0.72 * (top - from)],
      [s + 0.62 * half, top],
      [s, top],
    ]) +
    c([
      [s - 0.62 * half, top],
      [s - half, to + 0.72 * (top - to)],
      [s - half, to],
    ])
  );
}

/** Separate fenders and the running board between them, as one piece over the body. */
function fenders(
  outer: { front: string; rear: string },
  [front, rear]: readonly [number, number],
  ride: (at: Point) => Point,
): string {
  const lifted = (notation: string, top: number, drawn: number) =>
    anchors(notation).map(({ at: [s, h], corner }) => ({
      at: [s, h <= 62 ? h : h + (top + 30 - drawn)] as Point,
      corner,
    }));
  const { half } = OPENING;
  return (
    through(lifted(outer.front, front, 149), ride) +
    through(lifted(outer.rear, rear, 145), ride, "L") +
    straight([ride([1000 + half, 30])], "L") +
    arch(1000, rear, half, 30, 24, ride) +
    straight([ride([half, 24])], "L") +
    arch(0, front, half, 24, 34, ride) +
    "Z"
  );
}

function lamp(
  at: { s: number; h: number; r: number } | null,
  ride: (at: Point) => Point,
  px: number,
): { cx: number; cy: number; r: number } | null {
  if (!at) return null;
  const [cx, cy] = ride([at.s, at.h]);
  return { cx, cy, r: short(at.r * px) };
}

/** Where a mark is drawn, mm above the ground: a place to look at, not a reading. */
export function markHeight(side: SideView, stem: string, sMm: number, front: boolean): number {
  const wheel = front ? side.front_wheel : side.rear_wheel;
  if (stem === "hub") return wheel.loaded_radius_mm;
  if (stem === "lip") {
    return (front ? side.lip_front_mm : side.lip_rear_mm) ?? wheel.loaded_radius_mm + wheel.free_radius_mm * 0.9;
  }
  const above =
    stem === "rocker" ? 0.014 : stem === "seam" ? 0.046 : stem === "perch" ? 0.02 : stem === "point" ? 0.07 : 0;
  return railAt(side, sMm) + above * side.wheelbase_mm;
}

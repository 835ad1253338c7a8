// The settling picture as geometry: front and rear in two strips on one scale, the law with its band, hollow days, ticks of time.
import { area, curveMonotoneX, line } from "d3-shape";
import type { SettlingCurve } from "../../bindings/SettlingCurve";
import type { SettlingEnd } from "../../bindings/SettlingEnd";
import type { SettlingPoint } from "../../bindings/SettlingPoint";
import type { SettlingView } from "../../bindings/SettlingView";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { partsOfAnInch } from "../tape";
import { heightRows, px, timeTicks, type Frame, type Tick } from "./settling-axes";
import { linear, type Scale } from "./scale";
import { blot, hollows, namedAt, type Hollow } from "./settling-hollow";

/** Room for the words of the height axis, beside the margin, px. */
const LABELS_MM = 34;
const LABELS_IN = 52;
/** Room round the strips, px. */
const ABOVE = 10;
const BETWEEN = 22;
const AXIS = 44;
/** A millimetre is never drawn larger: noise would look like news. */
const MOST_PX_PER_MM = 9;
/** Least height of a strip, mm. */
const LEAST_MM = 10;
export interface Strip {
  end: string;
  top: number;
  bottom: number;
  /** Rows of the height axis. */
  rows: Tick[];
  whiskers: string;
  /** Filled points, as a path of dots. */
  dots: string;
  hollows: Hollow[];
  /** Left out of the curve. */
  struck: { x: number; y: number }[];
  band: string;
  /** Its upper and lower edge. */
  edges: string;
  /** The law as far as it was read, and beyond. */
  fit: string;
  ahead: string;
  /** Where the height at rest is written: at the right end, over the band. */
  rest: { x: number; y: number } | null;
  /** Where nothing can be told: from here to the right end. */
  unknownFrom: number | null;
}

export interface SettlingShape {
  width: number;
  height: number;
  left: number;
  right: number;
  /** y of the line of time. */
  axis: number;
  ticks: number[];
  labels: Tick[];
  strips: Strip[];
  /** Radius of a point; many points are small. */
  radius: number;
  /** px of a millimetre. */
  k: number;
  time: Scale;
}

/** Lowest and highest of what a strip shows, mm. */
export function extent(end: SettlingEnd): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  const take = (value: number) => {
    low = Math.min(low, value);
    high = Math.max(high, value);
  };
  for (const { height_mm, band_mm, stood_mm } of end.points) {
    take(height_mm - band_mm);
    take(height_mm + band_mm);
    if (stood_mm != null) take(stood_mm);
  }
  for (const { height_mm, band_mm } of end.curve) {
    take(height_mm - band_mm);
    take(height_mm + band_mm);
  }
  const short = (LEAST_MM - (high - low)) / 2;
  return short > 0 ? [low - short, high + short] : [low, high];
}

/** The whole picture in so much room. */
export function settlingShape(
  view: SettlingView,
  unit: TapeUnit,
  room: { width: number; height: number; margin: number },
): SettlingShape {
  const { width, height } = room;
  const left = leftOf(unit, room.margin);
  const right = width - room.margin;
  const extents = view.ends.map(extent);
  const all = extents.reduce((sum, [low, high]) => sum + high - low, 0);
  const free = height - ABOVE - AXIS - BETWEEN * (view.ends.length - 1) - 8;
  const k = Math.min(MOST_PX_PER_MM, free / all);
  const time = linear([0, Math.max(view.until, 1)], [left, right]);
  const many = Math.max(0, ...view.ends.map(({ points }) => points.length));
  const radius = many > 120 ? 2 : many > 40 ? 3.5 : 5.5;
  let top = ABOVE;
  const named = namedAt(view.ends);
  const strips = view.ends.map((end, i) => {
    const [low, high] = extents[i] ?? [0, 1];
    const bottom = top + (high - low) * k;
    const y = linear([low, high], [bottom, top]);
    const strip = stripShape(end, view, { time, y, k, top, bottom, left, right, radius, unit, named });
    top = bottom + BETWEEN;
    return strip;
  });
  const axis = top - BETWEEN + 8;
  return { width, height: axis + AXIS, left, right, axis, strips, radius, k, time, ...timeTicks(view, time, right) };
}

/** Where the strips begin. */
export function leftOf(unit: TapeUnit | "deg", margin: number): number {
  return margin + (unit !== "deg" && partsOfAnInch(unit) ? LABELS_IN : LABELS_MM);
}

function stripShape(end: SettlingEnd, view: SettlingView, frame: Frame): Strip {
  const { time, y, top, bottom, right } = frame;
  const filled = (point: SettlingPoint) => point.counts && !(point.stood_mm != null && blot(point, frame));
  const curve = end.curve;
  const last = curve.at(-1);
  return {
    end: end.end,
    top,
    bottom,
    rows: heightRows(frame),
    whiskers: whiskers(end.points, frame),
    dots: end.points
      .filter(filled)
      .map((point) => `M${px(time(point.at))} ${px(y(point.height_mm))}h0`)
      .join(""),
    hollows: hollows(end, frame, view.settled ? [time(view.settled.at)] : []),
    struck: end.points.filter(({ counts }) => !counts).map((point) => ({ x: time(point.at), y: y(point.height_mm) })),
    band: bandPath(curve, frame),
    edges: [-1, 1].map((side) => linePath(curve, frame, side)).join(""),
    fit: linePath(
      curve.filter(({ at }) => at <= view.last + 1e-9),
      frame,
    ),
    ahead: linePath(
      curve.slice(
        Math.max(
          0,
          curve.findIndex(({ at }) => at >= view.last - 1e-9),
        ),
      ),
      frame,
    ),
    rest: last ? { x: right, y: restAt(end, frame, view.rest_by !== "") } : null,
    unknownFrom: end.curve.length === 0 ? Math.min(time(view.last) + 22, right - 120) : null,
  };
}

/** Over the band's end, and over what stands there; with room for the day it is told of. */
function restAt(end: SettlingEnd, { time, y, right, top }: Frame, dated: boolean): number {
  const there = [...end.curve, ...end.points].filter((point) => time(point.at) > right - (dated ? 108 : 84));
  return Math.max(top + (dated ? 27 : 8), Math.min(...there.map((point) => y(point.height_mm + point.band_mm))) - 8);
}

/** ±2u at every point, as one path; with caps where there is room for them. */
function whiskers(points: readonly SettlingPoint[], { time, y, radius }: Frame): string {
  const cap = radius > 5 ? 5 : 0;
  return points
    .map(({ at, height_mm, band_mm }) => {
      const [x, up, down] = [px(time(at)), px(y(height_mm + band_mm)), px(y(height_mm - band_mm))];
      const bar = `M${x} ${up}V${down}`;
      return cap === 0 ? bar : `${bar}M${px(time(at) - cap)} ${up}h${2 * cap}M${px(time(at) - cap)} ${down}h${2 * cap}`;
    })
    .join("");
}

function bandPath(curve: readonly SettlingCurve[], { time, y }: Frame): string {
  const path = area<SettlingCurve>()
    .x((point) => time(point.at))
    .y0((point) => y(point.height_mm - point.band_mm))
    .y1((point) => y(point.height_mm + point.band_mm))
    .curve(curveMonotoneX)
    .digits(1);
  return curve.length < 2 ? "" : (path([...curve]) ?? "");
}

/** The law; `side` 1 and -1: the edges of its band. */
function linePath(curve: readonly SettlingCurve[], { time, y }: Frame, side = 0): string {
  const path = line<SettlingCurve>()
    .x((point) => time(point.at))
    .y((point) => y(point.height_mm + side * point.band_mm))
    .curve(curveMonotoneX)
    .digits(1);
  return curve.length < 2 ? "" : (path([...curve]) ?? "");
}

/** The day nearest to a place in the picture. */
export function nearestDay(view: SettlingView, time: Scale, x: number): string | null {
  let nearest: { snapshot: string; off: number } | null = null;
  for (const { snapshot, at } of view.ends.flatMap(({ points }) => points)) {
    const off = Math.abs(time(at) - x);
    if (nearest === null || off < nearest.off) nearest = { snapshot, off };
  }
  return nearest?.snapshot ?? null;
}

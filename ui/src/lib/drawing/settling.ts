// The settling picture as geometry: front and rear in two strips on one scale, the law with its band, hollow days, ticks of time.
import { scaleLinear, type ScaleLinear } from "d3-scale";
import { area, curveMonotoneX, line } from "d3-shape";
import type { SettlingCurve } from "../../bindings/SettlingCurve";
import type { SettlingEnd } from "../../bindings/SettlingEnd";
import type { SettlingPoint } from "../../bindings/SettlingPoint";
import type { SettlingView } from "../../bindings/SettlingView";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { builtUp, inchText, wholeMm } from "../format";
import { partsOfAnInch } from "../tape";

/** Room for the words of the height axis, beside the margin, px. */
const LABELS_MM = 34;
const LABELS_IN = 52;
/** Room round the strips, px. */
const ABOVE = 10;
const BETWEEN = 22;
const AXIS = 44;
/** Nearer than this two marks of a day would be one blot, px. */
const APART = 13;
/** A millimetre is never drawn larger: noise would look like news. */
const MOST_PX_PER_MM = 9;
/** Least height of a strip, mm. */
const LEAST_MM = 10;
/** Labels of the height axis are at least so far apart, px. */
const LABELS_APART = 26;
const STEPS_MM = [1, 2, 5, 10, 20, 50, 100, 200];
const STEPS_IN = [0.125, 0.25, 0.5, 1, 2, 4, 8];
/** Days between labels, and between ticks. */
const DAYS: readonly (readonly [number, number])[] = [
  [1, 1],
  [2, 1],
  [7, 1],
  [14, 7],
  [28, 7],
  [56, 14],
  [91, 91],
  [182, 91],
  [364, 91],
  [728, 182],
  [1456, 364],
];
/** Letters of a label: about this wide, px. */
const LETTER = 7.8;

export interface Tick {
  at: number;
  words: string;
}

/** A day that stood with another load: where it stood, and the line to where it counts. */
export interface Hollow {
  x: number;
  y: number;
  /** From where it stood to where it counts; empty where the two are one. */
  lead: string;
  words: string;
  /** Where the words begin or end. */
  wordsX: number;
  anchor: "start" | "end";
}

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
  time: ScaleLinear<number, number>;
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
  const time = scaleLinear([0, Math.max(view.until, 1)], [left, right]);
  const many = Math.max(0, ...view.ends.map(({ points }) => points.length));
  const radius = many > 120 ? 2 : many > 40 ? 3.5 : 5.5;
  let top = ABOVE;
  const named = new Set<string>();
  const strips = view.ends.map((end, i) => {
    const [low, high] = extents[i] ?? [0, 1];
    const bottom = top + (high - low) * k;
    const y = scaleLinear([low, high], [bottom, top]);
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

interface Frame {
  time: ScaleLinear<number, number>;
  y: ScaleLinear<number, number>;
  k: number;
  top: number;
  bottom: number;
  left: number;
  right: number;
  radius: number;
  unit: TapeUnit;
  /** Days whose cause stands in the picture already. */
  named: Set<string>;
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
    hollows: hollows(end.points, frame, view.settled ? [time(view.settled.at)] : []),
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
    rest: last ? { x: right, y: Math.max(top + 4, y(last.height_mm + last.band_mm)) - 10 } : null,
    unknownFrom: end.curve.length === 0 ? Math.min(time(view.last) + 22, right - 120) : null,
  };
}

/** Where a day stood and where it counts lie on each other. */
function blot({ stood_mm, height_mm }: SettlingPoint, { k }: Frame): boolean {
  return stood_mm != null && Math.abs(stood_mm - height_mm) * k < APART;
}

function hollows(points: readonly SettlingPoint[], frame: Frame, lines: readonly number[]): Hollow[] {
  const { time, y, left, right, radius, named } = frame;
  return points.flatMap((point) => {
    if (point.stood_mm == null) return [];
    const x = time(point.at);
    const alone = blot(point, frame);
    const [from, to] = [y(point.stood_mm), y(point.height_mm)];
    const way = Math.sign(to - from);
    // A day that is named at one end needs no name at the other, unless it moved there too.
    const words = alone || named.has(point.snapshot) ? "" : point.cause;
    if (!alone) named.add(point.snapshot);
    const wide = words.length * LETTER + radius + 5;
    // What the words would cover on either side. Below a falling curve the left is free, above it the right.
    const covers = (low: number, high: number) =>
      (low < left || high > right ? 100 : 0) +
      lines.filter((at) => at > low && at < high).length +
      points.filter((other) => {
        const at = time(other.at);
        const [up, down] = [y(other.height_mm + other.band_mm), y(other.height_mm - other.band_mm)];
        return other !== point && at > low - 6 && at < high + 6 && up < from + 9 && down > from - 9;
      }).length;
    const [before, after] = [covers(x - wide, x), covers(x, x + wide)];
    const toLeft = before === after ? way < 0 : before < after;
    return [
      {
        x,
        y: alone ? to : from,
        lead: alone ? "" : `M${px(x)} ${px(from + way * (radius + 1))}V${px(to - way * (radius + 1))}`,
        words,
        wordsX: toLeft ? x - radius - 5 : x + radius + 5,
        anchor: toLeft ? ("end" as const) : ("start" as const),
      },
    ];
  });
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

/** Even heights in the unit shown, with their words. */
function heightRows({ y, k, top, bottom, unit }: Frame): Tick[] {
  const parts = partsOfAnInch(unit);
  const [steps, per] = parts === null ? [STEPS_MM, 1] : [STEPS_IN, 25.4];
  const step = (steps.find((step) => step * per * k >= LABELS_APART) ?? steps.at(-1) ?? 1) * per;
  const [low, high] = y.domain() as [number, number];
  const rows: Tick[] = [];
  for (let i = Math.ceil(low / step); i * step <= high; i += 1) {
    const where = y(i * step);
    if (where < top || where > bottom) continue;
    rows.push({ at: where, words: parts === null ? wholeMm(i * step) : inchText(builtUp(i * step, parts)) });
  }
  return rows;
}

/** Ticks and labels of time; the unit stands at the right end, in the last label's place. */
export function timeTicks(
  view: Pick<SettlingView, "until" | "clock_words">,
  time: ScaleLinear<number, number>,
  right: number,
): { ticks: number[]; labels: Tick[] } {
  const perDay = time(1) - time(0);
  const widest = `${Math.round(view.until)}`.length * LETTER + 14;
  const [label, tick] = DAYS.find(([label]) => label * perDay >= widest) ?? DAYS.at(-1) ?? [1, 1];
  const every = (step: number) => Array.from({ length: Math.floor(view.until / step) + 1 }, (_, i) => i * step);
  const room = right - view.clock_words.length * LETTER - 12;
  return {
    ticks: every(Math.max(tick, minStep(perDay))).map((day) => time(day)),
    labels: every(label)
      .map((day) => ({ at: time(day), words: `${day}` }))
      .filter(({ at, words }) => at + (words.length * LETTER) / 2 < room),
  };
}

/** Ticks nearer than 8 px run together. */
function minStep(perDay: number): number {
  return DAYS.map(([, tick]) => tick).find((tick) => tick * perDay >= 8) ?? 364;
}

/** The day nearest to a place in the picture. */
export function nearestDay(view: SettlingView, time: ScaleLinear<number, number>, x: number): string | null {
  let nearest: { snapshot: string; off: number } | null = null;
  for (const { snapshot, at } of view.ends.flatMap(({ points }) => points)) {
    const off = Math.abs(time(at) - x);
    if (nearest === null || off < nearest.off) nearest = { snapshot, off };
  }
  return nearest?.snapshot ?? null;
}

function px(value: number): number {
  return Math.round(value * 10) / 10;
}

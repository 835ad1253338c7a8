// Rake or lean over time as geometry: one strip under the settling picture, on the same line of time, with the limits of its chart.
import { area, line } from "d3-shape";
import type { SettlingCurve } from "../../bindings/SettlingCurve";
import type { SettlingLimits } from "../../bindings/SettlingLimits";
import type { SettlingStrip } from "../../bindings/SettlingStrip";
import type { SettlingView } from "../../bindings/SettlingView";
import { wholeMm } from "../format";
import { evenly, linear } from "./scale";
import { px, timeTicks, type Tick } from "./settling-axes";

const ABOVE = 12;
const TALL = 104;
const AXIS = 40;
/** Never drawn larger than this would be, mm: noise would look like news. */
const LEAST_MM = 14;

export interface StripDrawing {
  height: number;
  right: number;
  axis: number;
  rows: Tick[];
  labels: Tick[];
  whiskers: string;
  dots: string;
  radius: number;
  /** Where a day should lie. */
  zone: string;
  /** Where the mean of the last days should lie: two thin lines. */
  inner: string;
  /** That mean. */
  mean: string;
  /** Days that lie outside. */
  out: { x: number; y: number }[];
  /** The law where there is one, and its ±2u. */
  law: string;
  band: string;
  /** Work on the car: where it stands on the line of time. */
  work: number[];
}

type Charted = { x: number; limits: SettlingLimits };

/** `left`: where the picture over it begins. */
export function stripDrawing(
  strip: SettlingStrip,
  view: SettlingView,
  { width, left, margin }: { width: number; left: number; margin: number },
): StripDrawing {
  const right = width - margin;
  const time = linear([0, Math.max(view.until, 1)], [left, right]);
  const reach = strip.points.flatMap(({ value_mm, band_mm, limits }) => [
    value_mm - band_mm,
    value_mm + band_mm,
    ...(limits ? [limits.lower_mm, limits.upper_mm] : []),
  ]);
  reach.push(...strip.curve.map(({ height_mm }) => height_mm));
  const [low, high] = reach.reduce(
    ([low, high], one) => [Math.min(low, one), Math.max(high, one)],
    [Infinity, -Infinity],
  );
  const short = Math.max(0, (LEAST_MM - (high - low)) / 2);
  const y = linear([low - short, high + short], [ABOVE + TALL, ABOVE]);
  const many = strip.points.length;
  const charted: Charted[] = strip.points.flatMap(({ at, limits }) => (limits ? [{ x: time(at), limits }] : []));
  const path = (of: (limits: SettlingLimits) => number) =>
    line<Charted>()
      .x(({ x }) => x)
      .y(({ limits }) => y(of(limits)))
      .digits(1)(charted) ?? "";
  const zone = area<Charted>()
    .x(({ x }) => x)
    .y0(({ limits }) => y(limits.lower_mm))
    .y1(({ limits }) => y(limits.upper_mm))
    .digits(1);
  const law = line<SettlingCurve>()
    .x(({ at }) => time(at))
    .y(({ height_mm }) => y(height_mm))
    .digits(1);
  const within = (value: number) => Math.min(Math.max(value, y.domain[0]), y.domain[1]);
  const band = area<SettlingCurve>()
    .x(({ at }) => time(at))
    .y0(({ height_mm, band_mm }) => y(within(height_mm - band_mm)))
    .y1(({ height_mm, band_mm }) => y(within(height_mm + band_mm)))
    .digits(1);
  // Limits of a chart and the band of a law would hide each other; the chart is the news.
  const lawful = charted.length < 2 ? strip.curve : [];
  const axis = ABOVE + TALL + 8;
  return {
    height: axis + AXIS,
    right,
    axis,
    radius: many > 120 ? 2 : many > 40 ? 3.5 : 5.5,
    rows: evenly(y.domain, 5).map((value) => ({ at: y(value), words: wholeMm(value) })),
    labels: timeTicks(view, time, right).labels,
    whiskers: strip.points
      .map(({ at, value_mm, band_mm }) => `M${px(time(at))} ${px(y(value_mm + band_mm))}V${px(y(value_mm - band_mm))}`)
      .join(""),
    dots: strip.points.map(({ at, value_mm }) => `M${px(time(at))} ${px(y(value_mm))}h0`).join(""),
    zone: charted.length < 2 ? "" : (zone(charted) ?? ""),
    inner: charted.length < 2 ? "" : path((limits) => limits.mean_lower_mm) + path((limits) => limits.mean_upper_mm),
    mean: charted.length < 2 ? "" : path((limits) => limits.mean_mm),
    law: lawful.length < 2 ? "" : (law(lawful) ?? ""),
    band: lawful.length < 2 ? "" : (band(lawful) ?? ""),
    work: view.marks.filter(({ at }) => at > 0).map(({ at }) => time(at)),
    out: strip.points
      .filter(({ limits }) => limits?.is_out)
      .map(({ at, value_mm }) => ({ x: time(at), y: y(value_mm) })),
  };
}

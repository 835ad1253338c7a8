// Rake or lean over time as geometry: one strip under the settling picture, on the same line of time.
import { scaleLinear } from "d3-scale";
import type { SettlingStrip } from "../../bindings/SettlingStrip";
import type { SettlingView } from "../../bindings/SettlingView";
import { timeTicks, type Tick } from "./settling-axes";

const ABOVE = 12;
const TALL = 96;
const AXIS = 40;
/** Never drawn larger than this: noise would look like news. In degrees and in mm. */
const LEAST = { deg: 0.4, mm: 12 } as const;

export interface StripDrawing {
  height: number;
  right: number;
  axis: number;
  rows: Tick[];
  labels: Tick[];
  whiskers: string;
  dots: string;
  radius: number;
}

/** `left`: where the picture over it begins. */
export function stripDrawing(
  strip: SettlingStrip,
  view: SettlingView,
  { width, left, margin }: { width: number; left: number; margin: number },
): StripDrawing {
  const right = width - margin;
  const time = scaleLinear([0, Math.max(view.until, 1)], [left, right]);
  const low = Math.min(...strip.points.map(({ value, band }) => value - band));
  const high = Math.max(...strip.points.map(({ value, band }) => value + band));
  const least = strip.unit === "deg" ? LEAST.deg : LEAST.mm;
  const short = Math.max(0, (least - (high - low)) / 2);
  const y = scaleLinear([low - short, high + short], [ABOVE + TALL, ABOVE]);
  const many = strip.points.length;
  const radius = many > 120 ? 2 : many > 40 ? 3.5 : 5.5;
  const round = (value: number) => Math.round(value * 10) / 10;
  const axis = ABOVE + TALL + 8;
  return {
    height: axis + AXIS,
    right,
    axis,
    radius,
    rows: y.ticks(4).map((value) => ({ at: y(value), words: words(value, strip.unit) })),
    labels: timeTicks(view, time, right).labels,
    whiskers: strip.points
      .map(({ at, value, band }) => `M${round(time(at))} ${round(y(value + band))}V${round(y(value - band))}`)
      .join(""),
    dots: strip.points.map(({ at, value }) => `M${round(time(at))} ${round(y(value))}h0`).join(""),
  };
}

function words(value: number, unit: string): string {
  const text = unit === "deg" ? `${Math.abs(value).toFixed(1)}°` : `${Math.round(Math.abs(value))}`;
  return value < 0 && !/^0(\.0)?°?$/.test(text) ? `−${text}` : text;
}

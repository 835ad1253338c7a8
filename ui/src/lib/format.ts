// Numbers as they are printed: mm whole, degrees with one decimal, ± = 2u. Nothing here is a result; it only rounds.
import type { Figure } from "../bindings/Figure";
import type { TapeUnit } from "../bindings/TapeUnit";
import { partsOfAnInch } from "./tape";

/** A length split for a built-up fraction: "10", "7", "16". */
export interface Built {
  minus: boolean;
  whole: number;
  numerator: number;
  denominator: number;
}

/** A figure ready to print in mm, cm or inches; absent parts are absent words, never a zero. */
export interface Printed {
  value: number;
  text: string;
  /** Set when the length is shown in inches. */
  built?: Built;
  band: string;
  /** ±2u in mm, at least 1, for the vernier band. */
  bandMm: number;
}

/** ±2u rounded to whole mm and never below 1. */
export function bandMm(u: number): number {
  return Math.max(1, Math.round(2 * u));
}

/** ±2u in degrees, one decimal, never below 0.1. */
export function bandDeg(u: number): string {
  return Math.max(0.1, Math.round(20 * u) / 10).toFixed(1);
}

/** Whole mm with a true minus sign; never "−0". */
export function wholeMm(value: number): string {
  const rounded = Math.round(Math.abs(value));
  return value < 0 && rounded > 0 ? `−${rounded}` : `${rounded}`;
}

/** With its sign always said: "+7", "−8", "0". */
export function signedMm(value: number): string {
  const text = wholeMm(value);
  return value > 0 && text !== "0" ? `+${text}` : text;
}

/** Degrees without sign, one decimal. */
export function degrees(value: number): string {
  return (Math.round(Math.abs(value) * 10) / 10).toFixed(1);
}

/** The word that carries the sign of a rake; positive is nose-down. */
export function rakeWord(value: number): string {
  if (degrees(value) === "0.0") return "level";
  return value > 0 ? "nose-down" : "nose-up";
}

/** Inches to the nearest sixteenth or thirty-second, reduced. */
export function builtUp(valueMm: number, parts: 16 | 32): Built {
  const count = Math.round((Math.abs(valueMm) * parts) / 25.4);
  return { minus: valueMm < 0 && count > 0, whole: Math.floor(count / parts), ...reduced(count % parts, parts) };
}

/** Centimetres with one decimal and a true minus sign: "26.6". */
function wholeMmAsCm(value: number): string {
  const text = (Math.round(Math.abs(value)) / 10).toFixed(1);
  return value < 0 && text !== "0.0" ? `−${text}` : text;
}

/** "10 7/16" in one line, for labels and speech. */
export function inchText({ minus, whole, numerator, denominator }: Built): string {
  const fraction = numerator === 0 ? "" : `${numerator}/${denominator}`;
  const body = whole === 0 && fraction ? fraction : fraction ? `${whole} ${fraction}` : `${whole}`;
  return minus ? `−${body}` : body;
}

/** A length figure in the display unit; null where it is undetermined. */
export function lengthFigure(figure: Figure | null | undefined, unit: TapeUnit): Printed | null {
  if (figure?.value == null || figure.u == null) return null;
  const band = bandMm(figure.u);
  if (unit === "mm") return { value: figure.value, text: wholeMm(figure.value), band: `±${band}`, bandMm: band };
  const parts = partsOfAnInch(unit);
  if (parts === null)
    return { value: figure.value, text: wholeMmAsCm(figure.value), band: `±${wholeMmAsCm(band)}`, bandMm: band };
  const built = builtUp(figure.value, parts);
  const bandIn = Math.max(1, Math.round((2 * figure.u * parts) / 25.4));
  const { whole, ...rest } = { whole: Math.floor(bandIn / parts), ...reduced(bandIn % parts, parts) };
  return {
    value: figure.value,
    text: inchText(built),
    built,
    band: `±${inchText({ minus: false, whole, ...rest })}`,
    bandMm: band,
  };
}

/** A length that is wanted and has no ± of its own. */
export function plainLength(mm: number, unit: TapeUnit): Printed {
  const printed = lengthFigure({ value: mm, u: 0, known: "assumed" }, unit);
  return { value: mm, text: wholeMm(mm), ...printed, band: "", bandMm: 0 };
}

/** A length figure as words: "267 mm ±4", or "can't tell". */
export function lengthWords(figure: Figure | null | undefined, unit: TapeUnit): string {
  const printed = lengthFigure(figure, unit);
  return printed ? `${printed.text} ${partsOfAnInch(unit) ? "inches" : unit} ${printed.band}` : "can’t tell";
}

/** A rake figure as words: "2.0° nose-down ±0.1", or "can't tell". */
export function rakeWords(figure: Figure | null | undefined): string {
  if (figure?.value == null || figure.u == null) return "can’t tell";
  return `${degrees(figure.value)}° ${rakeWord(figure.value)} ±${bandDeg(figure.u)}`;
}

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec"];

/** `2031-08-28` as "28 Aug 2031"; anything else as it stands. */
export function day(date: string): { short: string; year: string } {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  const month = match ? MONTHS[Number(match[2]) - 1] : undefined;
  if (!match || !month) return { short: date, year: "" };
  return { short: `${Number(match[3])} ${month}`, year: match[1] ?? "" };
}

/** A snapshot's day, and what the person called it where that says more. */
export function dayAndLabel(date: string, label: string): string {
  const { short, year } = day(date);
  const words = `${short} ${year}`.trim();
  return label === "" || label === date || label === words ? words : `${words}, ${label}`;
}

/** A car's name without what stands in brackets behind it: there is room for one line. */
export function shortName(label: string): string {
  return label.split(" (")[0]?.trim() || label;
}

/** "Fuel tank half full" of "fuel tank half full, nobody aboard, …": the first clause or two, for a narrow cell. */
export function firstClause(words: string): string {
  const [first = "", second = ""] = words.split(/[,;.]/).map((clause) => clause.trim());
  const both = `${first}, ${second}`;
  const clause = second !== "" && both.length <= 18 ? both : first;
  return capital(clause);
}

/** The same words with a capital at the front. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function reduced(numerator: number, denominator: number): { numerator: number; denominator: number } {
  let n = numerator;
  let d = denominator;
  while (n > 0 && n % 2 === 0 && d > 1) {
    n /= 2;
    d /= 2;
  }
  return { numerator: n, denominator: n === 0 ? denominator : d };
}

// Chains of arrows that say where a drop comes from: one column a place, one arrow a source, all to one scale.
import type { DropPlace } from "../../bindings/DropPlace";

/** Longest way of a chain on the screen, px, and the least room of a word. */
const TALLEST = 120;
const WORD = 22;
const TOP = 8;
/** Largest scale, px a mm: a millimetre is never drawn as a centimetre. */
const MOST_SCALE = 5;
const TIP = 7;

export interface Arrow {
  shaft: string;
  tip: string;
  /** From the arrow to its word, where that had to move aside; empty where it stands beside it. */
  leader: string;
  label: readonly [number, number];
  words: string;
  number: string;
  mm: number;
}

export interface Chain {
  x: number;
  width: number;
  /** Where the line of now lies, and where the planned one does. */
  from: number;
  to: number;
  arrows: readonly Arrow[];
}

export function chains(places: readonly DropPlace[], width: number): { height: number; places: readonly Chain[] } {
  const levels = places.map(({ parts }) => {
    let at = 0;
    return [0, ...parts.map(({ mm }) => (at += mm))];
  });
  const all = levels.flat();
  const [high, low] = [Math.max(0, ...all), Math.min(0, ...all)];
  const scale = Math.min(MOST_SCALE, TALLEST / Math.max(1, high - low));
  const y = (mm: number) => TOP + (high - mm) * scale;
  const column = width / Math.max(1, places.length);
  let height = y(low) + TOP;
  const drawn = places.map((place, n) => {
    const x = n * column + 6;
    let under = -Infinity;
    const last = levels[n]?.at(-1) ?? 0;
    const arrows = place.parts.map((part, i): Arrow => {
      const [from, to] = [y(levels[n]?.[i] ?? 0), y(levels[n]?.[i + 1] ?? 0)];
      const at = x + 18 + i * 10;
      const way = Math.sign(to - from) || 1;
      const tip = Math.min(TIP, Math.abs(to - from));
      const middle = (from + to) / 2;
      const top = Math.max(middle - WORD / 2, under);
      under = top + WORD;
      const word = x + 18 + place.parts.length * 10 + 4;
      height = Math.max(height, under);
      const beside = Math.abs(top + WORD / 2 - middle) < 2 && i === place.parts.length - 1;
      return {
        shaft: `M${at} ${from}V${to}`,
        tip: `M${at} ${to}L${at - 4} ${to - way * tip}H${at + 4}Z`,
        leader: beside ? "" : `M${at + 3} ${middle}L${word - 3} ${top + WORD / 2}`,
        label: [word, top],
        words: part.words,
        number: part.number,
        mm: part.mm,
      };
    });
    return { x, width: Math.min(column - 20, 46 + place.parts.length * 10), from: y(0), to: y(last), arrows };
  });
  return { height: Math.ceil(height), places: drawn };
}

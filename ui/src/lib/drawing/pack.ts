// A spring pack drawn together: leaves as bands along concentric arcs, the main leaf uppermost, its eyes at both ends.
import type { PackSide } from "../../bindings/PackSide";

export interface PackLeafShape {
  leaf: number;
  d: string;
}

export interface PackDrawing {
  leaves: PackLeafShape[];
  /** Eyes at both ends, and how large they are drawn. */
  eyes: { x: number; y: number }[];
  eye: number;
  /** Middle of the main leaf's upper edge, and the line of the eyes. */
  middle: { x: number; y: number };
  line: number;
  /** Lowest point of the pack. */
  foot: number;
}

/** How many times thicker than to scale leaves are drawn, so that each can be told from the next. */
export const THICKER = 3;
/** So many pieces make an arc. */
const PIECES = 24;
const px = (value: number) => Math.round(value * 10) / 10;

/** `k`: px for a mm; `across`: middle of the picture; `line`: height of the eyes' line in it. The arch hangs below that line. */
export function packDrawing({ drawn, arch_mm }: PackSide, k: number, across: number, line: number): PackDrawing {
  const main = drawn[0]?.length_mm ?? 0;
  const arch = arch_mm ?? 0;
  // How far below the line of the eyes a place of the main leaf lies: a shallow arc is a parabola to a part in a thousand.
  const below = (x: number) => arch * (1 - (2 * x * 2 * x) / (main * main));
  let under = 0;
  const leaves = drawn.map(({ leaf, thickness_mm, length_mm }) => {
    const top = under;
    const foot = (under += thickness_mm * THICKER);
    const half = Math.min(length_mm, main) / 2;
    const at = (i: number) => -half + (2 * half * i) / PIECES;
    const point = (x: number, depth: number) => `${px(across + x * k)} ${px(line + (below(x) + depth) * k)}`;
    const there = Array.from({ length: PIECES + 1 }, (_, i) => point(at(i), top));
    const back = Array.from({ length: PIECES + 1 }, (_, i) => point(at(PIECES - i), foot));
    return { leaf, d: `M${[...there, ...back].join("L")}Z` };
  });
  const eye = Math.min(11, Math.max(5, 18 * k));
  return {
    leaves,
    eyes: [-1, 1].map((side) => ({ x: across + (side * main * k) / 2, y: line })),
    eye,
    middle: { x: across, y: line + arch * k },
    line,
    foot: line + (Math.max(0, arch) + under) * k,
  };
}

// A brushed patch of layout dye: horizontal strokes that wander at the left and run dry at the right. A fixed seed for each
// place, so that it never flickers.

export interface Stroke {
  x1: number;
  x2: number;
  y: number;
  width: number;
}

export interface Patch {
  strokes: Stroke[];
  /** Hairs of bare page at the dry end. */
  hairs: Stroke[];
}

/** Strokes for a patch about `width` × `height` px with its upper left at 0,0. The same seed gives the same patch. */
export function patch(width: number, height: number, seed: number): Patch {
  const next = generator(seed);
  const wander = (amount: number) => (next() * 2 - 1) * amount;
  // A longer patch is dipped once like a short one: its dry end grows less than its length.
  const wide = Math.sqrt(width / 68);
  const count = Math.max(3, Math.round((height - 2.2) / 1.5));
  const strokes: Stroke[] = [];
  for (let i = 0; i <= count; i++) {
    const edge = Math.min(i, count - i);
    const lift = edge === 0 ? 9 * wide : edge === 1 ? 3 * wide : 0;
    const dry = i % 4 === 3 ? (5 + next() * 6) * wide : 0;
    strokes.push({
      x1: 2 + lift + wander(2),
      x2: width - 9 * wide - lift - dry + wander(8) * wide,
      y: 1.1 + i * 1.5,
      width: 2.2,
    });
  }
  const hairs = Array.from({ length: Math.max(2, Math.round(height / 17)) }, () => ({
    x1: width - (14 + next() * 8) * wide,
    x2: width + 2,
    y: 3 + next() * (height - 6),
    width: 0.7,
  }));
  return { strokes, hairs };
}

/** A small pseudo-random sequence in [0, 1), for looks only (mulberry32, public domain). */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

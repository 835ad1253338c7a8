// A straight scale from numbers to pixels. Written out, since the usual library for it writes to prototypes, which the window freezes.

export interface Scale {
  (value: number): number;
  domain: readonly [number, number];
}

/** From `domain` to `range`, both with two different ends. */
export function linear(domain: readonly [number, number], range: readonly [number, number]): Scale {
  const [from, to] = domain;
  const [start, end] = range;
  const slope = (end - start) / (to - from);
  return Object.assign((value: number) => start + (value - from) * slope, { domain });
}

/** Whole numbers of 1, 2 or 5 times a power of ten apart, at most so many steps of them. */
export function evenly([low, high]: readonly [number, number], most: number): number[] {
  let step = 1;
  for (let i = 0; (high - low) / step > most; i += 1) step *= i % 3 === 1 ? 2.5 : 2;
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.max(0, Math.floor(high / step) - first + 1) }, (_, i) => (first + i) * step);
}

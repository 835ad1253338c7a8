// Gauges of differences: one scale and one zero for all of them, higher is up.

export interface Ranged {
  value_mm: number | null;
  u_mm: number | null;
  tolerance_mm: number | null;
}

export interface GaugeScale {
  /** px a mm. */
  k: number;
  /** Where the other stance's line lies, px from the top. */
  zero: number;
}

/** Half of a dot, and of a whisker's end. */
const EDGE = 8;
/** A millimetre is never drawn larger. */
const MOST = 4;

/** The scale in which all of them have room with their ±2u and tolerances. */
export function gaugeScale(all: readonly Ranged[], height: number): GaugeScale {
  const ends = all.flatMap(({ value_mm, u_mm, tolerance_mm }) => {
    const tolerance = tolerance_mm ?? 0;
    if (value_mm === null || u_mm === null) return [-tolerance, tolerance];
    return [-tolerance, tolerance, value_mm - 2 * u_mm, value_mm + 2 * u_mm];
  });
  const [lowest, highest] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const room = height - 2 * EDGE;
  const k = Math.min(MOST, room / Math.max(highest - lowest, 1));
  // What room is left lies above and below alike.
  return { k, zero: EDGE + highest * k + (room - (highest - lowest) * k) / 2 };
}

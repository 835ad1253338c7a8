export type SceneLock = { inner_deg: number, outer_deg: number, kingpin_mm: number, };

export type ScenePlace = { place: string, gap_mm: number, height_mm: number | null, along_mm: number | null, };

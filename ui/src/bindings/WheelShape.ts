export type WheelShape = { section_mm: number, radius_mm: number, loaded_mm: number, rim_width_mm: number, rim_diameter_mm: number, offset_mm: number, out_mm: number, };

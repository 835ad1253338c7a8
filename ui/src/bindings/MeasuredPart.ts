export type MeasuredPart = "wheel" | "steer" | "other_wheel" | "travel" | "square" | "jack" | "jack_point" | "strap" | "radiator";

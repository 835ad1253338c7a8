export type WheelState = "at_rest" | "full_bump" | "full_lock";

// Corners, facing and kinds in words.
import type { Corner } from "../../bindings/Corner";
import type { Facing } from "../../bindings/Facing";
import type { PointKind } from "../../bindings/PointKind";
import type { WalkOrder } from "../../bindings/WalkOrder";

/** Round the car, clockwise from the front left. */
export const WALK: readonly Corner[] = ["FL", "FR", "RR", "RL"];
/** The corners in walking order. */
export function cornersInOrder({ start, clockwise }: WalkOrder): readonly Corner[] {
  const round = clockwise ? WALK : WALK.toReversed();
  const first = round.indexOf(start);
  return [...round.slice(first), ...round.slice(0, first)];
}
/** In the order of a grid read left to right, nose up. */
export const GRID: readonly Corner[] = ["FL", "FR", "RL", "RR"];

export const CORNER: Record<Corner, string> = {
  FL: "front left",
  FR: "front right",
  RL: "rear left",
  RR: "rear right",
};

/** In the order of the walk. */
export const KINDS: readonly PointKind[] = ["frame_rail", "fender_lip", "rocker", "body_seam", "spring_perch", "other"];

export const KIND: Record<PointKind, string> = {
  frame_rail: "Frame rail",
  fender_lip: "Fender lip",
  rocker: "Rocker edge",
  body_seam: "Body seam",
  spring_perch: "Spring perch",
  other: "Marked point",
};

export const FACING: Record<Facing, string> = { A: "first way round", B: "turned end for end" };

/** The wheel that stands on each spot S1 to S4. */
export function wheelOnSpot(facing: Facing): readonly Corner[] {
  return facing === "A" ? ["FL", "FR", "RL", "RR"] : ["RR", "RL", "FR", "FL"];
}

/** "S1" as the corner of facing A that stands on it. */
export function cornerOfSpot(spot: string): Corner {
  return GRID[Number(spot.slice(1)) - 1] ?? "FL";
}

/** An angle gauge laid across the frame, not along a rail. */
export const acrossFrame = (step: { ref: string }): boolean => step.ref === "frame_front" || step.ref === "frame_rear";
export const isFront = (corner: Corner): boolean => corner.startsWith("F");
export const isLeft = (corner: Corner): boolean => corner.endsWith("L");

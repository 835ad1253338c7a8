// Where the points of a part lie on a car as it is drawn while they are asked for: a usual one, not the person's. mm as everywhere:
// ahead of the front axle, left of the centre, above the ground.
import type { Mechanism } from "../../bindings/Mechanism";

export interface AskPoint {
  words: string;
  x: number;
  y: number;
  z: number;
}

export interface AskShape {
  points: Record<string, AskPoint>;
  /** Names of points that are joined, drawn as rods. */
  rods: readonly (readonly [string, string])[];
  /** Seen part of the car, mm ahead of the front axle: from, to. */
  from: number;
  to: number;
  /** Wheel centre and radius, and the rail over it. */
  wheel: { x: number; y: number; radius: number };
  /** Where y counts from is drawn too. */
  plan: boolean;
}

const STEERING: AskShape = {
  points: {
    pitman_ball: { words: "pitman ball", x: -820, y: 430, z: 470 },
    arm_ball: { words: "arm ball", x: -150, y: 560, z: 400 },
    hub: { words: "wheel centre", x: 0, y: 700, z: 330 },
    kingpin: { words: "kingpin", x: 0, y: 640, z: 215 },
    pivot: { words: "pivot at the frame", x: -960, y: 330, z: 290 },
    eye: { words: "fixed eye", x: 420, y: 380, z: 390 },
    "lower.frame": { words: "lower bar, frame", x: -720, y: 400, z: 250 },
    "lower.axle": { words: "lower bar, axle", x: -60, y: 400, z: 240 },
    "upper.frame": { words: "upper bar, frame", x: -680, y: 400, z: 430 },
    "upper.axle": { words: "upper bar, axle", x: -40, y: 400, z: 415 },
  },
  rods: [
    ["pitman_ball", "arm_ball"],
    ["pivot", "hub"],
    ["eye", "hub"],
    ["lower.frame", "lower.axle"],
    ["upper.frame", "upper.axle"],
  ],
  from: 620,
  to: -1160,
  wheel: { x: 0, y: 700, radius: 330 },
  plan: true,
};

const DRIVELINE: AskShape = {
  points: {
    front_joint: { words: "front joint", x: -1050, y: 0, z: 440 },
    rear_joint: { words: "rear joint", x: -2330, y: 0, z: 370 },
    eye: { words: "fixed eye", x: -1960, y: 480, z: 330 },
    pivot: { words: "rods’ pivot", x: -1700, y: 400, z: 300 },
  },
  rods: [
    ["front_joint", "rear_joint"],
    ["eye", "axle"],
    ["pivot", "axle"],
  ],
  from: -720,
  to: -3000,
  wheel: { x: -2560, y: 700, radius: 350 },
  plan: false,
};

/** Null for a part whose form asks for no place. */
export function askShape(part: Mechanism): AskShape | null {
  if (part === "steering") return STEERING;
  return part === "driveline" ? DRIVELINE : null;
}

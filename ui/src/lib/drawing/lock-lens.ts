// The tire and what it comes near at full lock, from above: paths round the place where they are nearest.
import type { FitScene } from "../../bindings/FitScene";
import type { WheelShape } from "../../bindings/WheelShape";
import { round } from "./opening";

/** Forward and outboard of the kingpin, mm. */
type At = [forward: number, out: number];

export interface LensShapes {
  now: string;
  other: string | null;
  /** What is touched, as an area; the edge toward the tire is its line. */
  thing: string;
  edge: string;
}

/**
 * The tire and what it comes near at full lock, from above with the nose up, round the place where they are nearest; `gap` is what is told.
 */
export function lockLens(
  scene: FitScene,
  name: string,
  told: number,
  now: number | null,
  radius: number,
  pxPerMm: number,
  left: boolean,
): LensShapes | null {
  const lock = scene.lock;
  if (!lock) return null;
  const outboard = name === "fender_outer";
  const along = name === "ahead" || name === "behind";
  const steered = (lock.inner_deg * Math.PI) / 180;
  const [sin, cos] = [Math.sin(steered), Math.cos(steered)];
  // Forward and outboard, mm, from the kingpin; the front of the wheel outward.
  const towards: At = along ? [name === "ahead" ? 1 : -1, 0] : [0, outboard ? 1 : -1];
  const cutOf = (shape: WheelShape) => {
    const over = (scene.places.find((one) => one.place === name)?.height_mm ?? shape.loaded_mm) - shape.loaded_mm;
    const half = Math.sqrt(Math.max(shape.radius_mm ** 2 - over ** 2, 100));
    const corner = Math.min(((shape.radius_mm - shape.rim_diameter_mm / 2) * 1) / 3, shape.section_mm / 2, half);
    const out = lock.kingpin_mm + shape.out_mm;
    const turn = ([x, y]: At): At => [x * cos - (y + out) * sin, x * sin + (y + out) * cos];
    const points: At[] = [];
    for (const [sx, sy, from] of [
      [1, 1, 0],
      [-1, 1, 90],
      [-1, -1, 180],
      [1, -1, 270],
    ] as const) {
      for (let step = 0; step <= 9; step += 1) {
        const angle = ((from + step * 10) * Math.PI) / 180;
        points.push(
          turn([
            sx * (half - corner) + corner * Math.cos(angle),
            sy * (shape.section_mm / 2 - corner) + corner * Math.sin(angle),
          ]),
        );
      }
    }
    return points;
  };
  const reach = (points: At[]) => Math.max(...points.map(([x, y]) => x * towards[0] + y * towards[1]));
  const mine = cutOf(scene.now);
  const theirs = scene.other ? cutOf(scene.other) : null;
  const shown = theirs ?? mine;
  const nearest = shown.reduce((best, point) =>
    point[0] * towards[0] + point[1] * towards[1] > best[0] * towards[0] + best[1] * towards[1] ? point : best,
  );
  const wall = reach(shown) + told;
  // The present tire stands off the same wall by what is told of it.
  const shift = theirs && now !== null ? wall - now - reach(mine) : 0;
  const sx = left ? -1 : 1;
  const px = ([x, y]: At): [number, number] => [
    radius + sx * (y - nearest[1]) * pxPerMm,
    radius - (x - nearest[0]) * pxPerMm,
  ];
  const path = (points: At[], by: number) =>
    `${points
      .map(
        ([x, y], i) =>
          `${i ? "L" : "M"}${px([x + towards[0] * by, y + towards[1] * by])
            .map(round)
            .join(" ")}`,
      )
      .join("")}Z`;
  const far = 4_000;
  const edge: At[] = along
    ? [
        [towards[0] * wall, nearest[1] - far],
        [towards[0] * wall, nearest[1] + far],
      ]
    : [
        [nearest[0] - far, towards[1] * wall],
        [nearest[0] + far, towards[1] * wall],
      ];
  const beyond = edge.map(([x, y]): At => [x + towards[0] * far, y + towards[1] * far]);
  return {
    now: path(mine, shift),
    other: theirs && path(theirs, 0),
    thing: path([edge[0]!, edge[1]!, beyond[1]!, beyond[0]!], 0),
    edge: `M${px(edge[0]!).map(round).join(" ")}L${px(edge[1]!).map(round).join(" ")}`,
  };
}

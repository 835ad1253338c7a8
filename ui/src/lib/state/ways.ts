// The ways on from a car's page: what follows from how it stands. One row a way, in the order in which they are told.
import type { StanceRef } from "../../bindings/StanceRef";
import type { Screen } from "./screen";

export interface Way {
  /** "Checks" */
  words: string;
  /** What stands behind it, one line. */
  detail: string;
  screen: Screen;
  test: string;
}

export const WAYS: readonly Way[] = [
  {
    words: "Checks",
    detail: "what touches, flat tires, lamps, caster, every load",
    screen: { at: "checks" },
    test: "to-checks",
  },
  {
    words: "Ramp and driveway",
    detail: "where it touches on your own ground, and what saves it",
    screen: { at: "ramp" },
    test: "to-ramp",
  },
  {
    words: "What is under it",
    detail: "low points, lamps, rod, level parts, your ground",
    screen: { at: "under_form" },
    test: "to-under",
  },
  {
    words: "Wheels in their openings",
    detail: "another wheel at rest, bump and lock; travel, square, jacks",
    screen: { at: "fitment" },
    test: "to-fitment",
  },
  {
    words: "Steering",
    detail: "bump steer, drag link, pitman ball, caster",
    screen: { at: "steering" },
    test: "to-steering",
  },
  {
    words: "Driveline",
    detail: "joints, shaft and slip, carburetor and oil level",
    screen: { at: "driveline" },
    test: "to-driveline",
  },
  { words: "Springs", detail: "leaf packs before and after", screen: { at: "springs" }, test: "to-springs" },
  {
    words: "Gearing",
    detail: "engine speed with other axles and tires",
    screen: { at: "gearing" },
    test: "to-gearing",
  },
  {
    words: "Bench sums",
    detail: "steering box, wedge, pedal, radiator, weights",
    screen: { at: "bench_sums" },
    test: "to-bench-sums",
  },
];

/** What a plan is looked at on; the ramp is its main action. */
const ONWARD = ["to-fitment", "to-checks", "to-steering", "to-driveline", "to-springs"];

/** The ways on from a plan, each page standing on it. */
export function onward(stance: StanceRef): readonly Way[] {
  const way = (test: string) => WAYS.find((own) => own.test === test);
  return ONWARD.map(way).flatMap((own) => {
    if (!own) return [];
    const words = own.test === "to-fitment" ? "In the openings" : own.words;
    return [{ ...own, words, screen: { ...own.screen, stance } as Screen }];
  });
}

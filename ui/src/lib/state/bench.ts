// Bench sums: the form that asks for each, and the page a form leads back to.
import type { BenchSum } from "../../bindings/BenchSum";
import type { Mechanism } from "../../bindings/Mechanism";
import type { Screen } from "./screen";
import type { Way } from "./ways";

const FORMS: Record<BenchSum, Screen> = {
  steering_box: { at: "mechanism_form", part: "steering_box" },
  wedge: { at: "mechanism_form", part: "wedge" },
  pedal: { at: "mechanism_form", part: "pedal" },
  radiator: { at: "measured_form", part: "radiator", of: "" },
  weight: { at: "measured_form", part: "weighed", of: "" },
};

export function formOf(sum: BenchSum): Screen {
  return FORMS[sum];
}

/** The page of a part that is described. */
export function pageOf(part: Mechanism): Screen {
  switch (part) {
    case "gearing":
    case "steering":
    case "driveline":
      return { at: part };
    case "front_spring":
    case "rear_spring":
      return { at: "springs" };
    default:
      return { at: "bench_sum", sum: part };
  }
}

/** From the steering's page to the sums that belong to it. */
export const AT_THE_STEERING: readonly Way[] = [
  {
    words: "Steering box and turns",
    detail: "ratio at the road wheels, another box or arm",
    screen: { at: "bench_sum", sum: "steering_box" },
    test: "to-steering_box",
  },
  {
    words: "Wedge for a caster",
    detail: "a shim under the spring, or a cut",
    screen: { at: "bench_sum", sum: "wedge" },
    test: "to-wedge",
  },
];

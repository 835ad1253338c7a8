// Where the person is. One screen at a time; sheets lie over it.
import type { BenchSum } from "../../bindings/BenchSum";
import type { EventForm } from "../../bindings/EventForm";
import type { GroundForm } from "../../bindings/GroundForm";
import type { InstrumentForm } from "../../bindings/InstrumentForm";
import type { Mechanism } from "../../bindings/Mechanism";
import type { PartForm } from "../../bindings/PartForm";
import type { MeasuredPart } from "../../bindings/MeasuredPart";
import type { StanceRef } from "../../bindings/StanceRef";
import type { TargetForm } from "../../bindings/TargetForm";

export type Tab = "car" | "readings" | "compare" | "settling" | "plan";

/** How the car is to stand on a page of what follows; absent or null: the page chooses. */
interface Standing {
  stance?: StanceRef | null;
}

export type Screen =
  | { at: "loading" }
  | { at: "garage" }
  | { at: "car" }
  | { at: "readings" }
  | { at: "compare" }
  | { at: "settling" }
  | { at: "plan" }
  /** `change`: number of the change in the plan; its length adds one. */
  | { at: "change_form"; change: number }
  | { at: "plan_search" }
  | { at: "part_form"; form: PartForm }
  | { at: "car_form"; change: boolean }
  | { at: "floors" }
  | { at: "floor_form" }
  | { at: "floor"; floor: string }
  | { at: "instruments" }
  | { at: "instrument_form"; form: InstrumentForm }
  | { at: "targets" }
  | { at: "target_form"; form: TargetForm }
  | { at: "set_out"; target?: string }
  | ({ at: "checks" } & Standing)
  | { at: "under_form" }
  | { at: "gearing" }
  | ({ at: "steering" } & Standing)
  | ({ at: "driveline" } & Standing)
  | ({ at: "springs" } & Standing)
  | { at: "bench_sums" }
  | { at: "bench_sum"; sum: BenchSum }
  | { at: "mechanism_form"; part: Mechanism }
  | ({ at: "fitment" } & Standing)
  | { at: "measured_form"; part: MeasuredPart; of: string }
  | ({ at: "ramp" } & Standing)
  | { at: "grounds" }
  | { at: "ground_form"; form: GroundForm }
  | { at: "ground"; ground: string }
  | { at: "guide"; page: string }
  /** `again`: the snapshot that is measured like again. */
  | { at: "begin"; turned: boolean; sheet?: boolean; again?: string }
  | { at: "history" }
  | { at: "event_form"; form: EventForm }
  | { at: "condition"; snapshot: string }
  | { at: "walk"; snapshot: string }
  | { at: "sheet"; snapshot: string }
  | { at: "result"; snapshot: string }
  | { at: "book"; snapshot: string };

/** The tab a screen lies under; a page that stands on a plan belongs to the plan. */
export function tabOf(screen: Screen): Tab {
  if ("stance" in screen && screen.stance?.of === "planned") return "plan";
  switch (screen.at) {
    case "compare":
    case "settling":
    case "plan":
      return screen.at;
    case "change_form":
    case "plan_search":
    case "part_form":
      return "plan";
    case "targets":
    case "target_form":
    case "set_out":
      return "compare";
    case "readings":
    case "begin":
    case "condition":
    case "walk":
    case "sheet":
    case "result":
    case "book":
    case "floors":
    case "floor":
    case "floor_form":
    case "history":
    case "event_form":
      return "readings";
    default:
      return "car";
  }
}

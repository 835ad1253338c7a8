// One tape or gauge being added or changed: as typed so far, and what is wrong with it.
import type { InstrumentForm } from "../../bindings/InstrumentForm";
import type { InstrumentKind } from "../../bindings/InstrumentKind";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { FormProblems } from "./form.svelte";

export class OneInstrument {
  typed: InstrumentForm = $state() as InstrumentForm;
  readonly problems = new FormProblems();

  constructor(typed: InstrumentForm) {
    this.typed = typed;
  }

  /** Changes some of it; what is changed is no longer wrong until the backend says so again. */
  set(part: Partial<InstrumentForm>): void {
    Object.assign(this.typed, part);
    for (const field of Object.keys(part)) this.problems.changed(field);
  }
}

const STEP_OF = { in: "sixteenths", in32: "thirty_seconds", mm: "mm", cm: "cm" } as const;

/** A new one, nothing known of it; a tape is divided as new tapes are. */
export function blank(kind: InstrumentKind, tape: TapeUnit): InstrumentForm {
  return {
    instrument: null,
    kind,
    label: "",
    step: STEP_OF[tape],
    length: "",
    class: null,
    read_from: "end",
    mark: "",
    hook: "",
    hook_band: "",
    gauge_step: kind === "angle_gauge" ? "0.1" : "",
    gauge_band: "",
    check_against: "",
    check_read: "",
    check_true: "",
    check_band: "",
    check_straight: "",
    check_reversed: "",
    check_date: "",
  };
}

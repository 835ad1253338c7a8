// How a snapshot is begun: as typed so far, and what is wrong with it.
import type { CarView } from "../../bindings/CarView";
import type { Corner } from "../../bindings/Corner";
import type { PointKind } from "../../bindings/PointKind";
import type { SnapshotForm } from "../../bindings/SnapshotForm";
import { KINDS } from "../words/corner";
import { FormProblems } from "./form.svelte";

export class BeginForm {
  typed: SnapshotForm = $state() as SnapshotForm;
  readonly problems = new FormProblems();

  constructor(typed: SnapshotForm) {
    this.typed = typed;
  }

  /** Changes some of it; what is changed is no longer wrong until the backend says so again. */
  set(part: Partial<SnapshotForm>): void {
    Object.assign(this.typed, part);
    for (const field of Object.keys(part)) this.problems.changed(field);
  }

  toggle(kind: PointKind): void {
    const { kinds } = this.typed;
    this.set({
      kinds: kinds.includes(kind)
        ? kinds.filter((other) => other !== kind)
        : KINDS.filter((other) => other === kind || kinds.includes(other)),
    });
  }

  pressure(corner: Corner, text: string): void {
    this.typed.pressures[corner] = text;
    this.problems.changed(`pressures.${corner}`);
  }
}

/** The form as last time. */
export function asLastTime(car: CarView, turned: boolean): SnapshotForm {
  return {
    ...structuredClone(car.begin),
    facing: turned ? (car.begin.facing === "A" ? "B" : "A") : car.begin.facing,
    label: "",
    // The tape that measured the car is the one at hand for its first snapshot.
    tape: car.snapshots.length === 0 ? car.form.tape : car.begin.tape,
  };
}

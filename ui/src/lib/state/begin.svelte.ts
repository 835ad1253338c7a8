// How a snapshot is begun: as typed so far, which parts of the condition were said today, and what is wrong with it.
import type { AboardForm } from "../../bindings/AboardForm";
import type { CarView } from "../../bindings/CarView";
import type { ConditionPart } from "../../bindings/ConditionPart";
import type { Corner } from "../../bindings/Corner";
import type { FuelForm } from "../../bindings/FuelForm";
import type { LoadSide } from "../../bindings/LoadSide";
import type { PlaceView } from "../../bindings/PlaceView";
import type { PointKind } from "../../bindings/PointKind";
import type { SnapshotForm } from "../../bindings/SnapshotForm";
import { KINDS } from "../words/corner";
import { FormProblems } from "./form.svelte";

/** The part of the condition that a field belongs to. */
const PART: Partial<Record<keyof SnapshotForm, ConditionPart>> = {
  floor: "floor",
  facing: "facing",
  load: "load",
  pressures: "pressures",
};

/** What a change of load is before anything is typed. */
const NOTHING_ABOARD = (typed: SnapshotForm) => typed.load.aboard.length === 0 && typed.load.fuel.now === "";

export class BeginForm {
  typed: SnapshotForm = $state() as SnapshotForm;
  readonly problems = new FormProblems();

  constructor(typed: SnapshotForm) {
    this.typed = typed;
  }

  /** Changes some of it; what is changed is said today, and no longer wrong until the backend says so again. */
  set(part: Partial<SnapshotForm>): void {
    Object.assign(this.typed, part);
    for (const field of Object.keys(part) as (keyof SnapshotForm)[]) {
      this.problems.changed(field);
      const said = PART[field];
      if (said) this.say(said, true);
    }
  }

  says(part: ConditionPart): boolean {
    return this.typed.confirmed === null || this.typed.confirmed.includes(part);
  }

  /** Says a part as it stands in the form, or takes that back. */
  say(part: ConditionPart, said: boolean): void {
    const { confirmed } = this.typed;
    if (confirmed === null || confirmed.includes(part) === said) return;
    this.typed.confirmed = said ? [...confirmed, part] : confirmed.filter((other) => other !== part);
    this.problems.changed(part);
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
    this.say(
      "pressures",
      Object.values(this.typed.pressures).some((typed) => typed.trim() !== ""),
    );
  }

  get asUsual(): boolean {
    return this.says("load") && NOTHING_ABOARD(this.typed);
  }

  /** Nothing beside the nominal load, said today. */
  usual(): void {
    if (this.asUsual) {
      this.say("load", false);
      return;
    }
    this.typed.load.fuel.now = "";
    this.typed.load.aboard = [];
    this.#loaded("load.");
  }

  fuel(part: Partial<FuelForm>): void {
    Object.assign(this.typed.load.fuel, part);
    for (const field of Object.keys(part)) this.#loaded(`load.fuel.${field}`);
  }

  board({ place, behind }: PlaceView): void {
    const side: LoadSide = place === "driver" ? "left" : place === "passenger" ? "right" : "middle";
    this.typed.load.aboard.push({ what: "", mass: "", place, side, behind });
    this.#loaded("load.");
  }

  aboard(at: number, part: Partial<AboardForm>): void {
    const entry = this.typed.load.aboard[at];
    if (!entry) return;
    Object.assign(entry, part);
    for (const field of Object.keys(part)) this.#loaded(`load.aboard.${at}.${field}`);
  }

  /** Takes a line of the load away. */
  unload(at: number): void {
    this.typed.load.aboard.splice(at, 1);
    this.#loaded("load.");
  }

  /** The load is said today. Where lines have moved, what was wrong with them is asked anew. */
  #loaded(path: string): void {
    this.say("load", true);
    if (path === "load.") this.problems.forget(path);
    else this.problems.changed(path);
  }
}

/** The form as last time; of the condition nothing is said yet. */
export function asLastTime(car: CarView, turned: boolean): SnapshotForm {
  const first = car.last_time === null;
  return {
    ...structuredClone(car.begin),
    facing: turned ? (car.begin.facing === "A" ? "B" : "A") : car.begin.facing,
    label: "",
    // What a plain form shows is said; load and pressures are where something is typed. Whoever came to turn the car says so.
    confirmed: first ? ["floor", "facing", "tires"] : turned ? ["facing"] : [],
    // The tape that measured the car is the one at hand for its first snapshot.
    tape: car.snapshots.length === 0 ? car.form.tape : car.begin.tape,
  };
}

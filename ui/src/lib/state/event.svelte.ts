// Work or a note being entered: as typed so far, and what is wrong with it.
import type { EventForm } from "../../bindings/EventForm";
import { FormProblems } from "./form.svelte";

export class OneEvent {
  typed: EventForm = $state() as EventForm;
  readonly problems = new FormProblems();

  constructor(typed: EventForm) {
    this.typed = typed;
  }

  /** Changes some of it; what is changed is no longer wrong until the backend says so again. */
  set(part: Partial<EventForm>): void {
    Object.assign(this.typed, part);
    for (const field of Object.keys(part)) this.problems.changed(field);
  }

  /** Another kind of work has its own words, and its own effect until something else is said. */
  choose(kind: string): void {
    if (kind !== this.typed.kind) this.set({ kind, resets_settling: null });
    this.problems.changed("what");
    this.problems.changed("note");
  }
}

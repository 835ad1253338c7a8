// The book of a finished snapshot: what is being corrected, what was typed there, and what was refused.
import type { BookCondition } from "../../bindings/BookCondition";
import type { BookCorrection } from "../../bindings/BookCorrection";
import type { BookReading } from "../../bindings/BookReading";
import type { BookView } from "../../bindings/BookView";
import type { Corners } from "../../bindings/Corners";
import type { LoadForm } from "../../bindings/LoadForm";
import type { ReadingChange } from "../../bindings/ReadingChange";
import type { Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";
import { FormProblems } from "./form.svelte";

/** What the open sheet corrects. */
export type Target =
  | { what: "reading"; reading: BookReading }
  | { what: "condition"; condition: BookCondition }
  | { what: "missed" }
  | { what: "correction"; correction: BookCorrection };

export class BookState {
  view = $state.raw<BookView>() as BookView;
  target = $state.raw<Target | null>(null);
  /** What was typed, by target and field: a closed sheet opens again as it was left. */
  typed = $state<Record<string, string>>({});
  problems = new FormProblems();
  /** One number a correction, however often it is sent. */
  #request = requestId();

  constructor(
    readonly ask: Ask,
    view: BookView,
    typed: Record<string, string> = {},
  ) {
    this.view = view;
    this.typed = typed;
  }

  open(target: Target): void {
    this.problems = new FormProblems();
    this.#request = requestId();
    this.target = target;
  }

  close(): void {
    this.target = null;
  }

  get #key(): string {
    const { target } = this;
    if (target?.what === "reading") return target.reading.reading;
    if (target?.what === "condition") return target.condition.field;
    if (target?.what === "correction") return target.correction.correction;
    return "missed";
  }

  /** What stands in a field of the open sheet. */
  text(field: string, fresh = ""): string {
    return this.typed[`${this.#key} ${field}`] ?? fresh;
  }

  type(field: string, text: string): void {
    this.typed[`${this.#key} ${field}`] = text;
    this.problems.changed(field);
  }

  correctReading(reading: BookReading, change: ReadingChange): Promise<boolean> {
    return this.#send(() =>
      this.ask("correct_reading", {
        ...this.#common,
        reading: reading.reading,
        change,
        text: change === "value" ? this.text("text", reading.text) : "",
      }),
    );
  }

  addMissed(): Promise<boolean> {
    const [first] = this.view.places;
    return this.#send(() =>
      this.ask("add_missed_reading", {
        ...this.#common,
        ref: this.text("ref", first?.ref ?? ""),
        bounce: Number(this.text("bounce", "1")),
        text: this.text("text"),
        date: this.text("date", this.view.date),
        time: this.text("time"),
      }),
    );
  }

  /** The load as typed in the open sheet. */
  load(condition: BookCondition): LoadForm | null {
    const kept = this.typed[`${condition.field} load`];
    return kept === undefined ? condition.load : JSON.parse(kept);
  }

  correctCondition(condition: BookCondition): Promise<boolean> {
    const { pressures } = condition;
    const corner = (name: keyof Corners<string>) => this.text(`pressures.${name}`, pressures?.[name] ?? "");
    return this.#send(() =>
      this.ask("correct_condition", {
        ...this.#common,
        field: condition.field,
        text: this.text(fieldOf(condition), condition.typed),
        load: this.load(condition),
        pressures: pressures ? { FL: corner("FL"), FR: corner("FR"), RL: corner("RL"), RR: corner("RR") } : null,
      }),
    );
  }

  takeBack(correction: BookCorrection): Promise<boolean> {
    return this.#send(() => this.ask("take_back_correction", { ...this.#common, correction: correction.correction }));
  }

  get #common() {
    return { snapshot: this.view.snapshot, reason: this.text("reason"), request_id: this.#request };
  }

  /** True where it is kept; else the problems stand beside the fields and everything typed stays. */
  async #send(ask: () => Promise<BookView>): Promise<boolean> {
    const view = await this.problems.send(ask);
    if (!view) return false;
    const key = `${this.#key} `;
    for (const field of Object.keys(this.typed)) if (field.startsWith(key)) delete this.typed[field];
    this.view = view;
    this.close();
    return true;
  }
}

/** Name of the field in which a condition is typed, as the backend names it in a refusal. */
export function fieldOf(condition: BookCondition): string {
  if (condition.field === "date") return "date";
  if (condition.field === "air_c") return "air";
  return condition.field === "odometer_km" ? "odometer" : "text";
}

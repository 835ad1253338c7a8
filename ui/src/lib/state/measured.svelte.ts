// The form of one part that is measured by itself: as typed so far, and what is wrong with it.
import type { KeepMeasured } from "../../bindings/KeepMeasured";
import type { MeasuredForm } from "../../bindings/MeasuredForm";
import { FormProblems } from "./form.svelte";

/** What a form sends before anything is typed: each field as it is known. */
export function asKnown(form: MeasuredForm): KeepMeasured {
  const fields: Record<string, string> = {};
  for (const section of form.sections) for (const field of section.fields) fields[field.name] = field.value;
  return { car: form.car, part: form.part, of: form.of, tape: form.tape, fields };
}

export class MeasuredState {
  typed: KeepMeasured = $state() as KeepMeasured;
  readonly problems = new FormProblems();

  constructor(
    readonly form: MeasuredForm,
    typed: KeepMeasured,
  ) {
    this.typed = typed;
  }

  of(name: string): string {
    return this.typed.fields[name] ?? "";
  }

  set(name: string, value: string): void {
    this.typed.fields = { ...this.typed.fields, [name]: value };
    this.problems.changed(name);
  }

  /** "three of nine", for a section that is shut. */
  filled(names: readonly string[]): string {
    const filled = names.filter((name) => this.of(name).trim() !== "").length;
    return filled === 0 ? "not measured" : `${filled} of ${names.length}`;
  }

  wrong(names: readonly string[]): boolean {
    return names.some((name) => this.problems.of(name) !== null);
  }
}

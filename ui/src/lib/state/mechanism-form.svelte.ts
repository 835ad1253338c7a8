// The form of a part that is described: what the app asks for, what was typed, and rows that are added and left out.
import type { MechanismForm } from "../../bindings/MechanismForm";
import type { MechanismFormView } from "../../bindings/MechanismFormView";
import type { MechanismList } from "../../bindings/MechanismList";
import type { MechanismSection } from "../../bindings/MechanismSection";
import type { TapeUnit } from "../../bindings/TapeUnit";
import { FormProblems } from "./form.svelte";

/** What is kept while the person looks elsewhere. */
export interface KeptMechanism {
  tape: TapeUnit;
  values: Record<string, string>;
}

export class MechanismFormState {
  values = $state.raw<Record<string, string>>({});
  tape = $state<TapeUnit>("mm");
  readonly problems = new FormProblems();

  constructor(
    readonly view: MechanismFormView,
    kept: KeptMechanism,
  ) {
    this.values = kept.values;
    this.tape = kept.tape;
  }

  get kept(): KeptMechanism {
    return { tape: this.tape, values: this.values };
  }

  get form(): MechanismForm {
    return { ...this.view.form, tape: this.tape, values: this.values };
  }

  value(name: string): string {
    return this.values[name] ?? "";
  }

  set(name: string, value: string): void {
    this.values = { ...this.values, [name]: value };
    this.problems.changed(name);
  }

  /** False where another field does not have what the section is asked for with, or is not asked for itself. */
  asked({ only }: MechanismSection): boolean {
    if (only === null) return true;
    const owner = this.view.sections.find(({ fields }) => fields.some(({ name }) => name === only.name));
    return only.values.includes(this.value(only.name)) && (owner === undefined || this.asked(owner));
  }

  /** How many rows a list has. */
  rows({ name }: MechanismList): number {
    const row = (key: string) => (key.startsWith(`${name}.`) ? Number(key.split(".")[1]) + 1 : 0);
    return Math.max(0, ...Object.keys(this.values).map(row));
  }

  add(list: MechanismList): void {
    const row = this.rows(list);
    const fresh = list.fields.map((field) => [`${list.name}.${row}.${field.name}`, ""]);
    this.values = { ...this.values, ...Object.fromEntries(fresh) };
  }

  /** Leaves a row out; those after it move up. */
  leave(list: MechanismList, gone: number): void {
    const rows = this.rows(list);
    const values = { ...this.values };
    for (let row = gone; row < rows; row += 1) {
      for (const { name } of list.fields) {
        const next = this.values[`${list.name}.${row + 1}.${name}`];
        if (next === undefined || row + 1 >= rows) delete values[`${list.name}.${row}.${name}`];
        else values[`${list.name}.${row}.${name}`] = next;
      }
    }
    this.values = values;
    this.problems.forget(`${list.name}.`);
  }

  /** Nothing typed: the description is taken away when it is kept. */
  clear(): void {
    const choices = this.view.sections.flatMap(({ fields }) => fields.filter((field) => field.choices.length > 0));
    this.values = Object.fromEntries(choices.map(({ name }) => [name, this.value(name)]));
    this.problems.forget("");
  }
}

// The form of what is under a car: as typed so far, and what is wrong with it.
import type { LampForm } from "../../bindings/LampForm";
import type { LevelPartForm } from "../../bindings/LevelPartForm";
import type { LowPointForm } from "../../bindings/LowPointForm";
import type { UnderForm } from "../../bindings/UnderForm";
import type { UnderView } from "../../bindings/UnderView";
import { FormProblems } from "./form.svelte";

const lowPoint = (): LowPointForm => ({ id: "", label: "", attach: "body", behind: "", left: "", height: "" });
const levelPart = (): LevelPartForm => ({ label: "", tips: "", limit: "" });
const lamp = (): LampForm => ({
  id: "",
  kind: "lower beam headlamp",
  behind: "",
  left: "",
  height: "",
  drop: "",
});

export class UnderState {
  typed: UnderForm = $state() as UnderForm;
  readonly problems = new FormProblems();

  constructor(
    readonly view: UnderView,
    typed: UnderForm,
  ) {
    // A form that was left half typed before this version may have fields that are asked for elsewhere now.
    const asked = Object.entries(typed).filter(([name]) => name in view.form);
    this.typed = Object.fromEntries(asked) as unknown as UnderForm;
  }

  /** The text of a field by its path: `low_points.0.height`. */
  text(path: string): string {
    let at: unknown = this.typed;
    for (const key of path.split(".")) at = (at as Record<string, unknown> | undefined)?.[key];
    return typeof at === "string" ? at : "";
  }

  set(path: string, text: string): void {
    const keys = path.split(".");
    const last = keys.pop() ?? "";
    let at: unknown = this.typed;
    for (const key of keys) at = (at as Record<string, unknown>)[key];
    (at as Record<string, string>)[last] = text;
    this.problems.changed(path);
  }

  /** True where a field whose path begins so is wrong. */
  wrong(...beginnings: string[]): boolean {
    return this.problems.fields.some(({ field }) => beginnings.some((beginning) => field.startsWith(beginning)));
  }

  addPoint(): void {
    this.typed.low_points = [...this.typed.low_points, lowPoint()];
  }

  addLamp(): void {
    this.typed.lamps = [...this.typed.lamps, lamp()];
  }

  addPart(): void {
    this.typed.level_parts = [...this.typed.level_parts, levelPart()];
  }

  /** Takes one out of a list; what was wrong beside others of the list is asked again when it is sent. */
  remove(list: "low_points" | "lamps" | "level_parts", at: number): void {
    if (list === "low_points") this.typed.low_points = this.typed.low_points.filter((_, i) => i !== at);
    else if (list === "lamps") this.typed.lamps = this.typed.lamps.filter((_, i) => i !== at);
    else this.typed.level_parts = this.typed.level_parts.filter((_, i) => i !== at);
    this.problems.fields = this.problems.fields.filter(({ field }) => !field.startsWith(list));
  }
}

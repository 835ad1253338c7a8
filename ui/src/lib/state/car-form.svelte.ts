// The form of a car: as typed so far, what is wrong with it, which field has the focus, and the picture that follows.
import type { CarForm } from "../../bindings/CarForm";
import type { CarSketch } from "../../bindings/CarSketch";
import type { Corner } from "../../bindings/Corner";
import type { PointKind } from "../../bindings/PointKind";
import type { Ask } from "../backend/backend";
import { emptyMark, emptyPoints } from "./car-form";
import { FormProblems } from "./form.svelte";

/** The picture follows what is typed after so long, ms. */
const SKETCH_DELAY_MS = 150;

export class CarFormState {
  typed: CarForm = $state() as CarForm;
  readonly problems = new FormProblems();
  /** Name of the field that has the focus. */
  focus = $state("");
  sketch = $state.raw<CarSketch | null>(null);

  constructor(
    typed: CarForm,
    readonly ask: Ask,
    readonly car: string | null,
  ) {
    this.typed = typed;
  }

  /** The text of a field by its path: `springs.front.base`. */
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

  sameTires(from: Corner, to: Corner): void {
    this.typed.tires[to] = { ...this.typed.tires[from] };
    for (const field of ["marking", "pressure", "measured_diameter"]) this.problems.changed(`tires.${to}.${field}`);
  }

  addPoints(kind: PointKind): void {
    this.typed.points = [...this.typed.points, emptyPoints(kind)];
    this.problems.changed("points");
  }

  /** Leaves a kind out: one that is kept already is marked so, a new one goes. */
  leaveOut(at: number, kept: boolean): void {
    const pair = this.typed.points[at];
    if (!pair) return;
    if (kept) pair.retired = true;
    else this.typed.points = this.typed.points.filter((_, i) => i !== at);
    this.problems.fields = this.problems.fields.filter(({ field }) => !field.startsWith("points"));
  }

  addMark(): void {
    this.typed.further = [...this.typed.further, emptyMark()];
  }

  leaveMarkOut(at: number): void {
    const mark = this.typed.further[at];
    if (!mark) return;
    if (mark.id !== "") mark.retired = true;
    else this.typed.further = this.typed.further.filter((_, i) => i !== at);
    this.problems.fields = this.problems.fields.filter(({ field }) => !field.startsWith("further"));
  }

  /** Asks for the picture of `form` a little later; call the answer to take that back. */
  draw(form: CarForm): () => void {
    const timer = setTimeout(
      () => {
        this.ask("sketch_car", { car: this.car, form })
          .then((sketch) => (this.sketch = sketch))
          .catch(() => {
            // The picture stays as it was; saving says what is wrong.
          });
      },
      this.sketch === null ? 0 : SKETCH_DELAY_MS,
    );
    return () => clearTimeout(timer);
  }
}

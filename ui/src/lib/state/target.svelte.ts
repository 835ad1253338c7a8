// One target being made or changed: as typed so far, what is wrong with it, and the picture that follows.
import type { LimitForm } from "../../bindings/LimitForm";
import type { PointKind } from "../../bindings/PointKind";
import type { TargetForm } from "../../bindings/TargetForm";
import type { TargetSketch } from "../../bindings/TargetSketch";
import type { Ask } from "../backend/backend";
import { FormProblems } from "./form.svelte";

/** The picture follows what is typed after so long, ms. */
const SKETCH_DELAY_MS = 150;

export class OneTarget {
  typed: TargetForm = $state() as TargetForm;
  readonly problems = new FormProblems();
  sketch = $state.raw<TargetSketch | null>(null);

  constructor(
    typed: TargetForm,
    readonly ask: Ask,
  ) {
    this.typed = typed;
  }

  /** Changes some of it; what is changed is no longer wrong until the backend says so again. */
  set(part: Partial<TargetForm>): void {
    Object.assign(this.typed, part);
    for (const field of Object.keys(part)) this.problems.forget(field);
  }

  height(point: string, text: string): void {
    this.typed.heights = { ...this.typed.heights, [point]: text };
    this.problems.changed("heights");
    this.problems.changed(`heights.${point}`);
  }

  tolerance(point: string, text: string): void {
    this.typed.tolerances = { ...this.typed.tolerances, [point]: text };
    this.problems.changed(`tolerances.${point}`);
  }

  addLimit(kind: PointKind): void {
    const limit: LimitForm = { kind, end: null, points: [], lowest: "", highest: "", rule: "lowest_safe", says: "" };
    this.typed.limits = [...this.typed.limits, limit];
    this.problems.forget("limits");
  }

  limit(at: number, part: Partial<LimitForm>): void {
    // Chosen anew, it holds for all points of the kind at the end.
    const whole = "kind" in part || "end" in part ? { ...part, points: [] } : part;
    this.typed.limits = this.typed.limits.map((limit, i) => (i === at ? { ...limit, ...whole } : limit));
    this.problems.forget(`limits.${at}.`);
  }

  leaveLimitOut(at: number): void {
    this.typed.limits = this.typed.limits.filter((_, i) => i !== at);
    this.problems.forget("limits");
  }

  /** Asks for the picture of `form` a little later; call the answer to take that back. */
  draw(form: TargetForm): () => void {
    const timer = setTimeout(
      () => {
        this.ask("sketch_target", form)
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

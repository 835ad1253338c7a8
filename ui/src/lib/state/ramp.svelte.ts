// A stance on a ground: which of each is chosen, and what the backend says of them.
import type { Problem } from "../../bindings/Problem";
import type { RampView } from "../../bindings/RampView";
import type { SeeRamp } from "../../bindings/SeeRamp";
import type { StanceRef } from "../../bindings/StanceRef";
import type { WayIn } from "../../bindings/WayIn";
import { asProblem, type Ask } from "../backend/backend";
import { isSame } from "./compare.svelte";
import type { KeptForms } from "./kept-forms";

/** What is kept, so that it is there again when one comes back. */
interface Kept {
  stance: StanceRef | null;
  ground: string;
  facing: WayIn | null;
}

const FRESH: Kept = { stance: null, ground: "", facing: null };

export class RampState {
  view = $state.raw<RampView | null>(null);
  problem = $state.raw<Problem | null>(null);
  kept = $state.raw<Kept>(FRESH);
  picking = $state(false);
  #asked = 0;

  constructor(
    readonly ask: Ask,
    readonly forms: KeptForms,
    readonly car: string,
    /** What it is to stand on, over the ground where that comes nearest; null: what was chosen last. */
    stance: StanceRef | null = null,
  ) {
    this.kept = forms.of<Kept>(this.#name, () => FRESH);
    if (stance && !(this.kept.stance && isSame(stance, this.kept.stance))) this.#keep({ ...FRESH, stance });
  }

  get #name(): string {
    return `ramp ${this.car}`;
  }

  /** What is asked for, also to print. */
  get request(): SeeRamp {
    return { car: this.car, ...this.kept };
  }

  /** Asks for what is chosen; what is no longer there is let go. */
  async open(): Promise<void> {
    const mine = ++this.#asked;
    try {
      const view = await this.ask("see_ramp", this.request);
      if (mine === this.#asked) [this.view, this.problem] = [view, null];
    } catch (thrown) {
      if (mine !== this.#asked) return;
      const problem = asProblem(thrown);
      if (problem.code === "not_found" && (this.kept.stance || this.kept.ground)) {
        this.#keep(FRESH);
        await this.open();
        return;
      }
      this.problem = problem;
    }
  }

  async choose(part: Partial<Kept>): Promise<void> {
    this.picking = false;
    this.#keep(part);
    await this.open();
  }

  #keep(part: Partial<Kept>): void {
    this.kept = { ...this.kept, ...part };
    this.forms.keep(this.#name, this.kept);
  }
}

// What follows from a stance of a car: which stance, load and rules are chosen, and what the backend says of them.
import type { ChecksView } from "../../bindings/ChecksView";
import type { Problem } from "../../bindings/Problem";
import type { SeeChecks } from "../../bindings/SeeChecks";
import type { StanceRef } from "../../bindings/StanceRef";
import { asProblem, type Ask } from "../backend/backend";
import type { KeptForms } from "./kept-forms";

/** What is kept of a car's checks, so that it is there again when one comes back. */
interface Kept {
  stance: StanceRef | null;
  load: string;
  rules: readonly string[];
}

const FRESH: Kept = { stance: null, load: "", rules: [] };

export class ChecksState {
  view = $state.raw<ChecksView | null>(null);
  problem = $state.raw<Problem | null>(null);
  kept = $state.raw<Kept>(FRESH);
  picking = $state(false);
  #asked = 0;

  constructor(
    readonly ask: Ask,
    readonly forms: KeptForms,
    readonly car: string,
    /** What it is to stand on; null: what was chosen last. */
    stance: StanceRef | null = null,
  ) {
    this.kept = forms.of<Kept>(this.#name, () => FRESH);
    if (stance) this.#keep({ stance, load: this.kept.load === "as_loaded" ? "" : this.kept.load });
  }

  get #name(): string {
    return `checks ${this.car}`;
  }

  /** What is asked for, also to print. */
  get request(): SeeChecks {
    return { car: this.car, stance: this.kept.stance, load: this.kept.load, rules: [...this.kept.rules] };
  }

  /** Asks for what is chosen; what is no longer there is let go. */
  async open(): Promise<void> {
    const mine = ++this.#asked;
    try {
      const view = await this.ask("see_checks", this.request);
      if (mine === this.#asked) [this.view, this.problem] = [view, null];
    } catch (thrown) {
      if (mine !== this.#asked) return;
      const problem = asProblem(thrown);
      if (problem.code === "not_found" && this.kept.stance) {
        this.#keep({ stance: null });
        await this.open();
        return;
      }
      this.problem = problem;
    }
  }

  async choose(stance: StanceRef): Promise<void> {
    this.picking = false;
    // A stance that was not measured has no load of its own day.
    const load = stance.of !== "snapshot" && this.kept.load === "as_loaded" ? "" : this.kept.load;
    this.#keep({ stance, load });
    await this.open();
  }

  async load(load: string): Promise<void> {
    this.#keep({ load });
    await this.open();
  }

  async rule(rule: string): Promise<void> {
    const on = this.kept.rules.includes(rule);
    this.#keep({ rules: on ? this.kept.rules.filter((other) => other !== rule) : [...this.kept.rules, rule] });
    await this.open();
  }

  #keep(part: Partial<Kept>): void {
    this.kept = { ...this.kept, ...part };
    this.forms.keep(this.#name, this.kept);
  }
}

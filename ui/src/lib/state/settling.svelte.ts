// What the Settling tab shows: the last answer stays in sight until the next is there, and only the last question counts.
import type { SettlingModel } from "../../bindings/SettlingModel";
import type { SettlingClock } from "../../bindings/SettlingClock";
import type { SettlingView } from "../../bindings/SettlingView";
import { asProblem, type Ask } from "../backend/backend";
import type { Problem } from "../../bindings/Problem";

export class SettlingState {
  view = $state.raw<SettlingView | null>(null);
  problem = $state.raw<Problem | null>(null);
  kind = $state("");
  clock = $state<SettlingClock>("days");
  model = $state<SettlingModel>("best");
  #asked = 0;

  constructor(
    private readonly ask: Ask,
    readonly car: string,
  ) {}

  /** Asks anew with what is chosen now. */
  async see(): Promise<void> {
    const mine = ++this.#asked;
    const { car, kind, clock, model } = this;
    try {
      const view = await this.ask("see_settling", { car, kind, clock, model });
      if (mine !== this.#asked) return;
      this.view = view;
      this.problem = null;
    } catch (thrown) {
      if (mine === this.#asked) this.problem = asProblem(thrown);
    }
  }

  choose(chosen: Partial<Pick<SettlingState, "kind" | "clock" | "model">>): Promise<void> {
    Object.assign(this, chosen);
    return this.see();
  }
}

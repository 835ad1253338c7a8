// The why sheet: asked for when a number is tapped, gone when it is closed.
import type { Problem } from "../../bindings/Problem";
import type { WhyView } from "../../bindings/WhyView";
import { asProblem, type Ask } from "../backend/backend";

export class WhyState {
  view = $state.raw<WhyView | null>(null);
  problem = $state.raw<Problem | null>(null);
  #ask: Ask;

  constructor(ask: Ask) {
    this.#ask = ask;
  }

  async open(snapshot: string, figure: string): Promise<void> {
    try {
      this.view = await this.#ask("why", { snapshot, figure });
      this.problem = null;
    } catch (thrown) {
      this.problem = asProblem(thrown);
    }
  }

  close(): void {
    this.view = null;
  }
}

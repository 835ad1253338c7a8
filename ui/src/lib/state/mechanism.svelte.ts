// What a part's page shows: asked again when the stance or the unit changes; a late answer to an earlier question is dropped.
import type { MechanismWords } from "../../bindings/MechanismWords";
import { asProblem } from "../backend/backend";
import type { AppState } from "./app.svelte";

export class MechanismState<V extends { words: MechanismWords }> {
  view = $state.raw<V | null>(null);
  #asked = "";

  constructor(
    private readonly app: AppState,
    private readonly ask: (request: string) => Promise<V>,
  ) {}

  /** Asks if `request`, its text as JSON, is another than the last one. */
  async see(request: string): Promise<void> {
    if (request === this.#asked) return;
    this.#asked = request;
    try {
      const answer = await this.ask(request);
      if (request !== this.#asked) return;
      this.view = answer;
      this.app.announce(`${answer.words.headline} ${answer.words.detail}`);
    } catch (thrown) {
      if (request !== this.#asked) return;
      const problem = asProblem(thrown);
      // A plan or target that was put away meanwhile: as it stands.
      if (problem.code === "not_found" && (JSON.parse(request) as { stance?: unknown }).stance) this.app.stand(null);
      else this.app.tell(problem);
    }
  }
}

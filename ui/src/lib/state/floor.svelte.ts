// Levelling a floor: one staff reading at each spot, pass by pass.
import type { FloorView } from "../../bindings/FloorView";
import type { Problem } from "../../bindings/Problem";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";

export class FloorState {
  view = $state.raw<FloorView>(null as unknown as FloorView);
  text = $state("");
  problem = $state.raw<Problem | null>(null);
  unsaved = $state.raw<Problem | null>(null);
  taking = $state(false);
  #ask: Ask;
  #request: { place: string; text: string; id: string } | null = null;
  #waiting: ((text: string) => string)[] = [];

  constructor(ask: Ask, view: FloorView) {
    this.#ask = ask;
    this.view = view;
  }

  /** Spots read in the pass now being read, or in the last one. */
  get pass() {
    const number = this.view.next?.pass_no ?? this.view.passes.at(-1)?.pass_no;
    return this.view.passes.find((pass) => pass.pass_no === number) ?? null;
  }

  /** True where at least one spot was read, so that undo has something to take back. */
  get canUndo(): boolean {
    return this.view.passes.some((pass) => pass.spots.some((spot) => spot.text !== null));
  }

  edit(change: (text: string) => string): void {
    if (this.taking) {
      this.#waiting.push(change);
      return;
    }
    this.text = change(this.text);
    this.problem = null;
  }

  async take(): Promise<boolean> {
    const { next } = this.view;
    if (this.taking || !next) return false;
    this.taking = true;
    const { text } = this;
    const place = `${next.pass_no}/${next.point}`;
    if (this.#request?.place !== place || this.#request.text !== text) this.#request = { place, text, id: requestId() };
    try {
      this.view = await this.#ask("take_floor_reading", {
        floor: this.view.floor,
        pass_no: next.pass_no,
        point: next.point,
        text,
        tape: this.view.tape,
        request_id: this.#request.id,
      });
      this.#request = null;
      this.unsaved = null;
      this.text = "";
      return true;
    } catch (thrown) {
      this.#fail(asProblem(thrown));
      return false;
    } finally {
      this.taking = false;
      for (const change of this.#waiting.splice(0)) this.edit(change);
    }
  }

  undo(): Promise<void> {
    return this.#move(() => this.#ask("undo_floor_reading", { floor: this.view.floor }));
  }

  putBack(): Promise<void> {
    return this.#move(() => this.#ask("put_back_floor_reading", { floor: this.view.floor }));
  }

  addPass(): Promise<void> {
    return this.#move(() => this.#ask("add_pass", { floor: this.view.floor }));
  }

  async #move(ask: () => Promise<FloorView>): Promise<void> {
    try {
      this.view = await ask();
      this.problem = null;
      this.unsaved = null;
      this.text = "";
    } catch (thrown) {
      this.#fail(asProblem(thrown));
    }
  }

  #fail(problem: Problem): void {
    if (problem.fields && problem.fields.length > 0) this.problem = problem;
    else this.unsaved = problem;
  }
}

// A ground under a string: the way along it and the height of one station at a time, each on the disk before the next.
import type { GroundView } from "../../bindings/GroundView";
import type { Problem } from "../../bindings/Problem";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";

/** What is typed of a station so far, and after how many. */
export interface HalfStation {
  along: string;
  down: string;
  after: number;
}

export type Part = "along" | "down";

export class GroundState {
  view = $state.raw<GroundView>(null as unknown as GroundView);
  along = $state("");
  down = $state("");
  /** What the keys type into. */
  part = $state<Part>("down");
  problem = $state.raw<Problem | null>(null);
  unsaved = $state.raw<Problem | null>(null);
  taking = $state(false);
  #ask: Ask;
  #request: { typed: string; id: string } | null = null;
  #waiting: ((text: string) => string)[] = [];
  /** True once the person typed the way: the next key no longer begins it anew. */
  #ownWay = false;

  constructor(ask: Ask, view: GroundView) {
    this.#ask = ask;
    this.view = view;
    this.along = view.next_along;
  }

  get text(): string {
    return this[this.part];
  }

  get half(): HalfStation {
    const { along, down, view } = this;
    const begun = down !== "" || along !== view.next_along;
    return begun ? { along, down, after: view.stations.length } : { along: "", down: "", after: -1 };
  }

  /** Goes on with what was half typed; what has been taken since is not typed again. */
  resume({ along, down, after }: HalfStation): void {
    if (after !== this.view.stations.length) return;
    this.along = along;
    this.down = down;
    this.#ownWay = along !== this.view.next_along;
  }

  choose(part: Part): void {
    this.part = part;
  }

  edit(change: (text: string) => string): void {
    if (this.taking) {
      this.#waiting.push(change);
      return;
    }
    // The proposed way is not typed on: the first key begins it anew.
    const fresh = this.part === "along" && !this.#ownWay && this.along === this.view.next_along;
    this[this.part] = change(fresh ? "" : this.text);
    if (this.part === "along") this.#ownWay = true;
    this.problem = null;
  }

  propose(text: string): void {
    const wrong = this.problem?.fields?.[0]?.field;
    if (wrong === "along") this.along = text;
    else this.down = text;
    this.problem = null;
  }

  /** Keeps the station; `between`: it may lie between two that were read. */
  async take(between = false): Promise<boolean> {
    if (this.taking) return false;
    this.taking = true;
    const { along, down } = this;
    const { ground, tape } = this.view;
    const typed = `${along}/${down}/${this.view.stations.length}`;
    if (this.#request?.typed !== typed) this.#request = { typed, id: requestId() };
    try {
      const station = { ground, along, down, tape, between, request_id: this.#request.id };
      this.view = await this.#ask("take_station", station);
      this.#request = null;
      this.#fresh();
      return true;
    } catch (thrown) {
      const problem = asProblem(thrown);
      const field = problem.fields?.[0]?.field;
      if (field) {
        this.problem = problem;
        if (field === "along" || field === "down") this.part = field;
      } else this.unsaved = problem;
      return false;
    } finally {
      this.taking = false;
      for (const change of this.#waiting.splice(0)) this.edit(change);
    }
  }

  undo(): Promise<void> {
    return this.#move(() => this.#ask("undo_station", { ground: this.view.ground }));
  }

  putBack(): Promise<void> {
    return this.#move(() => this.#ask("put_back_station", { ground: this.view.ground }));
  }

  async #move(ask: () => Promise<GroundView>): Promise<void> {
    try {
      this.view = await ask();
      this.#fresh();
    } catch (thrown) {
      this.unsaved = asProblem(thrown);
    }
  }

  #fresh(): void {
    this.along = this.view.next_along;
    this.down = "";
    this.part = "down";
    this.problem = null;
    this.unsaved = null;
    this.#ownWay = false;
  }
}

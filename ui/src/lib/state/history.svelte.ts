// A car's history as far as it has been read: stretches follow each other from the newest on, so that a long one opens at once.
import type { HistoryEntry } from "../../bindings/HistoryEntry";
import type { HistoryPart } from "../../bindings/HistoryPart";
import type { HistoryView } from "../../bindings/HistoryView";
import type { Problem } from "../../bindings/Problem";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";

/** Entries left below the one in sight when the next stretch is asked for. */
export const AHEAD = 20;

export class HistoryState {
  view = $state.raw<HistoryView | null>(null);
  entries = $state.raw<readonly HistoryEntry[]>([]);
  /** The part that is shown; null: everything. */
  only = $state<HistoryPart | null>(null);
  /** The entry that is open. */
  open = $state<string | null>(null);
  problem = $state.raw<Problem | null>(null);
  #busy = false;
  /** Which choice the entries belong to: a stretch that comes late for another one is let go. */
  #choice = 0;

  constructor(
    readonly ask: Ask,
    readonly car: string,
  ) {}

  get more(): boolean {
    return this.view !== null && this.entries.length < this.view.total;
  }

  get opened(): HistoryEntry | null {
    return this.entries.find(({ id }) => id === this.open) ?? null;
  }

  async load(): Promise<void> {
    await this.#stretch(++this.#choice, 0);
  }

  async choose(only: HistoryPart | null): Promise<void> {
    this.only = only;
    await this.load();
  }

  /** The next stretch, once. */
  async further(): Promise<void> {
    if (this.#busy || !this.more) return;
    this.#busy = true;
    await this.#stretch(this.#choice, this.entries.length);
    this.#busy = false;
  }

  /** An entry came near the end of what is there. */
  async near(at: number): Promise<void> {
    if (at >= this.entries.length - AHEAD) await this.further();
  }

  /** All of it, for reading as text and for print. */
  async whole(): Promise<void> {
    for (let last = -1; this.more && this.entries.length > last;) {
      last = this.entries.length;
      await this.further();
    }
  }

  /** Withdraws an entry, or undoes what happened to it last; true once it is done. */
  async after(verb: "withdraw_event" | "bring_back_event", event: string): Promise<boolean> {
    try {
      await this.ask(verb, { car: this.car, event, request_id: requestId() });
      this.problem = null;
    } catch (thrown) {
      this.problem = asProblem(thrown);
      return false;
    }
    const shown = this.entries.length;
    await this.load();
    while (this.more && this.entries.length < shown) await this.further();
    return true;
  }

  async #stretch(choice: number, after: number): Promise<void> {
    try {
      const view = await this.ask("open_history", { car: this.car, only: this.only ? [this.only] : [], after });
      if (choice !== this.#choice) return;
      this.view = view;
      const known = new Set(this.entries.slice(0, after).map(({ id }) => id));
      this.entries = [...this.entries.slice(0, after), ...view.entries.filter(({ id }) => !known.has(id))];
      this.problem = null;
    } catch (thrown) {
      if (choice === this.#choice) this.problem = asProblem(thrown);
    }
  }
}

// Which two stances of a car are compared, how far apart they are drawn, and what the backend says of them.
import type { CompareAsk } from "../../bindings/CompareAsk";
import type { CompareView } from "../../bindings/CompareView";
import type { Problem } from "../../bindings/Problem";
import type { StanceRef } from "../../bindings/StanceRef";
import { asProblem, type Ask } from "../backend/backend";
import type { KeptForms } from "./kept-forms";

/** How far height differences can be drawn apart. */
export const TIMES = [1, 5, 10] as const;
export type Times = (typeof TIMES)[number];

export type Slot = "this" | "other";

/** What is kept of a car's comparison, so that it is there again when one comes back. */
interface Kept {
  this: StanceRef | null;
  other: StanceRef | null;
  kind: string;
  as_loaded: boolean;
  times: Times;
}

const FRESH: Kept = { this: null, other: null, kind: "", as_loaded: false, times: 5 };

export function isSame(a: StanceRef, b: StanceRef): boolean {
  return a.of === b.of && a.id === b.id;
}

export class CompareState {
  view = $state.raw<CompareView | null>(null);
  problem = $state.raw<Problem | null>(null);
  kept = $state.raw<Kept>(FRESH);
  /** The slot whose picker is open. */
  picking = $state<Slot | null>(null);
  /** A day to come, as typed in the picker, and what is wrong with it. */
  day = $state("");
  dayProblem = $state.raw<Problem | null>(null);
  #asked = 0;

  constructor(
    readonly ask: Ask,
    readonly forms: KeptForms,
    readonly car: string,
  ) {
    this.kept = forms.of<Kept>(this.#name, () => FRESH);
    if (!TIMES.includes(this.kept.times)) this.kept = { ...this.kept, times: FRESH.times };
  }

  get #name(): string {
    return `compare ${this.car}`;
  }

  /** What is asked for, also to print. */
  get request(): CompareAsk {
    const { this: first, other, kind, as_loaded, times } = this.kept;
    return { car: this.car, this: first, other, kind, as_loaded, times };
  }

  /** Asks for what is chosen; what is no longer there is let go, and the app chooses. */
  async open(): Promise<void> {
    const mine = ++this.#asked;
    try {
      const view = await this.ask("compare", this.request);
      if (mine === this.#asked) [this.view, this.problem] = [view, null];
    } catch (thrown) {
      if (mine !== this.#asked) return;
      const problem = asProblem(thrown);
      if (["not_found", "no_such_day"].includes(problem.code) && (this.kept.this || this.kept.other)) {
        this.#keep({ this: null, other: null });
        await this.open();
        return;
      }
      this.problem = problem;
    }
  }

  /** Puts a stance into a slot; the one that is there already changes places. */
  async choose(slot: Slot, stance: StanceRef): Promise<void> {
    this.picking = null;
    const shown = this.view?.comparison;
    const now = { this: shown?.this.stance ?? null, other: shown?.other.stance ?? null };
    const beside = slot === "this" ? now.other : now.this;
    const before = slot === "this" ? now.this : now.other;
    const rest = beside && isSame(beside, stance) ? before : beside;
    this.#keep(slot === "this" ? { this: stance, other: rest } : { this: rest, other: stance });
    await this.open();
  }

  /** Puts the day that is typed into a slot, once the app can say how the car will stand then. */
  async chooseDay(slot: Slot): Promise<void> {
    const stance: StanceRef = { of: "forecast", id: this.day };
    const other = this.view?.comparison?.[slot === "this" ? "other" : "this"].stance ?? null;
    try {
      const asked = { ...this.request, this: stance, other: other?.of === "forecast" ? null : other };
      const view = await this.ask("compare", asked);
      // As the app has read it: the same day is then the same stance.
      const read =
        view.comparison && [view.comparison.this, view.comparison.other].find(({ stance }) => stance.of === "forecast");
      this.dayProblem = null;
      this.day = "";
      await this.choose(slot, read?.stance ?? stance);
    } catch (thrown) {
      this.dayProblem = asProblem(thrown);
    }
  }

  async chooseKind(kind: string): Promise<void> {
    this.#keep({ kind });
    await this.open();
  }

  async takeOut(take: boolean): Promise<void> {
    this.#keep({ as_loaded: !take });
    await this.open();
  }

  exaggerate(times: Times): void {
    this.#keep({ times });
  }

  #keep(part: Partial<Kept>): void {
    this.kept = { ...this.kept, ...part };
    this.forms.keep(this.#name, this.kept);
  }
}

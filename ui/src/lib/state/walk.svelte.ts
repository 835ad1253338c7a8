// The walk-around: what is typed, what is kept, what is taken. Every accepted reading waits for the store's word; a key that is
// pressed meanwhile is not lost but goes to the next step.
import type { InstrumentRow } from "../../bindings/InstrumentRow";
import type { LengthRead } from "../../bindings/LengthRead";
import type { Problem } from "../../bindings/Problem";
import type { StepView } from "../../bindings/StepView";
import type { TapeUnit } from "../../bindings/TapeUnit";
import type { WalkOrder } from "../../bindings/WalkOrder";
import type { WalkView } from "../../bindings/WalkView";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";

/** At most this long is a keystroke only in memory, ms. */
export const DRAFT_DELAY_MS = 80;

export class WalkState {
  view = $state.raw<WalkView>(null as unknown as WalkView);
  text = $state("");
  /** What the text means, in the tape's unit and the other one; null while it means nothing. */
  meaning = $state.raw<LengthRead | null>(null);
  /** What is wrong with the text that was to be taken. */
  problem = $state.raw<Problem | null>(null);
  /** Why something could not be saved; takes the main action's place. */
  unsaved = $state.raw<Problem | null>(null);
  /** A take is under way. */
  taking = $state(false);
  /** The tape in hand in place of the snapshot's. */
  otherTape = $state.raw<InstrumentRow | null>(null);
  /** The question after a repeat that differs was answered with "Keep both". */
  settled = $state(false);

  #ask: Ask;
  #line: Promise<unknown> = Promise.resolve();
  #timer: ReturnType<typeof setTimeout> | null = null;
  #kept = "";
  #request: { step: number; text: string; instrument: string | null; id: string } | null = null;
  #waiting: ((text: string) => string)[] = [];

  constructor(ask: Ask, view: WalkView) {
    this.#ask = ask;
    this.#show(view);
  }

  /** The step that the keys write to: the one in question after a repeat that differs, else the present one. */
  get at(): number {
    return this.asking ? (this.view.differs?.step ?? this.view.at) : this.view.at;
  }

  get step(): StepView | null {
    return this.view.steps[this.at] ?? null;
  }

  /** The prompt in place is open. */
  get asking(): boolean {
    return this.view.differs !== null && !this.settled;
  }

  /** Nothing is typed that could be taken. */
  get missing(): boolean {
    return this.text.trim() === "" || this.text === "-";
  }

  /** What a bare number is in: the unit of the tape in hand, which reads all but gauge and level line. */
  get tape(): TapeUnit {
    return (this.#withOther ? this.otherTape?.tape : null) ?? this.view.tape;
  }

  get #withOther(): boolean {
    return this.step !== null && this.step.kind !== "gauge" && this.step.kind !== "plane";
  }

  /** Takes another tape in hand; null: the snapshot's again. What is typed stays, in the new tape's unit. */
  readWith(tape: InstrumentRow | null): void {
    this.otherTape = tape;
    void this.#read();
  }

  get done(): boolean {
    return this.view.at >= this.view.steps.length && !this.asking;
  }

  /** A key: shown at once, kept within [`DRAFT_DELAY_MS`]. */
  edit(change: (text: string) => string): void {
    if (this.taking) {
      this.#waiting.push(change);
      return;
    }
    const text = change(this.text);
    if (text === this.text) return;
    this.text = text;
    this.problem = null;
    this.#timer ??= setTimeout(() => {
      this.#timer = null;
      void this.#keep();
    }, DRAFT_DELAY_MS);
    void this.#read();
  }

  /** Takes what is typed. True once it is on disk. */
  async take(): Promise<boolean> {
    if (this.taking || this.step === null) return false;
    this.taking = true;
    await this.#flush();
    const step = this.at;
    const text = this.text;
    const instrument = (this.#withOther && this.otherTape?.instrument) || null;
    const same = this.#request?.step === step && this.#request.text === text && this.#request.instrument === instrument;
    if (!same || !this.#request) this.#request = { step, text, instrument, id: requestId() };
    // The same text once more after a question about it: the person was asked and means it.
    const insist = this.problem !== null && this.problem.code !== "field_unreadable";
    const request = { snapshot: this.view.snapshot, step, text, insist, instrument, request_id: this.#request.id };
    try {
      const view = await this.#inLine(() => this.#ask("take_reading", request));
      this.#request = null;
      this.unsaved = null;
      this.taking = false;
      this.#show(view);
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
    return this.#move(() => this.#ask("undo_reading", { snapshot: this.view.snapshot }));
  }

  putBack(): Promise<void> {
    return this.#move(() => this.#ask("put_back", { snapshot: this.view.snapshot }));
  }

  goTo(step: number): Promise<void> {
    if (step === this.view.at && !this.asking) return Promise.resolve();
    return this.#move(() => this.#ask("go_to_step", { snapshot: this.view.snapshot, step }));
  }

  /** Strikes the reading of a round at the mark in question; it stays in the book with its reason. */
  async strike(round: number, reason: string): Promise<void> {
    const { step } = this;
    const place = this.view.steps.findIndex(
      (other) =>
        other.ref === step?.ref &&
        other.bounce === step.bounce &&
        other.reversed === step.reversed &&
        other.round === round,
    );
    if (place < 0) return;
    await this.#move(() => this.#ask("strike_reading", { snapshot: this.view.snapshot, step: place, reason }));
  }

  /** Strikes the reading of a step, wherever it is; what is wrong with the reason comes back. */
  async strikeAt(step: number, reason: string): Promise<Problem | null> {
    await this.#flush();
    try {
      this.#show(await this.#inLine(() => this.#ask("strike_reading", { snapshot: this.view.snapshot, step, reason })));
      return null;
    } catch (thrown) {
      return asProblem(thrown);
    }
  }

  /** A struck reading counts again. */
  unstrike(reading: string): Promise<void> {
    return this.#move(() => this.#ask("unstrike_reading", { snapshot: this.view.snapshot, reading }));
  }

  /** Leaves the step out, or all that is left at its corner, until the person comes back. */
  skip(step: number, whole_corner = false): Promise<void> {
    return this.#move(() => this.#ask("skip_step", { snapshot: this.view.snapshot, step, whole_corner }));
  }

  /** Another corner first, or the other way round, or one right after the other; what is read stays read. */
  order(change: Partial<WalkOrder>): Promise<void> {
    return this.#move(() =>
      this.#ask("order_walk", { snapshot: this.view.snapshot, order: { ...this.view.order, ...change } }),
    );
  }

  /** Both repeats stand; on to the next step. */
  async keepBoth(): Promise<void> {
    // A third reading is on its way: it answers the question.
    if (this.taking) return;
    this.settled = true;
    this.problem = null;
    // What was half typed as a third reading is no draft of the next step.
    this.#write("");
    // The store is told, so that it does not ask again after a restart. A key pressed meanwhile is the next step's.
    const { snapshot, at: step } = this.view;
    try {
      this.view = await this.#inLine(() => this.#ask("go_to_step", { snapshot, step }));
      this.settled = false;
    } catch (thrown) {
      this.#fail(asProblem(thrown));
    }
  }

  /** Everything typed is kept before the screen is left. */
  async leave(): Promise<void> {
    await this.#flush();
  }

  /** Tries once more to keep what could not be saved. */
  async again(): Promise<void> {
    this.unsaved = null;
    if (this.#request) await this.take();
    else await this.#keep();
  }

  async #move(ask: () => Promise<WalkView>): Promise<void> {
    await this.#flush();
    // A take that did not come through was for a place that may have moved.
    this.#request = null;
    try {
      this.#show(await this.#inLine(ask));
    } catch (thrown) {
      this.#fail(asProblem(thrown));
    }
  }

  #show(view: WalkView): void {
    this.view = view;
    this.settled = false;
    this.problem = null;
    this.#write(view.draft);
  }

  #write(text: string): void {
    this.text = text;
    this.#kept = text;
    void this.#read();
  }

  #fail(problem: Problem): void {
    if (problem.fields && problem.fields.length > 0) this.problem = problem;
    else this.unsaved = problem;
  }

  async #flush(): Promise<void> {
    if (this.#timer !== null) {
      clearTimeout(this.#timer);
      this.#timer = null;
    }
    if (this.text !== this.#kept) await this.#keep();
    else await this.#line;
  }

  async #keep(): Promise<void> {
    const text = this.text;
    const draft = { snapshot: this.view.snapshot, step: this.at, text };
    this.#kept = text;
    try {
      await this.#inLine(() => this.#ask("keep_draft", draft));
      if (this.#request === null) this.unsaved = null;
    } catch (thrown) {
      this.#kept = "";
      this.unsaved = asProblem(thrown);
    }
  }

  /** One request after the other, in the order they were made, whatever became of the one before. */
  #inLine<T>(ask: () => Promise<T>): Promise<T> {
    const next = this.#line.then(ask, ask);
    this.#line = next.catch(() => undefined);
    return next;
  }

  async #read(): Promise<void> {
    const { text } = this;
    if (text.trim() === "" || this.step?.kind === "gauge") {
      this.meaning = null;
      return;
    }
    try {
      const read = await this.#ask("read_length", { text, tape: this.tape });
      if (text === this.text) this.meaning = read;
    } catch {
      // Half-typed text need not mean anything; the take says what is wrong.
      if (text === this.text) this.meaning = null;
    }
  }
}

// A filled booking sheet that is entered: what is typed in each cell, what is stored, what is wrong beside it, and what looks
// like a slip at the end. Each accepted cell waits for the store's word; half-typed text is kept on the disk meanwhile.
import type { Differs } from "../../bindings/Differs";
import type { FieldProblem } from "../../bindings/FieldProblem";
import type { Problem } from "../../bindings/Problem";
import type { StepView } from "../../bindings/StepView";
import type { WalkView } from "../../bindings/WalkView";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";
import type { KeptForms } from "./kept-forms";

/** What is kept of a sheet beside its readings. */
interface KeptSheet {
  /** Text of each cell that is not stored, by the name of the cell. */
  typed: Record<string, string>;
  /** Questions that were answered with "keep". */
  answered: string[];
}

/** What is wrong with a cell. */
interface Wrong {
  text: string;
  problem: FieldProblem;
  code: string;
}

/** Names a cell, and its text field, whatever its place in the list. */
export const cellName = ({ ref, reversed, bounce, round }: StepView): string =>
  `cell.${bounce}.${round}.${ref}${reversed ? ".turned" : ""}`;

export class SheetState {
  view = $state.raw<WalkView>(null as unknown as WalkView);
  typed = $state.raw<Readonly<Record<string, string>>>({});
  wrong = $state.raw<Readonly<Record<string, Wrong>>>({});
  /** Why something could not be saved. */
  unsaved = $state.raw<Problem | null>(null);
  /** What looked like a slip when the sheet was looked through last; null: not looked through since it changed. */
  slips = $state.raw<readonly Differs[] | null>(null);

  #ask: Ask;
  #forms: KeptForms;
  #name: string;
  #answered: string[];
  #line: Promise<unknown> = Promise.resolve();
  #requests = new Map<string, { text: string; id: string }>();

  constructor(ask: Ask, forms: KeptForms, view: WalkView) {
    this.#ask = ask;
    this.#forms = forms;
    this.#name = `sheet ${view.snapshot}`;
    const kept = forms.of<KeptSheet>(this.#name, () => ({ typed: {}, answered: [] }));
    this.view = view;
    this.#answered = kept.answered;
    // What reached the store just before the app ended is not half typed any more.
    const stored = new Map(view.steps.map((step) => [cellName(step), step.text ?? ""]));
    this.typed = Object.fromEntries(Object.entries(kept.typed).filter(([cell, text]) => stored.get(cell) !== text));
  }

  text(step: StepView): string {
    return this.typed[cellName(step)] ?? step.text ?? "";
  }

  /** What stands in the cell is on the disk as a reading. */
  taken(step: StepView): boolean {
    return step.text !== null && this.text(step) === step.text;
  }

  problem(step: StepView): FieldProblem | null {
    return this.wrong[cellName(step)]?.problem ?? null;
  }

  /** Cells with something typed that is not stored. */
  get open(): number {
    return Object.keys(this.typed).length;
  }

  /** What still looks like a slip and is not answered. */
  get asked(): readonly Differs[] {
    return (this.slips ?? []).filter((slip) => !this.#answered.includes(this.#question(slip)));
  }

  type(step: StepView, text: string): void {
    const cell = cellName(step);
    this.typed = text === (step.text ?? "") ? without(this.typed, cell) : { ...this.typed, [cell]: text };
    if (this.wrong[cell]?.text !== text) {
      const { [cell]: wrong, ...rest } = this.wrong;
      // Asked whether it is meant, the same text once more is the answer: the question stands until it is changed.
      if (wrong) this.wrong = rest;
    }
    this.slips = null;
    this.#keep();
  }

  /** Stores what is typed in a cell, if it is not stored; true once it is, or where nothing was to be stored. */
  async enter(cell: string, meant = false): Promise<boolean> {
    const step = this.#step(cell);
    const text = this.typed[cell];
    if (!step || text === undefined) return true;
    if (text.trim() === (step.text ?? "").trim()) {
      this.#stored(cell, text);
      return true;
    }
    const before = this.wrong[cell];
    const insist = meant && before?.text === text && before.code !== "field_unreadable";
    if (before?.text === text && !insist) return false;
    const known = this.#requests.get(cell);
    const id = known?.text === text ? known.id : requestId();
    this.#requests.set(cell, { text, id });
    const { snapshot } = this.view;
    try {
      const view = await this.#inLine(() =>
        this.#ask("enter_reading", { snapshot, step: this.#place(cell), text, insist, request_id: id }),
      );
      this.#requests.delete(cell);
      this.unsaved = null;
      this.#show(view);
      this.#stored(cell, text);
      return true;
    } catch (thrown) {
      const problem = asProblem(thrown);
      const field = problem.fields?.[0];
      if (!field) this.unsaved = problem;
      else if (this.typed[cell] === text)
        this.wrong = { ...this.wrong, [cell]: { text, problem: field, code: problem.code } };
      return false;
    }
  }

  /** Stores all that is typed, then looks through the sheet; false where a cell cannot be stored. */
  async check(): Promise<boolean> {
    for (const step of this.view.steps) await this.enter(cellName(step));
    if (this.open > 0) return false;
    const { snapshot } = this.view;
    try {
      this.slips = (await this.#inLine(() => this.#ask("check_sheet", { snapshot }))).slips;
      return true;
    } catch (thrown) {
      this.unsaved = asProblem(thrown);
      return false;
    }
  }

  /** The reading in question stands. */
  answer(slip: Differs): void {
    this.#answered = [...this.#answered, this.#question(slip)];
    this.slips = [...(this.slips ?? [])];
    this.#keep();
  }

  /** Strikes the reading of a step and looks through the sheet again; what is wrong with the reason comes back. */
  async strike(at: number, reason: string): Promise<Problem | null> {
    const { snapshot } = this.view;
    try {
      this.#show(await this.#inLine(() => this.#ask("strike_reading", { snapshot, step: at, reason })));
      await this.check();
      return null;
    } catch (thrown) {
      return asProblem(thrown);
    }
  }

  undo(): Promise<void> {
    return this.#move("undo_reading");
  }

  putBack(): Promise<void> {
    return this.#move("put_back");
  }

  async #move(verb: "undo_reading" | "put_back"): Promise<void> {
    const { snapshot } = this.view;
    try {
      this.#show(await this.#inLine(() => this.#ask(verb, { snapshot })));
      this.slips = null;
    } catch (thrown) {
      this.unsaved = asProblem(thrown);
    }
  }

  #show(view: WalkView): void {
    this.view = view;
  }

  #stored(cell: string, text: string): void {
    if (this.typed[cell] === text) this.typed = without(this.typed, cell);
    this.wrong = without(this.wrong, cell);
    this.#keep();
  }

  /** Names a question by the readings it is about: other readings are another question. */
  #question({ step, printed }: Differs): string {
    const of = this.view.steps[step];
    return `${of ? cellName(of) : step} ${printed.join(" ")}`;
  }

  #step(cell: string): StepView | undefined {
    return this.view.steps.find((step) => cellName(step) === cell);
  }

  #place(cell: string): number {
    return this.view.steps.findIndex((step) => cellName(step) === cell);
  }

  #keep(): void {
    this.#forms.keep(this.#name, { typed: this.typed, answered: this.#answered });
  }

  /** One request after the other, in the order they were made, whatever became of the one before. */
  #inLine<T>(ask: () => Promise<T>): Promise<T> {
    const next = this.#line.then(ask, ask);
    this.#line = next.catch(() => undefined);
    return next;
  }
}

function without<T>(all: Readonly<Record<string, T>>, name: string): Record<string, T> {
  return Object.fromEntries(Object.entries(all).filter(([other]) => other !== name));
}

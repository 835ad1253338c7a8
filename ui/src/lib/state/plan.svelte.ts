// The plan of a car as it is typed, what it comes to, and the lists beside it: kept plans, parts, what is left to do.
import type { ChangeForm } from "../../bindings/ChangeForm";
import type { PlanForm } from "../../bindings/PlanForm";
import type { PlansView } from "../../bindings/PlansView";
import type { PlanView } from "../../bindings/PlanView";
import type { Problem } from "../../bindings/Problem";
import { asProblem, type Ask } from "../backend/backend";
import { TIMES, type Times } from "./compare.svelte";
import type { KeptForms } from "./kept-forms";

interface Kept {
  form: PlanForm;
  times: Times;
}

const blank = (car: string): PlanForm => ({
  car,
  plan: null,
  label: "",
  from: "",
  target: "",
  kind: "",
  changes: [],
});

export class PlanState {
  list = $state.raw<PlansView | null>(null);
  view = $state.raw<PlanView | null>(null);
  problem = $state.raw<Problem | null>(null);
  kept = $state.raw<Kept>({ form: blank(""), times: 5 });
  #asked = 0;

  constructor(
    readonly ask: Ask,
    readonly forms: KeptForms,
    readonly car: string,
  ) {
    this.kept = forms.of<Kept>(this.#name, () => ({ form: blank(car), times: 5 }));
    if (!TIMES.includes(this.kept.times)) this.kept = { ...this.kept, times: 5 };
  }

  get #name(): string {
    return `plan ${this.car}`;
  }

  get form(): PlanForm {
    return this.kept.form;
  }

  /** The same plan as it was kept, or null where it was changed since. */
  get asKept(): boolean {
    const own = this.list?.rows.find(({ id }) => id === this.form.plan);
    const told = (form: PlanForm) => JSON.stringify([form.changes, form.from, form.target]);
    return own !== undefined && told(own.form) === told(this.form);
  }

  async open(): Promise<void> {
    await this.take(() => this.ask("open_plans", { car: this.car }));
    if (this.form.target === "" && this.list?.blank.target && this.form.changes.length === 0)
      this.set({ target: this.list.blank.target });
    await this.sketch();
  }

  /** Shows the list that a request answers with; false where it was refused. */
  async take(ask: () => Promise<PlansView>): Promise<boolean> {
    try {
      this.list = await ask();
      return true;
    } catch (thrown) {
      this.problem = asProblem(thrown);
      return false;
    }
  }

  async sketch(): Promise<void> {
    if (this.list?.nothing) return;
    const mine = ++this.#asked;
    try {
      const view = await this.ask("sketch_plan", this.form);
      if (mine === this.#asked) [this.view, this.problem] = [view, null];
    } catch (thrown) {
      if (mine === this.#asked) this.problem = asProblem(thrown);
    }
  }

  set(part: Partial<PlanForm>): void {
    this.#keep({ form: { ...this.form, ...part } });
  }

  async change(part: Partial<PlanForm>): Promise<void> {
    this.set(part);
    await this.sketch();
  }

  /** Another plan takes this one's place on the screen. */
  async show(form: PlanForm): Promise<void> {
    await this.change(structuredClone(form));
  }

  async put(at: number, change: ChangeForm): Promise<void> {
    const changes = [...this.form.changes];
    changes[at] = change;
    await this.change({ changes });
  }

  async toggle(at: number): Promise<void> {
    const change = this.form.changes[at];
    if (change) await this.put(at, { ...change, left_out: !change.left_out });
  }

  async leaveOut(at: number): Promise<void> {
    await this.change({ changes: this.form.changes.filter((_, i) => i !== at) });
  }

  exaggerate(times: Times): void {
    this.#keep({ times });
  }

  #keep(part: Partial<Kept>): void {
    this.kept = { ...this.kept, ...part };
    this.forms.keep(this.#name, this.kept);
  }
}

/** The next exaggeration after this one. */
export function nextTimes(times: Times): Times {
  return TIMES[(TIMES.indexOf(times) + 1) % TIMES.length] ?? 5;
}

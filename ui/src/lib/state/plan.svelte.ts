// The plan of a car as it is typed, what it comes to, and the lists beside it: kept plans, parts, what is left to do.
import type { ChangeForm } from "../../bindings/ChangeForm";
import type { PlanDraft } from "../../bindings/PlanDraft";
import type { PlanForm } from "../../bindings/PlanForm";
import type { PlansView } from "../../bindings/PlansView";
import type { PlanView } from "../../bindings/PlanView";
import type { Problem } from "../../bindings/Problem";
import type { StanceRef } from "../../bindings/StanceRef";
import { asProblem, type Ask } from "../backend/backend";
import { TIMES, type Times } from "./compare.svelte";
import type { KeptForms } from "./kept-forms";

/** What was taken out last, to be put back: one change and its place, or the whole plan that another took the place of. */
interface Aside {
  label: string;
  done: string;
  change?: { at: number; change: ChangeForm };
  form?: PlanForm;
}

/** As the backend reads it too: see `PlanDraft`. */
interface Kept extends PlanDraft {
  times: Times;
  aside: Aside | null;
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
  kept = $state.raw<Kept>({ form: blank(""), times: 5, aside: null });
  #asked = 0;

  constructor(
    readonly ask: Ask,
    readonly forms: KeptForms,
    readonly car: string,
  ) {
    this.kept = forms.of<Kept>(this.#name, () => ({ form: blank(car), times: 5, aside: null }));
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

  /** The stance that it makes, for every page that can stand on one. */
  get stance(): StanceRef {
    return { of: "planned", id: this.asKept ? (this.form.plan ?? "") : "" };
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

  /** Another plan takes this one's place on the screen; this one can be put back where it is not kept as it stands. */
  async show(form: PlanForm): Promise<void> {
    this.replace(form);
    await this.sketch();
  }

  replace(form: PlanForm): void {
    const lost = this.form.changes.length > 0 && !this.asKept && form.plan !== this.form.plan;
    const aside = lost ? this.#setAside() : this.kept.aside;
    this.#keep({ form: { ...this.form, ...structuredClone(form) }, aside });
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

  /** Takes a change out; it can be put back, also after a restart. */
  takeOut(at: number, label: string): void {
    const change = this.form.changes[at];
    if (!change) return;
    const changes = this.form.changes.filter((_, i) => i !== at);
    this.#keep({ form: { ...this.form, changes }, aside: { label, done: "is taken out.", change: { at, change } } });
  }

  async putBack(): Promise<void> {
    const { aside, form } = this.kept;
    if (!aside) return;
    if (aside.change) {
      const { at, change } = aside.change;
      const changes = [...form.changes.slice(0, at), change, ...form.changes.slice(at)];
      this.#keep({ form: { ...form, changes }, aside: null });
    } else if (aside.form) {
      this.#keep({ form: aside.form, aside: form.changes.length > 0 && !this.asKept ? this.#setAside() : null });
    }
    await this.sketch();
  }

  #setAside(): Aside {
    return { label: this.form.label || "The plan before", done: "is set aside.", form: this.form };
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

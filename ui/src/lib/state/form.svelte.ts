// A form: typed text is kept whatever happens, and each problem stands beside its field until that field is changed.
import { capital } from "../format";
import type { FieldProblem } from "../../bindings/FieldProblem";
import type { Problem } from "../../bindings/Problem";
import { asProblem } from "../backend/backend";

export class FormProblems {
  /** What is wrong, field by field, as the backend last said. */
  fields = $state.raw<readonly FieldProblem[]>([]);
  /** What is wrong with the form as a whole. */
  whole = $state.raw<Problem | null>(null);
  sending = $state(false);

  of(path: string): FieldProblem | null {
    return this.fields.find(({ field }) => field === path) ?? null;
  }

  /** A changed field is no longer wrong until the backend says so again. */
  changed(path: string): void {
    if (this.of(path)) this.fields = this.fields.filter(({ field }) => field !== path);
  }

  /** What was wrong with a whole part of the form is asked anew. */
  forget(path: string): void {
    this.fields = this.fields.filter(({ field }) => !field.startsWith(path));
  }

  /** Sends the form; null where it was refused, with the problems set. */
  async send<T>(ask: () => Promise<T>): Promise<T | null> {
    if (this.sending) return null;
    this.sending = true;
    try {
      const reply = await ask();
      this.fields = [];
      this.whole = null;
      return reply;
    } catch (thrown) {
      const problem = asProblem(thrown);
      this.fields = problem.fields ?? [];
      this.whole = problem;
      return null;
    } finally {
      this.sending = false;
    }
  }

  /** How many fields are wrong, for the key that keeps the form; empty where none is. */
  get counted(): string {
    const count = this.fields.length;
    if (count === 0) return "";
    return count === 1 ? "one field cannot be read" : `${count} fields cannot be read`;
  }

  /** One sentence for a screen reader: how many fields, and the first of them. */
  get spoken(): string {
    const [first] = this.fields;
    if (!first) return this.whole ? `${this.whole.sentence} ${this.whole.hint}` : "";
    return `${capital(this.counted)}. ${first.sentence}`;
  }
}

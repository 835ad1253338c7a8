// Forms half filled in: kept in memory at once, and on the disk shortly after, so that nothing typed is lost by leaving or a
// restart. One request after the other, so that the last text typed is the one that stays.
import type { Ask } from "../backend/backend";

/** At most this long is a change of a form only in memory, ms. */
export const FORM_DELAY_MS = 120;

export class KeptForms {
  #ask: Ask;
  #fail: (thrown: unknown) => void;
  #forms = new Map<string, unknown>();
  /** Each form that was opened, as it was before anything was typed. */
  #fresh = new Map<string, string>();
  /** Text on the disk, or on its way there. */
  #saved = new Map<string, string>();
  #timers = new Map<string, ReturnType<typeof setTimeout>>();
  #line: Promise<unknown> = Promise.resolve();

  constructor(ask: Ask, fail: (thrown: unknown) => void) {
    this.#ask = ask;
    this.#fail = fail;
  }

  /** Reads what the disk has, once, when the app is opened. */
  async open(): Promise<void> {
    const { forms } = await this.#ask("kept_forms", {});
    for (const [name, text] of Object.entries(forms)) {
      this.#saved.set(name, text);
      try {
        this.#forms.set(name, JSON.parse(text));
      } catch {
        // Not written by this app: the form begins fresh.
      }
    }
  }

  /** A form as it was left, or `fresh` where there was none. What a newer form has more stays fresh. */
  of<T>(name: string, fresh: () => T): T {
    const kept = this.#forms.get(name);
    const whole = fresh();
    this.#fresh.set(name, JSON.stringify(whole));
    if (kept === undefined || kept === null || typeof kept !== "object") return whole;
    return typeof whole === "object" ? ({ ...whole, ...structuredClone(kept) } as T) : (kept as T);
  }

  /** Changes a part of a form that was opened, from another screen. */
  amend<T extends object>(name: string, change: (form: Partial<T>) => Partial<T>): void {
    const fresh = this.#fresh.get(name);
    if (fresh === undefined) return;
    const form = { ...JSON.parse(fresh), ...(this.#forms.get(name) ?? {}) } as Partial<T>;
    this.keep(name, { ...form, ...change(form) });
  }

  keep(name: string, form: unknown): void {
    // Nothing was typed: there is nothing to keep.
    if (JSON.stringify(form) === this.#fresh.get(name)) {
      this.#let(name);
      return;
    }
    this.#forms.set(name, form);
    if (this.#timers.has(name)) return;
    this.#timers.set(
      name,
      setTimeout(() => {
        this.#timers.delete(name);
        this.#save(name);
      }, FORM_DELAY_MS),
    );
  }

  /** Once everything that was typed so far is on the disk. */
  async written(): Promise<void> {
    for (const [name, timer] of this.#timers) {
      clearTimeout(timer);
      this.#timers.delete(name);
      this.#save(name);
    }
    await this.#line;
  }

  /** The form is done with. */
  done(name: string): void {
    this.#let(name);
    this.#fresh.delete(name);
  }

  #let(name: string): void {
    clearTimeout(this.#timers.get(name));
    this.#timers.delete(name);
    this.#forms.delete(name);
    if (this.#saved.delete(name)) this.#send(name, null);
  }

  #save(name: string): void {
    const text = JSON.stringify(this.#forms.get(name));
    if (this.#saved.get(name) === text) return;
    this.#saved.set(name, text);
    this.#send(name, text);
  }

  #send(name: string, text: string | null): void {
    this.#line = this.#line.then(() => this.#ask("keep_form", { name, text })).catch(this.#fail);
  }
}

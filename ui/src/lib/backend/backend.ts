// Asks the backend, typed by verb. Whatever goes wrong arrives as a Problem: what, where, and what to do next.
import type { Problem } from "../../bindings/Problem";
import type { Reply, Request, Verb } from "./verbs";

export type Ask = <V extends Verb>(verb: V, request: Request<V>) => Promise<Reply<V>>;

/** Carries a verb to the shell. */
export type Carrier = (verb: string, request: unknown) => Promise<unknown>;

/** A typed `ask` over a carrier; everything it throws is a [`Problem`]. */
export function backend(carry: Carrier): Ask {
  return async (verb, request) => {
    try {
      return (await carry(verb, request)) as Reply<typeof verb>;
    } catch (thrown) {
      throw asProblem(thrown);
    }
  };
}

/** What was thrown, as a Problem: the shell's own, or one that says that the shell did not answer. */
export function asProblem(thrown: unknown): Problem {
  if (isProblem(thrown)) return thrown;
  const said = thrown instanceof Error ? thrown.message : String(thrown);
  return {
    code: "no_answer",
    sentence: `The app's own store did not answer: ${said.slice(0, 200)}`,
    hint: "What you typed is still here. Close the app and open it again.",
  };
}

function isProblem(thrown: unknown): thrown is Problem {
  if (typeof thrown !== "object" || thrown === null) return false;
  const { code, sentence, hint } = thrown as Record<string, unknown>;
  return typeof code === "string" && typeof sentence === "string" && typeof hint === "string";
}

// Where "read next" leads: each of the core's verbs to the screen that carries it out.
import type { NextView } from "../../bindings/NextView";
import type { AppState } from "./app.svelte";

/** Whether a reading would change what is printed. */
export function helps({ gain }: NextView): boolean {
  return gain.includes("becomes") || gain.startsWith("then");
}

export function goNext(app: AppState, what: string, floor: string | null): void {
  if (what === "turn_car") app.go({ at: "begin", turned: true });
  else if (what.startsWith("survey")) app.go(floor === null ? { at: "floors" } : { at: "floor", floor });
  else app.go({ at: "begin", turned: false });
}

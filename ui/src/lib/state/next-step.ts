// Where "read next" leads: each of the core's verbs to the screen that carries it out.
import type { AppState } from "./app.svelte";

/** Goes there; false where nothing on a screen does it yet, and the words alone must do. */
export function goNext(app: AppState, what: string, floor: string | null): boolean {
  if (what === "turn_car") app.go({ at: "begin", turned: true });
  else if (what.startsWith("survey")) app.go(floor === null ? { at: "floors" } : { at: "floor", floor });
  else app.go({ at: "begin", turned: false });
  return true;
}

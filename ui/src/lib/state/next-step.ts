// Where "read next" leads: each of the core's verbs to the screen that carries it out.
import type { NextView } from "../../bindings/NextView";
import type { AppState } from "./app.svelte";

/** Whether a reading would change what is printed. */
export function helps({ gain }: NextView): boolean {
  return gain.includes("becomes") || gain.startsWith("then");
}

/** Whether a screen of this app carries it out; the rest stands there in words. */
export function canDo({ what }: NextView): boolean {
  return ["survey_spots", "survey_pass", "turn_car", "another_bounce", "level_rails"].includes(what);
}

/** Goes to the screen that carries it out. */
export function goNext(app: AppState, what: string, floor: string | null): void {
  if (what === "turn_car") app.go({ at: "begin", turned: true });
  else if (what.startsWith("survey")) app.go(floor === null ? { at: "floors" } : { at: "floor", floor });
  else app.go({ at: "begin", turned: false });
}

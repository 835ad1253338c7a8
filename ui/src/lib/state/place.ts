// Where the person was, kept on the disk: however the app ended, it opens there again, on the same car and at the same question.
import type { Screen } from "./screen";

/** A screen on which something may be half done, and the car it belongs to; null where none was open. */
export interface Place {
  car: string | null;
  screen: Screen;
}

/** What was recovered with a screen; absent where nothing can be half done. A walk says it in its own book. */
export function recovered(screen: Screen): string | null {
  switch (screen.at) {
    case "floor":
    case "ground":
      return "Go on where you were.";
    case "car_form":
    case "under_form":
    case "begin":
    case "condition":
    case "floor_form":
    case "ground_form":
    case "instrument_form":
    case "target_form":
    case "measured_form":
    case "book":
    case "event_form":
    case "mechanism_form":
    case "change_form":
    case "part_form":
      return "What you typed is where you typed it.";
    default:
      return null;
  }
}

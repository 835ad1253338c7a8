// The steps that are read in one go, and what of them is read at each corner.
import type { Corner } from "../../bindings/Corner";
import type { StepView } from "../../bindings/StepView";

/** A step with its place in the walk. */
export interface Placed {
  of: StepView;
  at: number;
}

/** What is read in one go: round the car with the tape, with the gauge, or from the level line. */
const part = (of: StepView) => (of.kind === "gauge" || of.kind === "plane" ? of.kind : "tape");

export function roundOf(steps: readonly StepView[], step: StepView | null): Placed[] {
  if (step === null) return [];
  return steps
    .map((of, at) => ({ of, at }))
    .filter(({ of }) => of.bounce === step.bounce && of.round === step.round && part(of) === part(step));
}

/** The divisions of the rule that shows how far the round is. */
export function divisionsOf(round: readonly Placed[], now: number) {
  return round.map(({ of, at }, i) => ({
    read: of.text !== null,
    skipped: of.skipped,
    now: at === now,
    first: i === 0 || round[i - 1]?.of.corner !== of.corner,
  }));
}

export function cornersDone(round: readonly Placed[]): Record<Corner, "read" | "skipped" | "open"> {
  const all = (corner: Corner) => {
    const mine = round.filter(({ of }) => of.corner === corner);
    if (mine.length === 0 || mine.some(({ of }) => of.text === null && !of.skipped)) return "open";
    return mine.some(({ of }) => of.skipped) ? "skipped" : "read";
  };
  return { FL: all("FL"), FR: all("FR"), RL: all("RL"), RR: all("RR") };
}

/** Where a tap on a corner goes: what is open there, else what was skipped, else its first. */
export function placeAt(round: readonly Placed[], corner: Corner): number | undefined {
  const mine = round.filter(({ of }) => of.corner === corner);
  const open = mine.find(({ of }) => of.text === null && !of.skipped);
  return (open ?? mine.find(({ of }) => of.skipped) ?? mine[0])?.at;
}

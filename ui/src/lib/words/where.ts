// Where the person is, in the words that stand largest on the walk-around.
import type { StepView } from "../../bindings/StepView";
import type { WalkView } from "../../bindings/WalkView";
import { acrossFrame, CORNER, isFront, isLeft } from "./corner";

export interface Where {
  /** "front right", "left rail" */
  place: string;
  /** "frame rail"; empty for a gauge. */
  point: string;
  /** "round 2 of 3, bounce 1 of 2" */
  round: string;
}

const of = (number: number, all: number) => (all > 1 && number <= all ? `${number} of ${all}` : `${number}`);

export function whereIs(step: StepView, view: Pick<WalkView, "rounds" | "bounces">): Where {
  const bounce = `bounce ${of(step.bounce, view.bounces)}`;
  switch (step.kind) {
    case "gauge": {
      const across = isFront(step.corner) ? "across the front" : "across the rear";
      const along = isLeft(step.corner) ? "left rail" : "right rail";
      const round = `gauge ${step.reversed ? "turned" : "straight"}, ${bounce}`;
      return { place: acrossFrame(step) ? across : along, point: "", round };
    }
    case "plane":
      return { place: CORNER[step.corner], point: step.plain, round: `level line, ${bounce}` };
    default:
      return {
        place: CORNER[step.corner],
        point: step.plain,
        round: `round ${of(step.round, view.rounds)}, ${bounce}`,
      };
  }
}

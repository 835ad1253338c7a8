// What is said before a step that can hurt: a question or a thing to do, why, and the key that states the fact. Short.
import type { SlopeView } from "../../bindings/SlopeView";

export type SafetyStep = "chocks" | "bounce" | "under" | "stands";

export interface SafetyWords {
  title: string;
  under: string;
  question: string;
  says: readonly string[];
  key: string;
}

export function safetyWords(step: SafetyStep, slope: SlopeView | null, bounce: number, of: number): SafetyWords {
  switch (step) {
    case "chocks":
      return {
        title: "Before you start",
        under: "rolling and bouncing",
        question: "Can it roll away?",
        says: [
          slope === null
            ? "On more than about 5 % do not roll the car alone."
            : slope.steep
              ? `${slope.sentence} Do not roll the car alone.`
              : slope.sentence,
          "Chock the wheels before brake and gear are released, the low side first. Chocks in again while you read.",
        ],
        key: "The chocks are at hand",
      };
    case "bounce":
      return {
        title: `Bounce ${bounce}${of > 1 ? ` of ${of}` : ""}`,
        under: "roll it, bounce it, leave it alone",
        question: "Roll one length and back, bounce each end three times.",
        says: [
          "Keep fingers out of the gap while it moves. Exhaust and fan may be hot or turning.",
          "Then let it come to rest by itself, not pulled up or pushed down.",
        ],
        key: "Rolled and bounced",
      };
    case "under":
      return {
        title: "Under the car",
        under: "points under the car",
        question: "Wheels on the ground?",
        says: [
          "Never put any part of you under a car held by a jack. On a jack these are not ride heights: they are not stored.",
          "Phone on the ground, not in the hand, while you reach under.",
        ],
        key: "Wheels are on the ground",
      };
    case "stands":
      return {
        title: "Mock-up",
        under: "not a ride height",
        question: "On rated stands?",
        says: [
          "On rated stands on solid floor, wide and level. Never put any part of you under a car held by a jack.",
          "Phone on the ground, not in the hand, while you reach under.",
        ],
        key: "It stands on rated stands",
      };
  }
}

// What is said before a step that can hurt: a question or a thing to do, why, and the key that states the fact. Short.
import type { SlopeView } from "../../bindings/SlopeView";

export type SafetyStep =
  | "chocks"
  | "bounce"
  | "under"
  | "stands"
  | "gap"
  | "jack"
  | "straps"
  | "packs"
  | "leaves"
  | "coil"
  | "frame"
  | "radiator";

export interface SafetyWords {
  title: string;
  under: string;
  question: string;
  says: readonly string[];
  key: string;
  /** The other way of being sure, where there is one. */
  second?: string;
}

const JACK = "Never put any part of you under a car held by a jack.";
const PHONE = "Phone on the ground, not in the hand, while you reach under.";
const AFTER = "Before driving look at brake lines, steering lock to lock, tire to fender and frame, and bump travel.";

/** Before a part is measured or worked on away from a walk-around. */
export function workWords(step: SafetyStep, of: string): SafetyWords {
  switch (step) {
    case "gap":
      return {
        title: of,
        under: "fingers between tire and steel",
        question: "Can anything move?",
        says: ["Engine off, wheels chocked: fingers out of the gap before anything moves."],
        key: "Engine off, wheels chocked",
      };
    case "stands":
      return {
        title: of,
        under: "under the car",
        question: "On rated stands?",
        says: [`On rated stands on solid floor, wide and level. ${JACK}`, PHONE],
        key: "It stands on rated stands",
      };
    case "jack":
      return {
        title: of,
        under: "lifting",
        question: "What will hold it?",
        says: [`A jack lifts, rated stands hold. ${JACK}`, "Solid floor, the wheels that stay down chocked."],
        key: "Stands and chocks are at hand",
      };
    case "straps":
      return {
        title: of,
        under: "tied down",
        question: "Do they carry the car?",
        says: ["Straps carry the whole car: rated ones, at points that are made for them."],
        key: "Rated straps, at their points",
      };
    case "packs":
      return {
        title: of,
        under: "springs under load",
        question: "Wheels on the ground?",
        says: [
          `Measure the pack in place. On the ground or on rated stands on solid floor. ${JACK}`,
          "Clamped leaves hold energy: centre bolt out only with clamps.",
        ],
        key: "Wheels are on the ground",
        second: "It stands on rated stands",
      };
    case "leaves":
      return {
        title: of,
        under: "springs under load",
        question: "Leaves in clamps?",
        says: [
          "Clamped leaves hold energy: centre bolt out only with clamps. Do not heat, torch or weld spring steel.",
          AFTER,
        ],
        key: "Clamps first, and no heat",
      };
    case "coil":
      return {
        title: of,
        under: "springs under load",
        question: "Coil in clamps?",
        says: ["A squeezed coil holds energy: use clamps made for it. Never heat one.", AFTER],
        key: "Clamps made for it",
      };
    case "frame":
      return {
        title: of,
        under: "cutting and welding",
        question: "Who cuts and welds?",
        says: ["Structural and steering work belongs to a qualified person; local codes may require approval.", AFTER],
        key: "A qualified person does",
      };
    case "radiator":
      return {
        title: of,
        under: "hot and under pressure",
        question: "Has it cooled?",
        says: ["A hot radiator is under pressure: let it cool before it is opened."],
        key: "It is cold",
      };
    default:
      return {
        title: of,
        under: "under the car",
        question: "Wheels on the ground?",
        says: [`On the ground or on rated stands on solid floor. ${JACK}`, PHONE],
        key: "Wheels are on the ground",
        second: "It stands on rated stands",
      };
  }
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
        says: [`${JACK} On a jack these are not ride heights: they are not stored.`, PHONE],
        key: "Wheels are on the ground",
      };
    case "stands":
      return {
        title: "Mock-up",
        under: "not a ride height",
        question: "On rated stands?",
        says: [`On rated stands on solid floor, wide and level. ${JACK}`, PHONE],
        key: "It stands on rated stands",
      };
    default:
      return workWords(step, "Before you start");
  }
}

// What is asked about safety before the present step, once a visit; before a bounce, that the car was rolled and bounced.
import type { StepView } from "../../bindings/StepView";
import type { WalkView } from "../../bindings/WalkView";
import type { SafetyStep } from "../words/safety";
import type { AppState } from "./app.svelte";

const bounceKey = (view: WalkView, step: StepView | null) => `${view.snapshot} ${step?.bounce ?? 0}`;

export function safetyStep(app: AppState, view: WalkView, step: StepView | null): SafetyStep | null {
  if (view.mock_up) return app.safety.has("stands") ? null : "stands";
  if (!app.safety.has("chocks")) return "chocks";
  const begun = view.steps.some(({ bounce, text }) => bounce === step?.bounce && text !== null);
  if (step !== null && !begun && !app.bounced.includes(bounceKey(view, step))) return "bounce";
  const under = step !== null && /^(rail|perch|frame_)/.test(step.ref);
  return under && !app.safety.has("under") ? "under" : null;
}

/** The person said so. */
export function said(app: AppState, view: WalkView, step: StepView | null, asked: SafetyStep): void {
  if (asked === "bounce") app.bounced = [...app.bounced, bounceKey(view, step)];
  else app.isSafe(asked);
}

import { expect, test, vi } from "vitest";
import type { TargetForm } from "../../bindings/TargetForm";
import type { Ask } from "../backend/backend";
import { OneTarget } from "./target.svelte";

const FORM: TargetForm = {
  car: "c",
  target: null,
  label: "low",
  way: "typed",
  tape: "mm",
  heights: {},
  snapshot: "",
  kind: "frame_rail",
  end: "front",
  height: "",
  rake: "",
  tire_front: "",
  tire_rear: "",
  lowest_rail: "",
  tolerance: "",
  tolerances: {},
  rake_tolerance: "",
  side_to_side: "",
  limits: [],
  note: "",
};

const refused = (...fields: string[]) => ({
  code: "field_unreadable",
  sentence: "",
  hint: "",
  fields: fields.map((field) => ({ field, typed: "", sentence: "No.", hint: "", proposals: [] })),
});

test("a field that is changed is no longer wrong, its neighbours stay so", async () => {
  const one = new OneTarget(structuredClone(FORM), vi.fn() as unknown as Ask);
  await one.problems.send(() => Promise.reject(refused("heights.rail.FL", "heights.rail.FR", "limits.0.lowest")));
  one.height("rail.FL", "246");
  expect(one.typed.heights).toEqual({ "rail.FL": "246" });
  expect(one.problems.fields.map(({ field }) => field)).toEqual(["heights.rail.FR", "limits.0.lowest"]);
});

test("a limit of single points stays one until its kind or end is chosen anew", () => {
  const limit = {
    kind: "frame_rail" as const,
    end: null,
    points: ["rail.FL"],
    lowest: "110",
    highest: "",
    rule: "own" as const,
    says: "",
  };
  const one = new OneTarget({ ...structuredClone(FORM), limits: [limit] }, vi.fn() as unknown as Ask);
  one.limit(0, { lowest: "112" });
  expect(one.typed.limits[0]?.points).toEqual(["rail.FL"]);
  one.limit(0, { end: "rear" });
  expect(one.typed.limits[0]).toMatchObject({ points: [], end: "rear", lowest: "112" });
  one.leaveLimitOut(0);
  expect(one.typed.limits).toEqual([]);
});

test("the picture follows the last text typed only", () => {
  vi.useFakeTimers();
  const ask = vi.fn(() => Promise.resolve(null));
  const one = new OneTarget(structuredClone(FORM), ask as unknown as Ask);
  const takeBack = one.draw({ ...FORM, rake: "1" });
  takeBack();
  one.draw({ ...FORM, rake: "1.5" });
  vi.runAllTimers();
  expect(ask.mock.calls).toEqual([["sketch_target", { ...FORM, rake: "1.5" }]]);
  vi.useRealTimers();
});

// An outline ends where the tape says the car ends, and its wheel openings stay where the wheels are.
import { describe, expect, it } from "vitest";
import { COUPE, ROADSTER } from "../../../tests/fixtures/views";
import { alongOf, readAt, topOf, upOf } from "./fitted";
import { planShapes } from "./plan";

describe("an outline fitted to the car", () => {
  it("ends at the measured overhangs", () => {
    // The coupe's drawn nose is 296 and its tail 330 thousandths of the 2790 mm between its axles.
    const side = { ...COUPE, wheelbase_mm: 2790, overhang_front_mm: 930, overhang_rear_mm: 1200 };
    const along = alongOf(side);
    expect((along(-296) * 2790) / 1000).toBeCloseTo(-930, 6);
    expect(((along(1330) - 1000) * 2790) / 1000).toBeCloseTo(1200, 6);
    for (const s of [-139, 0, 139, 500, 861, 1000, 1139]) expect(along(s)).toBe(s);
    expect(planShapes(side, 1).nose).toBeCloseTo(-930, 0);
  });

  it("has its roof and its hood at the measured heights over the rails", () => {
    const side = { ...COUPE, wheelbase_mm: 2790, roof_over_rail_mm: 1000, hood_over_rail_mm: 560 };
    const { roof, hood } = readAt(side);
    expect((roof[1] * 2790) / 1000).toBeCloseTo(1000, 6);
    expect((hood[1] * 2790) / 1000).toBeCloseTo(560, 6);
    expect(upOf(side)(14)).toBe(14);
  });

  it("stays as it is drawn where nothing was measured, and is never stretched out of its kind", () => {
    expect([alongOf(ROADSTER)(-34), alongOf(ROADSTER)(1188), topOf(ROADSTER)]).toEqual([-34, 1188, 372]);
    const silly = { ...COUPE, overhang_front_mm: 4000, roof_over_rail_mm: 4000 };
    expect(alongOf(silly)(-296)).toBeGreaterThan(-139 - 2.7 * 157);
    expect(topOf(silly)).toBeLessThan(60 + 2.7 * 271);
  });
});

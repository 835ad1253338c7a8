// Height differences drawn apart, and nothing else: checked against lengths worked out by hand.
import { describe, expect, it } from "vitest";
import { AGAINST_TARGET, raised } from "../../../tests/fixtures/compare";
import { COUPE, ROADSTER, SIDES } from "../../../tests/fixtures/views";
import { gaugeScale } from "./gauge";
import { besideLeaders, overlaid, roomPx } from "./overlay";
import { fit, sideShapes, ticks } from "./side";

const TARGET = raised(ROADSTER, -20, -1);
const scale = fit(ROADSTER, 390, 16, 200);
const marks = (times: number) => {
  const both = overlaid(ROADSTER, TARGET, times);
  return { now: sideShapes(both.figure, scale).marks, target: sideShapes(both.over, scale).marks };
};

describe("heights drawn apart", () => {
  it("are true at ×1, and five and ten times as far apart at ×5 and ×10", () => {
    for (const times of [1, 5, 10]) {
      const { now, target } = marks(times);
      // 20 mm in front and 1 mm behind, times the exaggeration, at 390 − 32 px over the car's length.
      expect((target[0][1] - now[0][1]) / scale.k).toBeCloseTo(20 * times, 0);
      expect((target[1][1] - now[1][1]) / scale.k).toBeCloseTo(times, 0);
    }
  });

  it("leave every length, the wheels and the ground where they are", () => {
    const alone = sideShapes(ROADSTER, scale);
    for (const times of [1, 5, 10]) {
      const both = overlaid(ROADSTER, TARGET, times);
      for (const side of [both.figure, both.over]) {
        const shapes = sideShapes(side, scale);
        expect(shapes.wheels).toEqual(alone.wheels);
        expect(shapes.marks.map(([x]) => x)).toEqual(alone.marks.map(([x]) => x));
        expect(shapes.rail.map(([x]) => x)).toEqual(alone.rail.map(([x]) => x));
        const [own, drawn] = [alone.body, shapes.body].map((path) => path.match(/-?\d+(\.\d+)?/g)?.map(Number) ?? []);
        // Every second number of a path is a height; the others are lengths, but for the curve's own steps along them.
        expect(drawn?.length).toBe(own?.length);
        const ends = (all: number[] | undefined) => {
          const along = (all ?? []).filter((_, i) => i % 2 === 0);
          return [Math.min(...along), Math.max(...along)].map(Math.round);
        };
        expect(ends(drawn)).toEqual(ends(own));
      }
      expect(ticks(390, fit(both.figure, 390, 16, 200))).toEqual(ticks(390, scale));
    }
  });

  it("draw the car itself true, unless the other would run through the ground: then the car goes up and the other is true", () => {
    const near = overlaid(ROADSTER, TARGET, 5);
    expect(near.figure).toEqual(ROADSTER);
    // 40 mm lower times 10 would be 400 mm under rails at 266 mm.
    const low = raised(ROADSTER, -40, -40);
    const far = overlaid(ROADSTER, low, 10);
    expect(far.over.front_mm.value).toBeCloseTo(226, 9);
    expect((far.figure.front_mm.value ?? 0) - (far.over.front_mm.value ?? 0)).toBeCloseTo(400, 9);
    expect(far.figure.front_wheel).toEqual(ROADSTER.front_wheel);
  });

  it("never say other numbers than the true ones", () => {
    expect(AGAINST_TARGET.front.number).toBe("20");
    expect(AGAINST_TARGET.overlay?.over.front_mm.value).toBe(246);
  });

  it("keep the ground line in its place: the room over it is the same for every exaggeration", () => {
    const room = roomPx(COUPE, raised(COUPE, 30, 30), scale, [1, 5, 10]);
    const alone = roomPx(COUPE, COUPE, scale, [1]);
    expect(room).toBeGreaterThan(alone);
    expect(room).toBeLessThanOrEqual(alone * 1.34);
  });

  it("are finite for every outline", () => {
    for (const side of Object.values(SIDES)) {
      const { over, figure } = overlaid(side, raised(side, -25, 14), 10);
      for (const drawn of [over, figure]) {
        const shapes = sideShapes(drawn, fit(drawn, 320, 12, 180));
        expect(shapes.frame + shapes.body + shapes.fender).not.toMatch(/NaN|Infinity|undefined/);
      }
    }
  });
});

describe("words beside the leaders", () => {
  it("stand to the right, turn inward at the edge, and take a second line where both have no room", () => {
    expect(besideLeaders([80, 240], [120, 120], 390)).toEqual([
      { x: 89, line: 0 },
      { x: 249, line: 0 },
    ]);
    // 350 + 9 + 120 would leave a window of 390: it turns to 350 − 9 − 120.
    expect(besideLeaders([80, 350], [120, 120], 390)[1]).toEqual({ x: 221, line: 0 });
    // 256 + 9 + 120 = 385 lies within the window and yet nearer to its edge than the margin.
    expect(besideLeaders([80, 256], [120, 120], 390)[1]).toEqual({ x: 127, line: 1 });
    expect(besideLeaders([60, 250], [140, 140], 320, 9, 12)[1]).toEqual({ x: 101, line: 1 });
  });
});

describe("gauges", () => {
  const ranged = (value_mm: number | null, u_mm: number | null, tolerance_mm: number | null) => ({
    value_mm,
    u_mm,
    tolerance_mm,
  });

  it("share one scale in which every dot with its ±2u and every tolerance has room", () => {
    const all = [ranged(21, 2, 6), ranged(-30, 3, 6)];
    const { k, zero } = gaugeScale(all, 112);
    // From −36 to 25 mm in 112 − 16 px.
    expect(k).toBeCloseTo(96 / 61, 9);
    expect(zero - 25 * k).toBeCloseTo(8, 9);
    expect(zero + 36 * k).toBeCloseTo(104, 9);
  });

  it("draw a millimetre no larger than 4 px, and stand in the middle where nothing is told", () => {
    expect(gaugeScale([ranged(1, 0.5, null)], 112).k).toBe(4);
    expect(gaugeScale([ranged(null, null, null)], 112)).toEqual({ k: 4, zero: 56 });
  });
});

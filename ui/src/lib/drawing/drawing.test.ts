// Geometry of the pictures, checked against what the look says of them and against lengths worked out by hand.
import { describe, expect, it } from "vitest";
import { COUPE, PICKUP, ROADSTER, SIDES } from "../../../tests/fixtures/views";
import { patch } from "./brush";
import { anchors, through } from "./curve";
import { block, columnTops } from "./floor";
import { PLAN, SIDE } from "./outlines";
import { planShapes } from "./plan";
import { fit, railAt, screen, sideShapes, ticks, wheel } from "./side";

const numbers = (path: string) => (path.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);

describe("curves", () => {
  it("go through every anchor, and a corner ends a run", () => {
    const path = through(anchors("0,0c 10,20 30,20c 40,0c"), (at) => at);
    expect(path.startsWith("M0,0")).toBe(true);
    for (const [x, y] of [
      [10, 20],
      [30, 20],
      [40, 0],
    ])
      expect(path).toContain(`${x},${y}`);
    // The last run has two anchors: a straight line.
    expect(path.endsWith("L40,0")).toBe(true);
  });

  it("refuse an anchor that is no pair of numbers", () => {
    expect(() => anchors("1,2 x,3")).toThrow("x,3");
  });

  it("can be read for every outline", () => {
    for (const shape of Object.values(SIDE))
      for (const list of [shape.body, ...shape.pieces, ...shape.details, ...shape.strokes])
        if (list) expect(anchors(list).length).toBeGreaterThan(1);
    for (const shape of Object.values(PLAN)) {
      const half = anchors(shape.half);
      // A half outline begins and ends on the centre line.
      expect([half[0]?.at[1], half.at(-1)?.at[1]]).toEqual([0, 0]);
    }
  });
});

describe("the side view", () => {
  it("has one scale in both directions and fits between the margins", () => {
    const scale = fit(ROADSTER, 390, 16, 200, 0.44);
    // 358 px over 0.18 + 1 + 0.44 wheelbases of 2565 mm.
    expect(scale.k).toBeCloseTo(358 / (1.62 * 2565), 9);
    const [x0, y0] = screen(scale, 0, 0);
    const [x1, y1] = screen(scale, 1000, 1000);
    expect(x1 - x0).toBeCloseTo(y0 - y1, 1);
    expect(screen(scale, -0.18 * 2565, 0)[0]).toBeCloseTo(16, 1);
    expect(screen(scale, 1.44 * 2565, 0)[0]).toBeCloseTo(374, 1);
  });

  it("hangs the marks at their true heights", () => {
    const scale = fit(ROADSTER, 390, 16, 200);
    const [[, front], [, rear]] = sideShapes(ROADSTER, scale).marks;
    expect((200 - front) / scale.k).toBeCloseTo(266, 0);
    expect((200 - rear) / scale.k).toBeCloseTo(327, 0);
    expect(railAt(ROADSTER, 330)).toBeCloseTo(266, 0);
  });

  it("cuts the tire flat at the ground and puts the centre at the loaded radius", () => {
    const scale = { k: 0.1, x0: 50, ground: 100 };
    const shape = wheel(ROADSTER.front_wheel, 0, scale);
    expect([shape.cx, shape.cy]).toEqual([50, 68]);
    // Half the flat: sqrt(33.3² − 32²) = 9.21 px.
    expect(numbers(shape.tire).slice(0, 2)).toEqual([40.79, 100]);
    expect(shape.rings[0]).toBeCloseTo(0.8 * shape.rim, 6);
  });

  it("draws the wheel openings of a closed body to the lips that were read", () => {
    const scale = fit(COUPE, 390, 16, 200);
    const low = sideShapes({ ...COUPE, lip_front_mm: 520 }, scale).body;
    const lipAt = (z: number) => String(screen(scale, 0, z)[1]);
    expect(sideShapes(COUPE, scale).body).toContain(`${screen(scale, 0, 0)[0]},${lipAt(596)}`);
    expect(low).toContain(`${screen(scale, 0, 0)[0]},${lipAt(520)}`);
  });

  it("is finite for every outline, whether lips were read or not", () => {
    for (const side of Object.values(SIDES))
      for (const lip of [null, 600]) {
        const drawn = { ...side, lip_front_mm: lip, lip_rear_mm: lip };
        const shapes = sideShapes(drawn, fit(drawn, 320, 12, 180));
        for (const path of [shapes.frame, shapes.body, shapes.fender, ...shapes.details])
          expect(path).not.toMatch(/NaN|Infinity|undefined/);
      }
  });

  it("sets a tick every 100 mm of the car, every fifth longer, out to both edges", () => {
    const scale = { k: 0.1, x0: 50, ground: 0 };
    const list = ticks(100, scale);
    expect(list.map(({ x }) => x)).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
    expect(list.filter(({ long }) => long).map(({ x }) => x)).toEqual([0, 50, 100]);
  });
});

describe("the plan view", () => {
  it("stands the tires at the tracks and the axles a wheelbase apart", () => {
    const plan = planShapes(PICKUP, 0.05);
    expect(plan.wheels.FR[0] - plan.wheels.FL[0]).toBeCloseTo(1392 * 0.05, 6);
    expect(plan.wheels.RL[1]).toBeCloseTo(2665 * 0.05, 6);
    const tire = plan.tires.FL;
    expect(tire.height).toBeCloseTo(2 * 357 * 0.05, 2);
    expect(tire.x + tire.width / 2).toBeCloseTo(plan.wheels.FL[0], 1);
  });
});

describe("the floor block", () => {
  const spots = block([35, 0, 89, 88], 2665, 1400, 4, 300);

  it("fills its width and keeps all it draws inside", () => {
    const xs = [spots.plate, spots.top, spots.left, spots.front].flatMap((path) =>
      numbers(path).filter((_, i) => i % 2 === 0),
    );
    expect(Math.min(...xs)).toBeCloseTo(0, 1);
    expect(Math.max(...xs)).toBeCloseTo(300, 1);
  });

  it("draws a spot the higher, the higher it is", () => {
    const above = (heights: readonly [number, number, number, number]) => {
      const drawn = block(heights, 2665, 1400, 4, 300);
      // Over the spot beside it, in widths of the picture: a taller block is drawn a little smaller.
      return drawn.spots[0][1] - drawn.spots[2][1];
    };
    expect(above([0, 0, 40, 0])).toBeGreaterThan(above([0, 0, 0, 0]));
    expect(above([0, 0, 80, 0])).toBeGreaterThan(above([0, 0, 40, 0]));
    expect(above([40, 0, 0, 0])).toBeLessThan(above([0, 0, 0, 0]));
  });

  it("puts the lower floor, with the bigger reading, further under the line", () => {
    const tops = columnTops([918, 952, 863, 865], 70, 120);
    expect(tops[1]).toBe(120);
    expect(tops[2]).toBe(70);
    expect((tops[3] ?? 0) - (tops[2] ?? 0)).toBeCloseTo((2 / 89) * 50, 1);
    // Equal readings are not blown up, and an unread spot has a place.
    expect(columnTops([900, null, 901, 900], 70, 120).every(Number.isFinite)).toBe(true);
  });
});

describe("the brushed patch", () => {
  it("is the same for the same seed and keeps to its size", () => {
    expect(patch(68, 50, 11)).toEqual(patch(68, 50, 11));
    expect(patch(68, 50, 11)).not.toEqual(patch(68, 50, 12));
    for (const { x1, x2, y } of patch(68, 50, 23).strokes) {
      expect(x1).toBeGreaterThanOrEqual(0);
      expect(x2).toBeLessThanOrEqual(70);
      expect(x2).toBeGreaterThan(x1 + 20);
      expect(y).toBeLessThanOrEqual(51);
    }
  });
});

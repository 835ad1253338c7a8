import { expect, test } from "vitest";
import type { DriveTable } from "../../bindings/DriveTable";
import { axisWords, chart, ticks } from "./chart";
import { linksDrawing } from "./links";
import { packDrawing, THICKER } from "./pack";
import { rpmDrawing } from "./rpm";

const box = { left: 50, right: 350, top: 10, foot: 210 };

test("ticks are even, below 1 too, and named with as many decimals as they need", () => {
  expect(ticks([-60, 60], 6)).toEqual([-60, -40, -20, 0, 20, 40, 60]);
  const small = ticks([-0.12, 0.31], 6);
  expect(small.length).toBeGreaterThan(3);
  expect(axisWords([-0.1, 0, 0.1])).toEqual(["−0.1", "0.0", "0.1"]);
  expect(ticks([1, 1], 6)).toEqual([]);
  expect(chart([0, 10], [0, 1], box, { columns: 5, rows: 5 }).y(1)).toBe(10);
});

test("a low gear leaves the picture at its upper edge, the others end at the last speed", () => {
  const drive: DriveTable = {
    label: "as it is",
    detail: "",
    axle_ratio: 4,
    rolling_mm: 700,
    rolling_u_mm: 7,
    across_mm: 720,
    gears: [
      { gear: "1", ratio: 3, rpm: [4500, 9000], rpm_u: [45, 90] },
      { gear: "3", ratio: 1, rpm: [1500, 3000], rpm_u: [15, 30] },
    ],
  };
  const { now } = rpmDrawing(drive, null, [50, 100], box);
  const [third, first] = now;
  expect(third?.x).toBeCloseTo(350);
  // 6000 of its 9000 turns are reached at two thirds of the way.
  expect(first?.x).toBeCloseTo(250);
});

test("what is seen from the side keeps one scale in both directions, nose left", () => {
  const points = [{ of: "a", words: "a", x_mm: -800, z_mm: 450 }];
  const shape = linksDrawing(points, [], { x: 0, radius: 300 }, 390, 400);
  expect(shape.x(-100) - shape.x(0)).toBeCloseTo(100 * shape.k);
  expect(shape.z(0) - shape.z(100)).toBeCloseTo(100 * shape.k);
  expect(shape.x(300)).toBeGreaterThan(0);
  expect(shape.x(-890)).toBeLessThanOrEqual(390);
});

test("leaves lie under each other, and the pack hangs by its arch below the line of the eyes", () => {
  const side = {
    rate_n_per_mm: 40,
    deflection_mm: 60,
    stress_mpa: null,
    free_arch_mm: 100,
    arch_mm: 40,
    lower_mm: 0,
    drawn: [
      { leaf: 1, thickness_mm: 5, length_mm: 800 },
      { leaf: 2, thickness_mm: 5, length_mm: 600 },
    ],
  };
  const shape = packDrawing(side, 0.5, 195, 50);
  expect(shape.eyes.map(({ x }) => x)).toEqual([-5, 395]);
  expect(shape.middle).toEqual({ x: 195, y: 70 });
  expect(shape.foot).toBeCloseTo(70 + 2 * 5 * THICKER * 0.5);
  // The second leaf begins at its own end, where the main leaf has come up again.
  expect(shape.leaves[1]?.d.startsWith("M45 66.3L")).toBe(true);
});

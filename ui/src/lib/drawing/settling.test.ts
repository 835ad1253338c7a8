// The settling picture, checked against the numbers it is drawn from and lengths worked out by hand.
import { describe, expect, it } from "vitest";
import SETTLING from "../../../tests/fixtures/settling.json";
import type { SettlingEnd } from "../../bindings/SettlingEnd";
import type { SettlingView } from "../../bindings/SettlingView";
import { extent, nearestDay, settlingShape } from "./settling";
import { timeTicks } from "./settling-axes";
import { evenly, linear } from "./scale";
import { stripDrawing } from "./strip";

const view = (name: keyof typeof SETTLING) => structuredClone(SETTLING[name]) as unknown as SettlingView;
const PHONE = { width: 390, height: 332, margin: 16 };
const dots = (path: string) =>
  [...path.matchAll(/M(-?[\d.]+) (-?[\d.]+)h0/g)].map(([, x, y]) => [Number(x), Number(y)]);

describe("the settling picture", () => {
  it("has one millimetre scale for front and rear, and a dot for each day where it counts", () => {
    const coupe = view("settled");
    const shape = settlingShape(coupe, "mm", PHONE);
    for (const [i, strip] of shape.strips.entries()) {
      const end = coupe.ends[i] as SettlingEnd;
      const [low, high] = extent(end);
      expect(strip.bottom - strip.top).toBeCloseTo((high - low) * shape.k, 6);
      const [first] = end.points;
      const drawn = dots(strip.dots)[0] ?? [];
      expect(drawn[0]).toBeCloseTo(shape.left, 1);
      expect(drawn[1]).toBeCloseTo(strip.bottom - ((first?.height_mm ?? 0) - low) * shape.k, 1);
    }
    const [front, rear] = shape.strips;
    // Day 21 stood a millimetre off in front: its two places are one blot, and it is drawn hollow where it counts.
    expect(dots(front?.dots ?? "")).toHaveLength(8);
    expect(front?.hollows.map(({ lead }) => lead)).toEqual([""]);
    expect(rear?.hollows).toHaveLength(2);
  });

  it("leads from where a hollow day stood to where it counts, and names it once, at the end it moved most", () => {
    const shape = settlingShape(view("settled"), "mm", { ...PHONE, width: 900, height: 600 });
    const [front, rear] = shape.strips;
    const tank = rear?.hollows[0];
    expect(tank?.words).toBe("full tank");
    expect(front?.hollows[0]?.words).toBe("");
    // It stood lower: y grows downwards, and the line goes up.
    const [from, to] = [...(tank?.lead ?? "").matchAll(/[ V](-?[\d.]+)/g)].map(([, y]) => Number(y));
    expect(from).toBeGreaterThan(to ?? 0);
  });

  it("draws the law as read up to the last day, and what follows apart from it", () => {
    const coupe = view("settled");
    const shape = settlingShape(coupe, "mm", PHONE);
    const xs = (path: string) => [...path.matchAll(/(-?[\d.]+),-?[\d.]+/g)].map(([, x]) => Number(x));
    for (const { fit, ahead } of shape.strips) {
      expect(Math.max(...xs(fit))).toBeCloseTo(shape.time(70), 0);
      expect(xs(ahead)[0]).toBeCloseTo(shape.time(70), 0);
      expect(Math.max(...xs(ahead))).toBeCloseTo(shape.right, 0);
    }
  });

  it("hatches what cannot be told, from the last day to the edge, and draws no law", () => {
    const shape = settlingShape(view("week"), "mm", PHONE);
    expect(shape.strips).toHaveLength(2);
    for (const strip of shape.strips) {
      expect([strip.fit, strip.band, strip.ahead, strip.rest]).toEqual(["", "", "", null]);
      expect(strip.unknownFrom).toBeGreaterThan(shape.time(7));
      expect(shape.right - (strip.unknownFrom ?? 0)).toBeGreaterThanOrEqual(120);
    }
    const settled = settlingShape(view("settled"), "mm", PHONE);
    expect(settled.strips.map(({ unknownFrom }) => unknownFrom)).toEqual([null, null]);
  });

  it("never draws a millimetre larger than nine pixels, and no strip flatter than ten millimetres", () => {
    const still = view("one");
    const shape = settlingShape(still, "mm", { width: 1200, height: 900, margin: 24 });
    expect(shape.k).toBe(9);
    for (const { top, bottom } of shape.strips) expect(bottom - top).toBeCloseTo(90, 6);
  });

  it("marks a day that was left out and keeps it off the dots", () => {
    const coupe = view("settled");
    const day = coupe.ends[0]?.points[2];
    if (day) day.counts = false;
    const [front] = settlingShape(coupe, "mm", PHONE).strips;
    expect(front?.struck).toHaveLength(1);
    expect(dots(front?.dots ?? "")).toHaveLength(7);
  });

  it("is finite from 320 to 1920 px, for every state and both units", () => {
    for (const name of Object.keys(SETTLING) as (keyof typeof SETTLING)[])
      for (const unit of ["mm", "in"] as const)
        for (const width of [320, 390, 844, 1920]) {
          const shape = settlingShape(view(name), unit, { width, height: 300, margin: 12 });
          expect(JSON.stringify(shape), name).not.toMatch(/NaN|Infinity|null,null/);
          for (const { dots, band, whiskers } of shape.strips)
            expect(dots + band + whiskers).not.toMatch(/NaN|Infinity/);
        }
  });

  it("finds the day nearest to a finger", () => {
    const coupe = view("settled");
    const { time } = settlingShape(coupe, "mm", PHONE);
    const day = coupe.ends[0]?.points[4];
    expect(nearestDay(coupe, time, time(22))).toBe(day?.snapshot);
    expect(nearestDay(view("none"), time, 100)).toBeNull();
  });
});

describe("its axes", () => {
  it("number whole millimetres, and inches in parts of an inch, never nearer than a line of text", () => {
    const { strips, k } = settlingShape(view("settled"), "mm", PHONE);
    for (const { rows } of strips) {
      for (const [a, b] of rows.slice(1).map((row, i) => [rows[i], row] as const)) {
        expect((a?.at ?? 0) - (b?.at ?? 0)).toBeGreaterThanOrEqual(22 - 1e-9);
        expect(Number(b?.words) - Number(a?.words)).toBe(5);
      }
      expect((rows[0]?.at ?? 0) - (rows[1]?.at ?? 0)).toBeCloseTo(5 * k, 6);
    }
    const inches = settlingShape(view("settled"), "in", PHONE).strips[0]?.rows.map(({ words }) => words) ?? [];
    expect(inches.length).toBeGreaterThan(1);
    // 592 to 615 mm are 23 5/16 to 24 3/16 inches.
    for (const words of inches) expect(words).toMatch(/^2[34]( \d\/\d)?$/);
  });

  it("leave the last label's place to the unit, and keep labels apart for a week as for ten years", () => {
    for (const until of [28, 84, 420, 3700]) {
      const coupe = { ...view("settled"), until };
      const { time, right } = settlingShape(coupe, "mm", PHONE);
      const { labels, ticks } = timeTicks(coupe, time, right);
      expect(labels.length).toBeGreaterThan(1);
      for (const [i, label] of labels.slice(1).entries()) expect(label.at - (labels[i]?.at ?? 0)).toBeGreaterThan(20);
      expect(Math.max(...labels.map(({ at }) => at))).toBeLessThan(right - 30);
      for (const [i, tick] of ticks.slice(1).entries()) expect(tick - (ticks[i] ?? 0)).toBeGreaterThanOrEqual(8 - 1e-9);
    }
  });
});

describe("rake and lean under it", () => {
  it("stand on the same line of time, with limits once it has settled", () => {
    const year = view("year");
    const { time } = settlingShape(year, "mm", PHONE);
    const [rake] = year.strips;
    if (!rake) throw new Error("the fixture has a rake");
    const shape = stripDrawing(rake, year, { width: 390, left: 50, margin: 16 });
    expect(dots(shape.dots)).toHaveLength(rake.points.length);
    expect(dots(shape.dots).at(-1)?.[0]).toBeCloseTo(time(year.last), 0);
    const first = rake.points.find(({ limits }) => limits);
    expect(shape.mean.startsWith(`M${Math.round(time(first?.at ?? 0) * 10) / 10}`)).toBe(true);
    const week = view("week").strips[0];
    expect(week && stripDrawing(week, view("week"), { width: 390, left: 50, margin: 16 }).zone).toBe("");
  });

  it("ring the days that lie outside", () => {
    const year = view("year");
    const [rake] = year.strips;
    const last = rake?.points.at(-1);
    if (!rake || !last?.limits) throw new Error("the fixture has limits");
    last.limits.is_out = true;
    expect(stripDrawing(rake, year, { width: 390, left: 50, margin: 16 }).out).toHaveLength(1);
  });
});

describe("scales", () => {
  it("are straight, and their even numbers have 1, 2 or 5 times a power of ten between them", () => {
    const scale = linear([10, 30], [100, 0]);
    expect([scale(10), scale(15), scale(30)]).toEqual([100, 75, 0]);
    expect(evenly([36.2, 51], 5)).toEqual([40, 45, 50]);
    expect(evenly([-3, 4], 10)).toEqual([-3, -2, -1, 0, 1, 2, 3, 4]);
    expect(evenly([0, 900], 5)).toEqual([0, 200, 400, 600, 800]);
  });
});

import { describe, expect, it } from "vitest";
import type { DropPlace } from "../../bindings/DropPlace";
import { chains } from "./drop";

const place = (words: string, ...parts: [string, number][]): DropPlace => ({
  words,
  number: "",
  mm: parts.reduce((sum, [, mm]) => sum + mm, 0),
  parts: parts.map(([words, mm]) => ({ words, mm, number: `${mm}` })),
  text: "",
});

describe("where a drop comes from", () => {
  it("shares one scale and ends each chain where the plan does", () => {
    const { places } = chains([place("front", ["tires", -10], ["spring", -16]), place("rear", ["spring", -13])], 358);
    const [front, rear] = places;
    expect(front && rear).toBeTruthy();
    if (!front || !rear) return;
    expect(front.from).toBe(rear.from);
    // 26 mm take twice the way that 13 mm take.
    expect((front.to - front.from) / (rear.to - rear.from)).toBeCloseTo(2, 9);
    expect(front.arrows.map(({ shaft }) => shaft.match(/V([\d.]+)$/)?.[1]).at(-1)).toBe(`${front.to}`);
  });

  it("keeps words apart however little a source does, and goes up where something lifts", () => {
    const { places, height } = chains([place("front", ["tires", -1], ["axle", -1], ["spring", 4])], 358);
    const tops = places[0]?.arrows.map(({ label }) => label[1]) ?? [];
    for (const [i, top] of tops.entries()) if (i > 0) expect(top - (tops[i - 1] ?? 0)).toBeGreaterThanOrEqual(22);
    expect(height).toBeGreaterThanOrEqual((tops.at(-1) ?? 0) + 22);
    expect(places[0]?.to).toBeLessThan(places[0]?.from ?? 0);
  });

  it("draws a place that stays as its line alone", () => {
    const { places } = chains([place("front"), place("rear", ["spring", -12])], 320);
    expect(places[0]?.arrows).toEqual([]);
    expect(places[0]?.to).toBe(places[0]?.from);
  });
});

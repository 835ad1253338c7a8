import { describe, expect, it } from "vitest";
import type { FitScene } from "../../bindings/FitScene";
import { lockLens } from "./lock-lens";
import { extent, openingShapes } from "./opening";

const NOW = {
  section_mm: 185,
  radius_mm: 338,
  loaded_mm: 326,
  rim_width_mm: 152,
  rim_diameter_mm: 381,
  offset_mm: 20,
  out_mm: 0,
};
const SCENE: FitScene = {
  now: NOW,
  other: { ...NOW, section_mm: 205, out_mm: -8 },
  places: [
    { place: "fender_outer", gap_mm: 24, height_mm: 620, along_mm: null },
    { place: "spring", gap_mm: 31, height_mm: null, along_mm: null },
    { place: "frame", gap_mm: 118, height_mm: 300, along_mm: null },
    { place: "above", gap_mm: 78, height_mm: null, along_mm: null },
  ],
  bump_mm: 60,
  lock: { inner_deg: 33, outer_deg: 28, kingpin_mm: 58 },
};

describe("a section through a wheel", () => {
  it("is to scale: the drawn gaps are the told ones", () => {
    const shapes = openingShapes(SCENE, 390, 330, true, 0);
    const drawn = (place: string, other: boolean) => {
      const gap = shapes.gap(place, other);
      return gap === null ? null : Math.abs(gap.to - gap.from) / shapes.k;
    };
    expect(drawn("fender_outer", false)).toBeCloseTo(24, 6);
    // Half of 20 mm wider, 8 mm inboard: 2 mm farther out, 18 farther in.
    expect(drawn("fender_outer", true)).toBeCloseTo(22, 6);
    expect(drawn("spring", true)).toBeCloseTo(13, 6);
    expect(drawn("frame", true)).toBeCloseTo(100, 6);
    expect(shapes.gap("above", false)).toBeNull();
  });

  it("keeps left left: outboard is on the outside of the picture", () => {
    const left = openingShapes(SCENE, 390, 330, true, 0).gap("fender_outer", false);
    const right = openingShapes(SCENE, 390, 330, false, 0).gap("fender_outer", false);
    expect(left!.to).toBeLessThan(left!.from);
    expect(right!.to).toBeGreaterThan(right!.from);
  });

  it("goes up with the wheel and fits its window", () => {
    const rest = openingShapes(SCENE, 390, 330, true, 0);
    const bump = openingShapes(SCENE, 390, 330, true, 60);
    expect(rest.gap("spring", false)!.y - bump.gap("spring", false)!.y).toBeCloseTo(60 * rest.k, 6);
    const [, , top] = extent(SCENE);
    expect(top * rest.k).toBeLessThanOrEqual(330 + 1e-9);
    for (const d of [rest.skin, rest.house, rest.now.rim, ...rest.now.lobes]) expect(d).not.toContain("NaN");
  });
});

describe("the lens at full lock", () => {
  it("shows an overlap where the told gap is below nought, and none where it is not", () => {
    const over = lockLens(SCENE, "frame", -9, 4, 58, 0.9, true)!;
    const clear = lockLens(SCENE, "frame", 12, 20, 58, 0.9, true)!;
    // The edge of the rail is a line straight along the car: in the lens it stands at one x.
    const edgeX = (d: string) => Number(/^M(-?[\d.]+)/.exec(d)![1]);
    const reach = (d: string) => Math.max(...[...d.matchAll(/[ML](-?[\d.]+) /g)].map((found) => Number(found[1])));
    expect((edgeX(over.edge) - reach(over.other!)) / 0.9).toBeCloseTo(-9, 1);
    expect((edgeX(clear.edge) - reach(clear.other!)) / 0.9).toBeCloseTo(12, 1);
    expect((edgeX(over.edge) - reach(over.now)) / 0.9).toBeCloseTo(4, 1);
  });

  it("is absent where nothing steers", () => {
    expect(lockLens({ ...SCENE, lock: null }, "frame", -9, 4, 58, 0.9, true)).toBeNull();
  });
});

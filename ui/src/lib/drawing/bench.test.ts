import { describe, expect, it } from "vitest";
import { arm, armsScale, cut, leverDegrees, shim, swung } from "./bench";

describe("pictures of bench sums", () => {
  it("swings an arm half its sweep to either side", () => {
    expect(swung([10, 20], 100, 90)).toEqual([110, 20]);
    const drawn = arm([50, 200], 100, 60);
    expect(drawn.ball).toEqual([50, 100]);
    // Half of 60° to the right: 100·sin 30° = 50 aside, 100·cos 30° = 86.6 up.
    expect(drawn.locks[1]).toEqual([100, 113.4]);
    expect(drawn.locks[0]).toEqual([0, 113.4]);
  });

  it("keeps two arms in the width, however far they swing", () => {
    // 180 mm over 90° to either side is 360 mm across in (390/2 − 24) px.
    expect(armsScale([180, 100], [180, 40], 390, 1000)).toBeCloseTo(171 / 360, 6);
    expect(armsScale([180, 100], [10, 10], 390, 90)).toBeCloseTo(0.5, 6);
  });

  it("turns a lever as far as its end goes", () => {
    expect(leverDegrees(150, 300)).toBeCloseTo(30, 6);
    expect(leverDegrees(400, 300)).toBe(90);
  });

  it("puts the thick end of a shim where it belongs", () => {
    expect(shim([100, 50], 80, 6, true, true)).toEqual([
      [60, 50],
      [140, 50],
      [140, 56],
    ]);
    expect(shim([100, 50], 80, 6, false, false)[2]).toEqual([60, 44]);
  });

  it("opens a cut at the wall where it closes", () => {
    expect(cut([100, 50], 40, 8, true)).toEqual([
      [96, 30],
      [104, 30],
      [100, 70],
    ]);
    expect(cut([100, 50], 40, 8, false)[2]).toEqual([100, 30]);
  });
});

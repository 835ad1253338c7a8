import { describe, expect, it } from "vitest";
import { COUPE, walkView } from "../../../tests/fixtures/views";
import { cornersDone, divisionsOf, placeAt, roundOf } from "../state/round";
import { whereIs } from "./where";

const LIP = { stem: "lip", words: "fender lip, straight above the wheel centre", s: 0 };
const HUB = { stem: "hub", words: "wheel centre", s: 0 };
const view = walkView(COUPE, "mm", [LIP, HUB], 2, 3);
const at = (place: number) => view.steps[place] ?? view.steps[0]!;

describe("where the person is", () => {
  it("names corner and point, round and bounce", () => {
    expect(whereIs(at(2), view)).toEqual({
      place: "front right",
      point: "fender lip",
      round: "round 1 of 2, bounce 1",
    });
    const again = { ...at(2), round: 3, bounce: 2 };
    expect(whereIs(again, { rounds: 2, bounces: 2 }).round).toBe("round 3, bounce 2 of 2");
  });

  it("names the rail and the way round of a gauge", () => {
    const gauge = { ...at(0), kind: "gauge" as const, ref: "frame_rail_right", corner: "FR" as const, reversed: true };
    expect(whereIs(gauge, view)).toEqual({ place: "right rail", point: "", round: "gauge turned, bounce 1" });
    const across = { ...gauge, ref: "frame_rear", corner: "RL" as const, reversed: false };
    expect(whereIs(across, view).place).toBe("across the rear");
  });
});

describe("a round", () => {
  const round = roundOf(view.steps, at(3));

  it("is what is read in one go", () => {
    expect(round.map(({ at }) => at)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    expect(roundOf(view.steps, null)).toEqual([]);
    expect(divisionsOf(round, 3).map(({ read, now, first }) => [read, now, first])).toEqual([
      [true, false, true],
      [true, false, false],
      [true, false, true],
      [false, true, false],
      [false, false, true],
      [false, false, false],
      [false, false, true],
      [false, false, false],
    ]);
  });

  it("knows each corner, and where a tap on it goes", () => {
    expect(cornersDone(round)).toEqual({ FL: "read", FR: "open", RL: "open", RR: "open" });
    expect([placeAt(round, "FL"), placeAt(round, "FR"), placeAt(round, "RR")]).toEqual([0, 3, 4]);
    const skipped = round.map((placed) =>
      placed.at === 3 ? { ...placed, of: { ...placed.of, skipped: true } } : placed,
    );
    expect(cornersDone(skipped).FR).toBe("skipped");
    expect(placeAt(skipped, "FR")).toBe(3);
  });
});

// The way round the car begins beside the first corner, goes round the next two and ends half-way to the last.
import { describe, expect, it } from "vitest";
import type { Corner } from "../../bindings/Corner";
import { wayRound } from "./way";

const BOX: [number, number, number, number] = [0, 0, 100, 200];
const AXLES: [number, number] = [30, 160];
const way = (...corners: Corner[]) => wayRound(corners, BOX, AXLES, 0);

describe("the way round the car", () => {
  it("goes clockwise from the front left as it always did", () => {
    expect(way("FL", "FR", "RR", "RL")).toEqual({
      path: "M0 30L0 0Q0 0 0 0L100 0Q100 0 100 0L100 200Q100 200 100 200L50 200",
      end: [50, 200],
      turnDeg: 180,
    });
  });

  it("goes down a side first where the second corner lies behind the first", () => {
    const { path, end, turnDeg } = way("FL", "RL", "RR", "FR");
    expect([path.startsWith("M0 30L0 200"), end, turnDeg]).toEqual([true, [100, 100], -90]);
  });

  it("begins at the rear right the other way round", () => {
    const { path, end, turnDeg } = way("RR", "FR", "FL", "RL");
    expect([path.startsWith("M100 160L100 0"), end, turnDeg]).toEqual([true, [0, 100], 90]);
  });
});

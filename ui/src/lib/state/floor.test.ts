// What is half typed on a floor stays with its station.
import { describe, expect, it } from "vitest";
import { backend } from "../backend/backend";
import { FLOOR, FLOOR_DONE } from "../../../tests/fixtures/views";
import { FloorState } from "./floor.svelte";

const silent = backend(async () => null);

describe("half typed", () => {
  it("names its station, and nothing where nothing is typed", () => {
    const floor = new FloorState(silent, FLOOR);
    expect(floor.half).toEqual({ place: "", text: "" });
    floor.edit(() => "86");
    expect(floor.half).toEqual({ place: "2/S4/false", text: "86" });
  });

  it("goes on at the station that comes next", () => {
    const floor = new FloorState(silent, FLOOR);
    floor.resume({ place: "2/S4/false", text: "86" });
    expect([floor.station?.point, floor.text]).toEqual(["S4", "86"]);
  });

  it("goes on at a station that had been chosen", () => {
    const floor = new FloorState(silent, FLOOR_DONE);
    expect(floor.station).toBeNull();
    floor.resume({ place: "2/under:lip.FL/false", text: "9" });
    expect([floor.station?.point, floor.text]).toEqual(["under:lip.FL", "9"]);
  });

  it("types nothing again that was taken, or whose station is gone", () => {
    const floor = new FloorState(silent, FLOOR_DONE);
    floor.resume({ place: "2/S3/false", text: "863" });
    floor.resume({ place: "3/S1/false", text: "9" });
    floor.resume({ place: "", text: "" });
    expect([floor.station, floor.text]).toEqual([null, ""]);
  });
});

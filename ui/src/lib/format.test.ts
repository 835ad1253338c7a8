import { describe, expect, it } from "vitest";
import {
  builtUp,
  bandDeg,
  bandMm,
  day,
  dayAndLabel,
  degrees,
  firstClause,
  inchText,
  lengthFigure,
  lengthWords,
  rakeWord,
  rakeWords,
  shortName,
  signedMm,
  wholeMm,
} from "./format";

describe("±", () => {
  it("is 2u in whole mm and never below 1", () => {
    expect([0.01, 0.49, 0.76, 1.5, 2.4, 2.6].map(bandMm)).toEqual([1, 1, 2, 3, 5, 5]);
  });

  it("is 2u in tenths of a degree and never below 0.1", () => {
    expect([0.001, 0.06, 0.2].map(bandDeg)).toEqual(["0.1", "0.1", "0.4"]);
  });
});

describe("a length", () => {
  it("is whole mm with a true minus and no negative zero", () => {
    expect([265.4, 265.5, -8.2, -0.3, 0].map(wholeMm)).toEqual(["265", "266", "−8", "0", "0"]);
    expect([7, -8, 0.2].map(signedMm)).toEqual(["+7", "−8", "0"]);
  });

  it("in inches is the nearest sixteenth, reduced", () => {
    // 10 7/16 in = 265.1125 mm and 22 1/4 in = 565.15 mm exactly (1 in = 25.4 mm).
    expect(inchText(builtUp(265.1125, 16))).toBe("10 7/16");
    expect(inchText(builtUp(565.15, 16))).toBe("22 1/4");
    expect(inchText(builtUp(25.4, 16))).toBe("1");
    expect(inchText(builtUp(-12.7, 16))).toBe("−1/2");
    expect(inchText(builtUp(25.39, 16))).toBe("1");
    // 10 15/32 in = 265.90625 mm.
    expect(inchText(builtUp(265.906, 32))).toBe("10 15/32");
  });

  it("that is undetermined has no number, not even a zero", () => {
    expect(lengthFigure({ known: "undetermined" }, "mm")).toBeNull();
    expect(lengthFigure({ known: "undetermined", value: null, u: null }, "in")).toBeNull();
    expect(lengthWords(null, "mm")).toBe("can’t tell");
  });

  it("carries its ± in the unit it is printed in", () => {
    const figure = { value: 266.2, u: 1.5, known: "measured" as const };
    expect(lengthWords(figure, "mm")).toBe("266 mm ±3");
    // 2u = 3 mm = 1.9 sixteenths.
    expect(lengthFigure(figure, "in")).toMatchObject({ text: "10 1/2", band: "±1/8", bandMm: 3 });
    expect(lengthWords(figure, "cm")).toBe("26.6 cm ±0.3");
  });
});

describe("a rake", () => {
  it("says its sign in a word", () => {
    expect([2.02, -0.46, 0.04, -0.04].map(rakeWord)).toEqual(["nose-down", "nose-up", "level", "level"]);
    expect(degrees(-0.46)).toBe("0.5");
    expect(rakeWords({ value: 2.02, u: 0.06, known: "measured" })).toBe("2.0° nose-down ±0.1");
    expect(rakeWords({ known: "undetermined" })).toBe("can’t tell");
  });
});

describe("words for narrow places", () => {
  it("write a day as people do and leave what is no day alone", () => {
    expect(day("2031-08-28")).toEqual({ short: "28 Aug", year: "2031" });
    expect(day("2031-13-01")).toEqual({ short: "2031-13-01", year: "" });
  });

  it("name a snapshot by its day, once", () => {
    expect(dayAndLabel("2031-08-02", "workshop")).toBe("2 Aug 2031, workshop");
    expect(dayAndLabel("2031-08-02", "2 Aug 2031")).toBe("2 Aug 2031");
    expect(dayAndLabel("2031-08-02", "")).toBe("2 Aug 2031");
  });

  it("cut a name at its bracket and a load at its clauses", () => {
    expect(shortName("Demo pickup (light, invented)")).toBe("Demo pickup");
    expect(shortName("(nameless)")).toBe("(nameless)");
    expect(firstClause("half tank, empty")).toBe("Half tank, empty");
    expect(firstClause("fuel tank half full, nobody aboard, no luggage")).toBe("Fuel tank half full");
    expect(firstClause("")).toBe("");
  });
});

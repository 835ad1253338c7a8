import { describe, expect, it } from "vitest";
import {
  erased,
  inchParts,
  stripMark,
  typeable,
  withHalf,
  withFraction,
  withInchDigit,
  withPoint,
  withSign,
  withStripMark,
  withThirtySecond,
} from "./entry";

const typed = (...keys: ((text: string) => string)[]) => keys.reduce((text, key) => key(text), "");
const digit = (key: string) => (text: string) => withInchDigit(text, key);
const mark = (n: number) => (text: string) => withStripMark(text, n);

describe("inch keys", () => {
  it("write 10 7/16 in either order", () => {
    expect(typed(digit("1"), digit("0"), mark(7))).toBe("10 7/16");
    expect(typed(mark(7), digit("1"), digit("0"))).toBe("10 7/16");
  });

  it("reduce the fraction of a mark as a tape prints it", () => {
    expect([2, 4, 6, 8, 10, 12, 14, 15].map((n) => withStripMark("9", n))).toEqual([
      "9 1/8",
      "9 1/4",
      "9 3/8",
      "9 1/2",
      "9 5/8",
      "9 3/4",
      "9 7/8",
      "9 15/16",
    ]);
  });

  it("replace a fraction by another, and clear it by a second tap or by 0", () => {
    expect(withStripMark("9 7/16", 8)).toBe("9 1/2");
    expect(withStripMark("9 1/2", 8)).toBe("9");
    expect(withStripMark("9 1/2", 0)).toBe("9");
  });

  it("erase the fraction first, then digit by digit", () => {
    expect(erased("10 7/16")).toBe("10");
    expect(erased("10")).toBe("1");
    expect(erased("1")).toBe("");
    expect(erased("")).toBe("");
  });
});

describe("thirty-seconds", () => {
  const sixteenth = (n: number) => (text: string) => withStripMark(text, 2 * n, 32);

  it("are a sixteenth and the key that adds one", () => {
    expect(typed(digit("1"), digit("0"), sixteenth(7), withThirtySecond)).toBe("10 15/32");
    expect(typed(digit("1"), digit("0"), sixteenth(7), withThirtySecond, withThirtySecond)).toBe("10 7/16");
    expect(typed(digit("9"), withThirtySecond)).toBe("9 1/32");
    expect(typed(digit("9"), withThirtySecond, withThirtySecond)).toBe("9");
  });

  it("give way to a sixteenth that is tapped, and a second tap on that one clears it", () => {
    expect(withStripMark("10 15/32", 14, 32)).toBe("10 7/16");
    expect(withStripMark("10 7/16", 14, 32)).toBe("10");
  });

  it("are reached by sliding, where nothing is cleared by coming back", () => {
    expect(withFraction("10 15/32", 15, 32)).toBe("10 15/32");
    expect(withFraction("10", 31, 32)).toBe("10 31/32");
    expect(withFraction("10 31/32", 0, 32)).toBe("10");
  });
});

describe("text from a hardware keyboard", () => {
  it("is understood where it has the shape of whole inches and a fraction", () => {
    expect(inchParts("10 7/16")).toEqual({ whole: "10", numerator: 7, denominator: 16 });
    expect(inchParts("7/16")).toEqual({ whole: "", numerator: 7, denominator: 16 });
    expect(inchParts("")).toEqual({ whole: "", numerator: null, denominator: 16 });
  });

  it("is left as typed in any other shape", () => {
    for (const text of ["10 7/", "23-5/8", "60.0 cm", "23.625", "10 7/0"]) expect(inchParts(text)).toBeNull();
    expect(withInchDigit("23-5/", "8")).toBe("23-5/8");
    expect(erased("60.0 cm")).toBe("60.0 c");
  });

  it("stands on the strip where one of its sixteen marks is meant", () => {
    expect(stripMark("10 4/8")).toBe(8);
    expect(stripMark("10 5/32")).toBeNull();
    expect(stripMark("10")).toBeNull();
    expect(stripMark("10 5/32", 32)).toBe(5);
    expect(stripMark("10 5/64", 32)).toBeNull();
  });

  it("is made of characters, never of keys with names", () => {
    expect(["7", " ", "/", ".", ",", "-", "m", '"'].every(typeable)).toBe(true);
    expect(["Enter", "Tab", "F1", "Shift", "<", "é"].some(typeable)).toBe(false);
  });
});

describe("millimetre, centimetre and gauge keys", () => {
  it("write centimetres with one point", () => {
    const plain = (key: string) => (text: string) => text + key;
    expect(typed(plain("6"), plain("0"), withPoint, withPoint, plain("3"))).toBe("60.3");
  });

  it("add a half once and take it away again", () => {
    expect(withHalf("563")).toBe("563.5");
    expect(withHalf("563.5")).toBe("563");
    expect(withHalf("")).toBe("");
  });

  it("allow one point", () => {
    expect(withPoint("2")).toBe("2.");
    expect(withPoint("")).toBe("0.");
    expect(withPoint("2.6")).toBe("2.6");
  });

  it("say the sign by a minus for nose-up", () => {
    expect(withSign("0.48", true)).toBe("-0.48");
    expect(withSign("-0.48", false)).toBe("0.48");
    expect(withSign("-0.48", true)).toBe("-0.48");
    expect(withSign("", true)).toBe("-");
  });
});

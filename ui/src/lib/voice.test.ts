import { describe, expect, it } from "vitest";
import { LocalVoice, type Speech } from "./voice";
import { spokenNumber, whole } from "./words/spoken";

describe("a reading said aloud", () => {
  it("is a whole number in words", () => {
    expect([0, 13, 20, 47, 100, 403, 1016, 2300].map(whole)).toEqual([
      "zero",
      "thirteen",
      "twenty",
      "forty-seven",
      "one hundred",
      "four hundred three",
      "one thousand sixteen",
      "two thousand three hundred",
    ]);
  });

  it("has its fraction as a tape is read", () => {
    expect(spokenNumber("10 7/16", "in")).toBe("ten and seven sixteenths");
    expect(spokenNumber("10 1/2", "in")).toBe("ten and a half");
    expect(spokenNumber("9 1/32", "in32")).toBe("nine and one thirty-second");
    expect(spokenNumber("3/4", "in")).toBe("three quarters");
  });

  it("has its decimals one by one, and the sign of a gauge in words", () => {
    expect(spokenNumber("403.5", "mm")).toBe("four hundred three point five");
    expect(spokenNumber("60,3", "cm")).toBe("sixty point three");
    expect(spokenNumber("-2.69", "°")).toBe("nose-up two point six nine");
  });

  it("is left as typed in any other shape", () => {
    expect(spokenNumber("60.0 cm", "in")).toBe("60.0 cm");
  });
});

describe("the voice", () => {
  const speech = (voices: { localService: boolean; lang: string }[]) => {
    const log: string[] = [];
    const made: Speech = {
      voices: () => voices,
      cancel: () => log.push("cancel"),
      speak: (words, voice) => log.push(`${voice}: ${words}`),
    };
    return { made, log };
  };

  it("is one of this device, and never one that needs a network", () => {
    const { made, log } = speech([
      { localService: false, lang: "en-US" },
      { localService: true, lang: "de-DE" },
      { localService: true, lang: "en-GB" },
    ]);
    const voice = new LocalVoice(made);
    expect(voice.ready).toBe(true);
    voice.say("ten");
    voice.say("eleven");
    expect(log).toEqual(["cancel", "2: ten", "cancel", "2: eleven"]);
  });

  it("is silent where there is none", () => {
    for (const voices of [[], [{ localService: false, lang: "en-US" }]]) {
      const { made, log } = speech(voices);
      const voice = new LocalVoice(made);
      voice.say("ten");
      expect([voice.ready, log]).toEqual([false, []]);
    }
    expect(new LocalVoice(null).ready).toBe(false);
  });
});

// What the Settling tab asks, and which answer stays.
import { describe, expect, it } from "vitest";
import SETTLING from "../../../tests/fixtures/settling.json";
import type { SettlingView } from "../../bindings/SettlingView";
import type { Ask } from "../backend/backend";
import { SettlingState } from "./settling.svelte";

const view = SETTLING.settled as unknown as SettlingView;

describe("the settling tab", () => {
  it("keeps the answer to the last question, whichever comes first", async () => {
    const answers: ((view: SettlingView) => void)[] = [];
    const ask = (() => new Promise((answer) => answers.push(answer))) as unknown as Ask;
    const settling = new SettlingState(ask, "c");
    const first = settling.see();
    const second = settling.choose({ kind: "frame_rail" });
    answers[1]?.({ ...view, kind: "frame_rail" });
    await second;
    answers[0]?.(view);
    await first;
    expect(settling.view?.kind).toBe("frame_rail");
  });

  it("keeps what was shown where the next question fails, and says why", async () => {
    let fails = false;
    const ask = (async () => {
      if (fails) throw { code: "x", sentence: "No.", hint: "", fields: [] };
      return view;
    }) as unknown as Ask;
    const settling = new SettlingState(ask, "c");
    await settling.see();
    fails = true;
    await settling.choose({ kind: "rocker" });
    expect([settling.view?.headline, settling.problem?.sentence]).toEqual([view.headline, "No."]);
  });
});

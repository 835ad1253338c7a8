// The order of what is kept and what is taken, and what happens when the disk says no.
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { INSTRUMENTS, ROADSTER, walkView } from "../../../tests/fixtures/views";
import type { InstrumentRow } from "../../bindings/InstrumentRow";
import type { WalkView } from "../../bindings/WalkView";
import { backend, type Carrier } from "../backend/backend";
import { withInchDigit, withStripMark } from "../entry";
import { DRAFT_DELAY_MS, WalkState } from "./walk.svelte";

const RAIL = { stem: "rail", words: "frame rail, painted mark", s: 330 };
const walk = (read: number, rest: Partial<WalkView> = {}) => walkView(ROADSTER, "in", [RAIL], 2, read, rest);

interface Asked {
  verb: string;
  text?: string;
  step?: number;
  request_id?: string;
  insist?: boolean;
  instrument?: string | null;
}

/** A backend that answers from a script and remembers what it was asked; `read_length` is left out. */
function scripted(answers: Record<string, (request: Asked) => unknown>) {
  const asked: Asked[] = [];
  const carry: Carrier = async (verb, request) => {
    if (verb === "read_length") return { value_mm: 0, printed: "", other: "" };
    asked.push({ verb, ...(request as object) });
    const answer = answers[verb];
    if (!answer) throw new Error(`nobody answers ${verb}`);
    return answer(request as Asked);
  };
  return {
    ask: backend(carry),
    asked,
    verbs: () => asked.map(({ verb, text }) => (text === undefined ? verb : `${verb} ${text}`)),
  };
}

const digit = (key: string) => (text: string) => withInchDigit(text, key);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe("typing", () => {
  it("shows a key at once and keeps it within a tenth of a second", async () => {
    const store = scripted({ keep_draft: () => null });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("1"));
    state.edit(digit("0"));
    expect(state.text).toBe("10");
    expect(store.verbs()).toEqual([]);
    expect(DRAFT_DELAY_MS).toBeLessThanOrEqual(100);
    await vi.advanceTimersByTimeAsync(100);
    expect(store.verbs()).toEqual(["keep_draft 10"]);
  });

  it("starts from the text that was half typed when it was left", () => {
    const state = new WalkState(scripted({}).ask, walk(3, { draft: "10 7" }));
    expect(state.text).toBe("10 7");
    expect(state.step?.ref).toBe("rail.RL");
  });

  it("is kept before the screen is left", async () => {
    const store = scripted({ keep_draft: () => null });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("9"));
    await state.leave();
    expect(store.verbs()).toEqual(["keep_draft 9"]);
  });
});

describe("taking", () => {
  it("keeps the draft first, and steps on only when the store has answered", async () => {
    let answer: (view: WalkView) => void = () => {};
    const store = scripted({ keep_draft: () => null, take_reading: () => new Promise((done) => (answer = done)) });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("9"));
    state.edit((text) => withStripMark(text, 7));
    const taken = state.take();
    await vi.advanceTimersByTimeAsync(0);
    expect(store.verbs()).toEqual(["keep_draft 9 7/16", "take_reading 9 7/16"]);
    expect(state.at).toBe(0);
    expect(state.text).toBe("9 7/16");
    answer(walk(1));
    expect(await taken).toBe(true);
    expect(state.at).toBe(1);
    expect(state.text).toBe("");
  });

  it("gives keys pressed meanwhile to the next step", async () => {
    let answer: (view: WalkView) => void = () => {};
    const store = scripted({ keep_draft: () => null, take_reading: () => new Promise((done) => (answer = done)) });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("9"));
    const taken = state.take();
    await vi.advanceTimersByTimeAsync(0);
    state.edit(digit("1"));
    state.edit(digit("2"));
    expect(state.text).toBe("9");
    answer(walk(1));
    await taken;
    expect([state.at, state.text]).toEqual([1, "12"]);
  });

  it("takes once however often the key is pressed", async () => {
    let answer: (view: WalkView) => void = () => {};
    const store = scripted({ keep_draft: () => null, take_reading: () => new Promise((done) => (answer = done)) });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("9"));
    const first = state.take();
    expect(await state.take()).toBe(false);
    await vi.advanceTimersByTimeAsync(0);
    answer(walk(1));
    await first;
    expect(store.asked.filter(({ verb }) => verb === "take_reading")).toHaveLength(1);
  });

  it("keeps the text and asks again under the same number when saving fails", async () => {
    let full = true;
    const store = scripted({
      keep_draft: () => null,
      take_reading: () => {
        if (full) throw { code: "disk_full", sentence: "The disk is full.", hint: "Make room and try again." };
        return walk(1);
      },
    });
    const state = new WalkState(store.ask, walk(0));
    state.edit(digit("9"));
    expect(await state.take()).toBe(false);
    expect([state.text, state.at, state.unsaved?.sentence]).toEqual(["9", 0, "The disk is full."]);
    full = false;
    await state.again();
    expect([state.at, state.unsaved]).toEqual([1, null]);
    const [first, second] = store.asked.filter(({ verb }) => verb === "take_reading");
    expect(second?.request_id).toBe(first?.request_id);
    expect(first?.request_id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });

  it("says beside the read-out what cannot be read, keeps it, and insists only where the person was asked", async () => {
    const field = { field: "text", typed: "16", sentence: "16° is steeper than any rail.", hint: "Read it again." };
    const store = scripted({
      keep_draft: () => null,
      take_reading: ({ insist }) => {
        if (!insist) throw { code: "steep", sentence: field.sentence, hint: field.hint, fields: [field] };
        return walk(1);
      },
    });
    const state = new WalkState(store.ask, walk(0));
    state.edit(() => "16");
    expect(await state.take()).toBe(false);
    expect([state.text, state.unsaved, state.problem?.code]).toEqual(["16", null, "steep"]);
    expect(await state.take()).toBe(true);
    expect(store.asked.filter(({ verb }) => verb === "take_reading").map(({ insist }) => insist)).toEqual([
      false,
      true,
    ]);
  });

  it("does not insist on text that could not be read", async () => {
    const field = {
      field: "text",
      typed: "1 5/12",
      sentence: "1 5/12 is not on a tape.",
      hint: "",
      proposals: ["1 1/2"],
    };
    const store = scripted({
      keep_draft: () => null,
      take_reading: () => {
        throw { code: "field_unreadable", sentence: field.sentence, hint: "", fields: [field] };
      },
    });
    const state = new WalkState(store.ask, walk(0));
    state.edit(() => "1 5/12");
    await state.take();
    await state.take();
    expect(store.asked.filter(({ verb }) => verb === "take_reading").every(({ insist }) => insist === false)).toBe(
      true,
    );
    state.edit(() => "1 1/2");
    expect(state.problem).toBeNull();
  });
});

describe("a repeat that differs", () => {
  const differs = {
    step: 4,
    from: "repeats" as const,
    sentence: "These two differ by 11 mm.",
    hint: "",
    values: [325, 336],
    printed: ["12 13/16", "13 1/4"],
    labels: ["round 1", "round 2"],
    rounds: [1, 2],
  };

  it("asks in place, and a third reading goes to the same mark", async () => {
    const store = scripted({ keep_draft: () => null, take_reading: () => walk(6) });
    const state = new WalkState(store.ask, walk(5, { differs }));
    expect([state.asking, state.at, state.text]).toEqual([true, 4, ""]);
    state.edit(digit("9"));
    await state.take();
    expect(store.asked.find(({ verb }) => verb === "take_reading")?.step).toBe(4);
    expect(state.asking).toBe(false);
  });

  it("asks again where the walk is opened with the question, with the half-typed third reading", async () => {
    const store = scripted({ keep_draft: () => null, take_reading: () => walk(6) });
    const state = new WalkState(store.ask, walk(5, { differs, draft: "12 7" }));
    expect([state.asking, state.at, state.text]).toEqual([true, 4, "12 7"]);
    await state.take();
    expect(store.asked).toMatchObject([{ verb: "take_reading", step: 4, text: "12 7" }]);
  });

  it("keeps a half-typed third reading at its mark, and leaves it there where both are kept", async () => {
    const store = scripted({ keep_draft: () => null, go_to_step: () => walk(5) });
    const state = new WalkState(store.ask, walk(5, { differs }));
    state.edit(digit("9"));
    await vi.advanceTimersByTimeAsync(100);
    expect(store.asked).toMatchObject([{ verb: "keep_draft", step: 4, text: "9" }]);
    await state.keepBoth();
    expect(store.asked.at(-1)).toMatchObject({ verb: "go_to_step", step: 5 });
    expect([state.asking, state.at, state.text]).toEqual([false, 5, ""]);
  });

  it("tells the store that both are kept, so that it does not ask again, and goes on", async () => {
    const store = scripted({ go_to_step: () => walk(5) });
    const state = new WalkState(store.ask, walk(5, { differs, draft: "7" }));
    const told = state.keepBoth();
    expect([state.asking, state.at, state.text]).toEqual([false, 5, ""]);
    state.edit(digit("1"));
    await told;
    expect(store.asked).toMatchObject([{ verb: "go_to_step", step: 5 }]);
    expect([state.asking, state.at, state.text]).toEqual([false, 5, "1"]);
  });

  it("strikes the round that is named, with its reason", async () => {
    const store = scripted({ strike_reading: () => walk(5) });
    const state = new WalkState(store.ask, walk(5, { differs }));
    await state.strike(1, "wrong edge");
    expect(store.asked).toMatchObject([{ verb: "strike_reading", step: 0, reason: "wrong edge" }]);
  });
});

describe("undo", () => {
  it("waits for what is being kept, whatever became of it", async () => {
    const store = scripted({
      keep_draft: () => {
        throw { code: "disk_full", sentence: "The disk is full.", hint: "" };
      },
      undo_reading: () => walk(0, { taken_back: { step: 0, words: "front left rail, 10 7/16" } }),
    });
    const state = new WalkState(store.ask, walk(1));
    state.edit(digit("9"));
    await state.undo();
    expect(store.verbs()).toEqual(["keep_draft 9", "undo_reading"]);
    expect([state.at, state.view.taken_back?.words]).toEqual([0, "front left rail, 10 7/16"]);
  });
});

describe("another tape in hand", () => {
  const mm: InstrumentRow = { ...INSTRUMENTS.tapes[0]!, instrument: "long", tape: "mm" };

  it("gives its unit to the keys and its name to what is taken, until it is put down", async () => {
    const store = scripted({ keep_draft: () => null, take_reading: () => walk(1) });
    const state = new WalkState(store.ask, walk(0));
    expect(state.tape).toBe("in");
    state.readWith(mm);
    expect(state.tape).toBe("mm");
    state.edit(() => "265");
    await state.take();
    state.readWith(null);
    state.edit(() => "10");
    await state.take();
    const taken = store.asked.filter(({ verb }) => verb === "take_reading");
    expect(taken.map(({ text, instrument }) => [text, instrument])).toEqual([
      ["265", "long"],
      ["10", null],
    ]);
  });

  it("has no part in an angle", () => {
    const gauge = walk(0);
    gauge.steps[0] = { ...gauge.steps[0]!, kind: "gauge" };
    const state = new WalkState(scripted({}).ask, gauge);
    state.readWith(mm);
    expect(state.tape).toBe("in");
  });
});

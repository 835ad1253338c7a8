// A filled sheet: what is typed, what is stored, what stands beside its cell, and what is asked at the end.
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { ROADSTER, walkView } from "../../../tests/fixtures/views";
import type { Differs } from "../../bindings/Differs";
import type { WalkView } from "../../bindings/WalkView";
import { backend, type Carrier } from "../backend/backend";
import { KeptForms } from "./kept-forms";
import { cellName, SheetState } from "./sheet.svelte";

const RAIL = { stem: "rail", words: "frame rail, painted mark", s: 330 };

interface Asked {
  step: number;
  text: string;
  insist: boolean;
  request_id: string;
}

/** A store with one walk, that knows numbers only. */
function store(kept: Record<string, string> = {}, slips: Differs[] = []) {
  let view: WalkView = walkView(ROADSTER, "mm", [RAIL], 2, 0);
  const asked: (Asked & { verb: string })[] = [];
  const forms: Record<string, string | null> = { ...kept };
  const carry: Carrier = async (verb, request) => {
    if (verb === "kept_forms") return { forms: kept };
    if (verb === "keep_form") {
      const { name, text } = request as { name: string; text: string | null };
      forms[name] = text;
      return null;
    }
    asked.push({ verb, ...(request as Asked) });
    if (verb === "check_sheet") return { slips };
    const { step: at, text } = request as Asked;
    if (verb === "enter_reading" && !/^\d*$/.test(text))
      throw {
        code: "field_unreadable",
        sentence: "",
        hint: "",
        fields: [{ field: "text", typed: text, sentence: "That is no number.", hint: "", proposals: ["400"] }],
      };
    const steps = view.steps.map((step, i) =>
      i === at ? { ...step, text: text || null, printed: text || null } : step,
    );
    view = { ...view, steps };
    return view;
  };
  const ask = backend(carry);
  return { ask, asked, forms, view: () => view };
}

async function opened(of = store()) {
  const forms = new KeptForms(of.ask, () => {});
  await forms.open();
  return new SheetState(of.ask, forms, of.view());
}

const cell = (sheet: SheetState, at: number) => {
  const step = sheet.view.steps[at];
  if (!step) throw new Error(`no cell ${at}`);
  return step;
};

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe("a cell", () => {
  it("is stored once when it is left, and asked for again only when it is changed", async () => {
    const of = store();
    const sheet = await opened(of);
    sheet.type(cell(sheet, 0), "400");
    expect(sheet.taken(cell(sheet, 0))).toBe(false);
    expect(await sheet.enter(cellName(cell(sheet, 0)))).toBe(true);
    expect(await sheet.enter(cellName(cell(sheet, 0)))).toBe(true);
    expect(sheet.taken(cell(sheet, 0))).toBe(true);
    sheet.type(cell(sheet, 0), "402");
    await sheet.enter(cellName(cell(sheet, 0)));
    expect(of.asked.map(({ text }) => text)).toEqual(["400", "402"]);
    expect(new Set(of.asked.map(({ request_id }) => request_id)).size).toBe(2);
  });

  it("keeps its text and shows what is wrong beside it, until it is changed", async () => {
    const of = store();
    const sheet = await opened(of);
    sheet.type(cell(sheet, 1), "4o4");
    expect(await sheet.enter(cellName(cell(sheet, 1)))).toBe(false);
    expect(sheet.problem(cell(sheet, 1))?.proposals).toEqual(["400"]);
    expect(sheet.text(cell(sheet, 1))).toBe("4o4");
    await sheet.enter(cellName(cell(sheet, 1)));
    expect(of.asked.length).toBe(1);
    expect(await sheet.check()).toBe(false);
    sheet.type(cell(sheet, 1), "404");
    expect(sheet.problem(cell(sheet, 1))).toBeNull();
    expect(await sheet.check()).toBe(true);
  });

  it("is half typed after a restart as before, and what reached the store is not", async () => {
    const of = store();
    const before = await opened(of);
    before.type(cell(before, 0), "400");
    before.type(cell(before, 3), "43");
    await vi.advanceTimersByTimeAsync(200);
    const name = `sheet ${of.view().snapshot}`;
    const kept = of.forms[name] ?? "";
    expect(kept).toContain("43");
    const again = store({ [name]: kept });
    await again.ask("enter_reading", { snapshot: "w", step: 0, text: "400", insist: false, request_id: "r" });
    const after = await opened(again);
    expect([after.text(cell(after, 3)), after.open]).toEqual(["43", 1]);
    expect(after.taken(cell(after, 0))).toBe(true);
  });
});

describe("at the end", () => {
  const slip: Differs = {
    step: 4,
    from: "repeats",
    sentence: "These two differ by 25 mm. Read it once more?",
    hint: "",
    values: [400, 425],
    printed: ["400", "425"],
    labels: ["round 1", "round 2"],
    rounds: [1, 2],
  };

  it("asks about all slips together, and not again about one that was answered, also after a restart", async () => {
    const of = store({}, [slip]);
    const sheet = await opened(of);
    await sheet.check();
    expect(sheet.asked).toEqual([slip]);
    sheet.answer(slip);
    expect(sheet.asked).toEqual([]);
    await vi.advanceTimersByTimeAsync(200);
    const name = `sheet ${of.view().snapshot}`;
    const after = await opened(store({ [name]: of.forms[name] ?? "" }, [slip, { ...slip, printed: ["400", "430"] }]));
    await after.check();
    expect(after.asked.map(({ printed }) => printed[1])).toEqual(["430"]);
  });
});

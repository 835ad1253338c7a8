// Choosing two stances: what is asked, what changes places, and what is let go when it is no longer there.
import { describe, expect, it } from "vitest";
import type { CompareAsk } from "../../bindings/CompareAsk";
import { AGAINST_TARGET, compareView, SINCE } from "../../../tests/fixtures/compare";
import type { Ask } from "../backend/backend";
import { CompareState } from "./compare.svelte";
import { KeptForms } from "./kept-forms";

const snapshot = (id: string) => ({ of: "snapshot" as const, id });

function opened(answer: (asked: CompareAsk) => unknown = () => compareView(SINCE)) {
  const asked: CompareAsk[] = [];
  const ask = (async (verb: string, request: unknown) => {
    if (verb !== "compare") return null;
    asked.push(request as CompareAsk);
    return answer(request as CompareAsk);
  }) as Ask;
  const forms = new KeptForms(ask, () => {});
  return { asked, forms, ask, state: new CompareState(ask, forms, "c") };
}

describe("choosing two stances", () => {
  it("leaves the choice to the app until something is chosen", async () => {
    const { state, asked } = opened();
    await state.open();
    expect(asked[0]).toEqual({ car: "c", this: null, other: null, kind: "", as_loaded: false, times: 5 });
    expect(state.view?.comparison?.other.label).toBe("day 14");
  });

  it("keeps what stands on the other side, and lets the two change places", async () => {
    const { state, asked } = opened();
    await state.open();
    await state.choose("other", { of: "target", id: "t1" });
    expect(asked[1]).toMatchObject({ this: snapshot("s2"), other: { of: "target", id: "t1" } });
    // s1 stands on the other side of what is shown: it goes to this side, and s2 to its place.
    await state.choose("this", snapshot("s1"));
    expect(asked[2]).toMatchObject({ this: snapshot("s1"), other: snapshot("s2") });
    expect(state.picking).toBeNull();
  });

  it("is as it was when one comes back, with the exaggeration", async () => {
    const { state, forms, ask } = opened();
    await state.open();
    state.exaggerate(10);
    await state.choose("other", snapshot("s1"));
    await state.takeOut(false);
    const again = new CompareState(ask, forms, "c");
    expect(again.kept).toEqual({ this: snapshot("s2"), other: snapshot("s1"), kind: "", as_loaded: true, times: 10 });
    expect(new CompareState(ask, forms, "another").kept.times).toBe(5);
  });

  it("lets go what is no longer there, and says everything else", async () => {
    const problem = (code: string) => ({
      code,
      sentence: "This car has no target.",
      hint: "Choose another.",
      fields: [],
    });
    const { state, asked } = opened(({ other }) => {
      if (other?.id === "gone") throw problem("not_found");
      if (other?.id === "s2") throw problem("same_stance");
      return compareView(AGAINST_TARGET);
    });
    await state.open();
    await state.choose("other", { of: "target", id: "gone" });
    expect(asked.at(-1)).toMatchObject({ this: null, other: null });
    expect(state.problem).toBeNull();
    await state.choose("other", snapshot("s2"));
    expect(state.problem?.code).toBe("same_stance");
  });
});

import { expect, test } from "vitest";
import type { HistoryEntry } from "../../bindings/HistoryEntry";
import type { HistoryView } from "../../bindings/HistoryView";
import type { OpenHistory } from "../../bindings/OpenHistory";
import { HISTORY } from "../../../tests/fixtures/history";
import type { Ask } from "../backend/backend";
import { HistoryState } from "./history.svelte";

const STRETCH = 40;

/** A backend with so many entries; says which stretches were asked for. */
function long(total: number) {
  const asked: number[] = [];
  const [first] = HISTORY.entries;
  const all = Array.from({ length: total }, (_, n): HistoryEntry => ({ ...(first as HistoryEntry), id: `${n}` }));
  const ask = ((verb: string, request: OpenHistory) => {
    if (verb !== "open_history") return Promise.resolve(HISTORY);
    asked.push(request.after);
    const entries = all.slice(request.after, request.after + STRETCH);
    return Promise.resolve({ ...HISTORY, entries, total } satisfies HistoryView);
  }) as Ask;
  return { ask, asked };
}

test("a long history is asked for a stretch at a time, before its end is in sight", async () => {
  const { ask, asked } = long(100);
  const history = new HistoryState(ask, "c");
  await history.load();
  expect(history.entries).toHaveLength(40);
  await history.near(5);
  expect(asked).toEqual([0]);
  await Promise.all([history.near(20), history.near(21)]);
  expect(asked).toEqual([0, 40]);
  await history.whole();
  expect(history.entries.map(({ id }) => id)).toEqual(Array.from({ length: 100 }, (_, n) => `${n}`));
  expect(history.more).toBe(false);
  await history.near(99);
  expect(asked).toEqual([0, 40, 80]);
});

test("a stretch that comes late for another choice is let go", async () => {
  const answers: ((view: HistoryView) => void)[] = [];
  const ask = (() => new Promise((answer) => answers.push(answer))) as unknown as Ask;
  const history = new HistoryState(ask, "c");
  const first = history.load();
  const second = history.choose("work");
  answers[1]?.({ ...HISTORY, entries: HISTORY.entries.slice(0, 1), total: 1 });
  answers[0]?.(HISTORY);
  await Promise.all([first, second]);
  expect(history.entries).toHaveLength(1);
});

// How long the Settling tab takes to be drawn again: ten weeks, and ten years of weekly snapshots. Printed, nothing hangs on it.
import { mount, unmount, flushSync } from "svelte";
import { bench, describe } from "vitest";
import SETTLING from "../../../tests/fixtures/settling.json";
import type { SettlingView } from "../../bindings/SettlingView";
import SettlingPicture from "../../components/settling/SettlingPicture.svelte";
import StripPicture from "../../components/settling/StripPicture.svelte";
import { settlingShape } from "./settling";

const WEEKS = 520;
const ROOM = { width: 390, height: 332, margin: 16 };
const tenWeeks = SETTLING.settled as unknown as SettlingView;

/** The last day again every week. */
function tenYears(): SettlingView {
  const view = structuredClone(SETTLING.year) as unknown as SettlingView;
  const more = <T extends { at: number; snapshot: string }>(points: T[]) => {
    const last = points.at(-1);
    while (last && points.length < WEEKS) {
      const at = last.at + 7 * points.length;
      points.push({ ...last, at, snapshot: `w${points.length}` });
    }
  };
  view.ends.forEach(({ points }) => more(points));
  view.strips.forEach(({ points }) => more(points));
  view.last = Math.max(...view.ends.flatMap(({ points }) => points.map(({ at }) => at)));
  view.until = view.last + 60;
  return view;
}

const views = { "ten weeks": tenWeeks, "ten years of weeks": tenYears() };

for (const [name, view] of Object.entries(views))
  describe(name, () => {
    bench("geometry", () => {
      settlingShape(view, "mm", ROOM);
    });
    bench("picture, rake and lean into the page", () => {
      const target = document.createElement("div");
      const drawn = mount(SettlingPicture, {
        target,
        props: { view, unit: "mm", asText: false, tall: 332, margin: 16, open: () => undefined },
      });
      const strips = view.strips.map((strip) =>
        mount(StripPicture, { target, props: { strip, view, unit: "mm", asText: false, margin: 16 } }),
      );
      flushSync();
      [drawn, ...strips].forEach((one) => void unmount(one));
    });
  });

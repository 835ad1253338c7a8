// The ruled line of cells under a name: date, floor, load.
import type { Cell } from "../../components/shared/TitleBlock.svelte";
import { capital, day, firstClause } from "../format";

/** Date, floor with "levelled" or "not levelled", load; `last` takes the load's place ("Unfinished"). */
export function conditionCells(
  of: { date: string; floor: string; load: string },
  room: "narrow" | "phone" | "wide",
  last?: string,
  floorTap?: () => void,
  loadTap?: () => void,
): Cell[] {
  const { short, year } = day(of.date);
  const load = last ?? firstClause(of.load);
  const floor = capital(of.floor);
  // The year goes first where a line is full.
  const full = room === "narrow" || (room === "phone" && short.length + floor.length + load.length > 38);
  return [
    { words: full ? short : `${short} ${year}`.trim() },
    { words: floor, act: floorTap, test: "cell-floor" },
    { words: load, long: last ?? of.load, act: loadTap, test: "cell-load" },
  ].filter(({ words }) => words !== "");
}

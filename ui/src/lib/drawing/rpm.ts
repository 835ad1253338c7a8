// Engine speed over road speed: a line a gear from nought, named at its end; a limit keeps the picture to speeds of the table.
import type { DriveTable } from "../../bindings/DriveTable";
import { chart, through, type Box, type Chart } from "./chart";

export interface GearPath {
  gear: string;
  d: string;
  /** Where its name stands. */
  x: number;
  y: number;
  /** Its ±2u as an area. */
  band: string;
}

export interface RpmDrawing {
  chart: Chart;
  now: GearPath[];
  other: GearPath[];
}

/** Lowest end of the picture, turns a minute. */
const MOST_RPM = 6000;
/** Names closer than this would run together. */
const LINE_PX = 19;

/** `other`: the drive that is set beside the car's own; null where none is chosen. */
export function rpmDrawing(own: DriveTable, other: DriveTable | null, speeds: readonly number[], box: Box): RpmDrawing {
  const last = speeds.length - 1;
  const fastest = speeds[last] ?? 1;
  const all = [own, ...(other ? [other] : [])].flatMap((drive) => drive.gears.map(({ rpm }) => rpm[last] ?? 0));
  const most = Math.max(1000, Math.min(MOST_RPM, Math.max(...all)));
  const axes = chart([0, fastest], [0, most * 1.04], box, { columns: 7, rows: 6 });
  const paths = (drive: DriveTable): GearPath[] => {
    const taken: number[] = [];
    return [...drive.gears]
      .sort((a, b) => a.ratio - b.ratio)
      .map(({ gear, rpm, rpm_u }) => {
        const there = rpm[last] ?? 0;
        // A low gear leaves the picture at its upper edge.
        const part = Math.min(1, most / there);
        const u = (2 * (rpm_u[last] ?? 0)) / there;
        const [x, y] = [axes.x(fastest * part), axes.y(there * part)];
        const [high, low] = [axes.y(there * part * (1 + u)), axes.y(there * part * (1 - u))];
        const base = `${axes.x(0)} ${axes.y(0)}`;
        let name = y;
        while (part === 1 && taken.some((at) => Math.abs(at - name) < LINE_PX)) name -= 1;
        if (part === 1) taken.push(name);
        return {
          gear,
          d: through([
            [axes.x(0), axes.y(0)],
            [x, y],
          ]),
          x,
          y: name,
          band: `M${base}L${x} ${high}L${x} ${low}Z`,
        };
      });
  };
  return { chart: axes, now: paths(own), other: other ? paths(other) : [] };
}

// The links of a part from the side, to scale: nose left, everything seen, wheel and ground with it.
import type { SideLine } from "../../bindings/SideLine";
import type { SidePoint } from "../../bindings/SidePoint";
import { through } from "./chart";

export interface LinksDrawing {
  k: number;
  height: number;
  ground: number;
  x: (mm: number) => number;
  z: (mm: number) => number;
  path: (line: SideLine) => string;
  /** Ticks of 100 mm along the ground; every fifth is longer. */
  ticks: string;
}

/** Room round what is drawn, mm. */
const ROOM_MM = 90;

/** `hub`: middle of the wheel; `tallest`: most px of height. */
export function linksDrawing(
  points: readonly SidePoint[],
  lines: readonly SideLine[],
  hub: { x: number; radius: number },
  width: number,
  tallest: number,
): LinksDrawing {
  const all = [...points.map(({ x_mm, z_mm }) => [x_mm, z_mm] as const), ...lines.flatMap(({ points: line }) => line)];
  const xs = [...all.map(([x]) => x), hub.x - hub.radius, hub.x + hub.radius];
  const highest = Math.max(...all.map(([, z]) => z), hub.radius * 2) + ROOM_MM;
  const from = Math.max(...xs) + ROOM_MM;
  const to = Math.min(...xs) - ROOM_MM;
  const k = Math.min(width / (from - to), (tallest - 30) / highest);
  // What is narrower than the picture stands in its middle.
  const aside = (width - (from - to) * k) / 2;
  const ground = highest * k;
  const x = (mm: number) => aside + (from - mm) * k;
  const z = (mm: number) => ground - mm * k;
  const first = Math.ceil((to - aside / k) / 100);
  const count = Math.floor((from + aside / k) / 100) - first + 1;
  const tick = (i: number) =>
    `M${Math.round(x((first + i) * 100) * 10) / 10} ${ground}v${(first + i) % 5 === 0 ? 14 : 8}`;
  return {
    k,
    height: ground + 30,
    ground,
    x,
    z,
    path: ({ points: line }) => through(line.map(([along, up]) => [x(along ?? 0), z(up ?? 0)] as const)),
    ticks: Array.from({ length: Math.max(0, count) }, (_, i) => tick(i)).join(""),
  };
}

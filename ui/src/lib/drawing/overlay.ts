// One stance over another: heights drawn further apart than they are, and nothing else. Wheels, ground and lengths stay true.
import type { SideView } from "../../bindings/SideView";
import { risePx, type Scale } from "./side";

/** Lower than this above the ground a line would run through it, mm: the thickness of the ground line and its own. */
const CLEAR_MM = 30;

export interface Overlaid {
  figure: SideView;
  over: SideView;
}

/** Every height of `to` as far from that of `from` as `times` says. */
function further(from: SideView, to: SideView, times: number): SideView {
  const z = (a: number, b: number) => a + (b - a) * times;
  const figure = (a: SideView["front_mm"], b: SideView["front_mm"]) =>
    a.value == null || b.value == null ? b : { ...b, value: z(a.value, b.value) };
  const lip = (a: number | null, b: number | null) => (a === null || b === null ? b : z(a, b));
  return {
    ...to,
    front_mm: figure(from.front_mm, to.front_mm),
    rear_mm: figure(from.rear_mm, to.rear_mm),
    rail_front_mm: z(from.rail_front_mm, to.rail_front_mm),
    rail_rear_mm: z(from.rail_rear_mm, to.rail_rear_mm),
    lip_front_mm: lip(from.lip_front_mm, to.lip_front_mm),
    lip_rear_mm: lip(from.lip_rear_mm, to.lip_rear_mm),
  };
}

/** Both as they are drawn: the figure true and the other moved, or, where that would run through the ground, the other way round. */
export function overlaid(figure: SideView, over: SideView, times: number): Overlaid {
  const moved = further(figure, over, times);
  if (Math.min(moved.rail_front_mm, moved.rail_rear_mm) > CLEAR_MM) return { figure, over: moved };
  return { figure: further(over, figure, times), over };
}

/** Room over the ground for both at every exaggeration, px, so that the ground line stays where it is; at most a third more than for
    the car alone. */
export function roomPx(figure: SideView, over: SideView, scale: Scale, all: readonly number[]): number {
  const alone = Math.max(risePx(figure, scale), risePx(over, scale));
  const highest = all.flatMap((times) => {
    const both = overlaid(figure, over, times);
    return [risePx(both.figure, scale), risePx(both.over, scale)];
  });
  return Math.min(Math.max(alone, ...highest), alone * 1.33);
}

/** Where words beside two leaders stand: to the right of theirs, kept inside, and the second one a line lower where both have no room. */
export function besideLeaders(
  at: readonly [number, number],
  widths: readonly [number, number],
  width: number,
  gap = 9,
  edge = 16,
): [{ x: number; line: 0 | 1 }, { x: number; line: 0 | 1 }] {
  const place = (x: number, words: number) =>
    x + gap + words <= width - edge ? x + gap : Math.max(edge, x - gap - words);
  const [front, rear] = [place(at[0], widths[0]), place(at[1], widths[1])];
  return [
    { x: front, line: 0 },
    { x: rear, line: rear < front + widths[0] + 10 ? 1 : 0 },
  ];
}

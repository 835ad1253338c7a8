// A car on a ground as screen geometry: it faces left, one scale for both directions; a lens on the point; the gap along the way.
import type { RampCurve } from "../../bindings/RampCurve";
import type { RampLine } from "../../bindings/RampLine";
import type { RampPicture } from "../../bindings/RampPicture";
import { short, type Point } from "./curve";
import { overhangs } from "./fitted";
import { linear } from "./scale";
import { fit, risePx, sideShapes, type SideShapes } from "./side";

export interface RampShapes {
  width: number;
  height: number;
  shapes: SideShapes;
  /** Puts the car, drawn on level ground, onto the ground. */
  place: string;
  /** The ground's upper edge. */
  line: string;
  /** Solid under it, down to the foot of the picture. */
  solid: string;
  ticks: string[];
  /** Where the measured part ends, as far as it is in sight. */
  ends: Point[];
  at: Point;
  points: Point[];
  lens: Lens;
  /** Baseline of words at the ground's left end. */
  words: Point;
}

export interface Lens {
  cx: number;
  cy: number;
  r: number;
  /** From the ring round the point to the lens. */
  leader: string;
  /** The ground inside, closed. */
  solid: string;
  line: string;
  /** The part of the car that is in the ground, closed; or its lower edge where it is not. */
  part: string;
  inGround: boolean;
  /** Levels of the dimension: the ground and the point. */
  levels: [number, number];
  /** px a mm. */
  k: number;
}

const RING = 11;
/** How round the part of the car is drawn that only a point is known of, mm. */
const ROUND_MM = 180;

/** Everything the picture draws. `below`: room under the lower wheel, px. */
export function rampShapes(of: RampPicture, width: number, below: number, wide: boolean): RampShapes {
  const { side } = of;
  const margin = wide ? Math.round(width * 0.11) : 14;
  const overhang = overhangs(side);
  const [front, rear] = of.wheels;
  const reach = [overhang.front, overhang.rear].map((part) =>
    Math.max(part * side.wheelbase_mm, side.front_wheel.free_radius_mm + 60),
  );
  const [left, right] = [front[0] + (reach[0] ?? 0), rear[0] - (reach[1] ?? 0)];
  const k = (width - 2 * margin) / (left - right);
  const level = fit(side, width, margin, 0);
  const rise =
    risePx(side, { ...level, k }) +
    10 +
    Math.abs(Math.sin((of.nose_up_deg * Math.PI) / 180)) * side.wheelbase_mm * k * 0.15;
  const floorAt = (wheel: [number, number], radius: number) => wheel[1] - radius;
  const top = Math.max(
    floorAt(front, side.front_wheel.loaded_radius_mm),
    floorAt(rear, side.rear_wheel.loaded_radius_mm),
  );
  const low = Math.min(
    floorAt(front, side.front_wheel.loaded_radius_mm),
    floorAt(rear, side.rear_wheel.loaded_radius_mm),
  );
  const x = (s: number) => short(margin + (left - s) * k);
  const y = (z: number) => short(rise + (top - z) * k);
  const height = Math.round(rise + (top - low) * k + below);
  const edge = cut(of.ground, right - margin / k - 1, left + margin / k + 1).map(([s, z]): Point => [x(s), y(z)]);
  edge.reverse();
  const line = `M${edge.map((p) => p.join(",")).join("L")}`;
  const at: Point = [x(of.at[0]), y(of.at[1])];
  const scale = { k, x0: 0, ground: 0 };
  const radius = side.front_wheel.loaded_radius_mm * k;
  const turn = (of.nose_up_deg * Math.PI) / 180;
  const carried = of.points.map(([s, z]): Point => {
    const [dx, dy] = [s * k, -(z - side.front_wheel.loaded_radius_mm) * k];
    return [
      short(x(front[0]) + dx * Math.cos(turn) - dy * Math.sin(turn)),
      short(y(front[1]) + dx * Math.sin(turn) + dy * Math.cos(turn)),
    ];
  });
  return {
    width,
    height,
    shapes: sideShapes(side, scale),
    place: `translate(${x(front[0])} ${y(front[1])}) rotate(${short(of.nose_up_deg)}) translate(0 ${short(radius)})`,
    line,
    solid: `${line}V${height}H0Z`,
    ticks: ticks(of.ground, left + margin / k, right - margin / k, x, y),
    ends: of.known.filter((s) => s < left && s > right).map((s): Point => [x(s), y(heightAt(of.ground, s))]),
    at,
    points: carried,
    lens: lens(of, at, { width, height, x, y }),
    words: [16, short((edge[0]?.[1] ?? 0) + 30)],
  };
}

/** The ground between two places, with its corners and both cuts. */
export function cut(ground: readonly [number, number][], from: number, to: number): [number, number][] {
  const inside = ground.filter(([s]) => s > from && s < to);
  return [[from, heightAt(ground, from)], ...inside, [to, heightAt(ground, to)]];
}

/** Height of the ground for the drawing; straight on beyond its ends. */
export function heightAt(ground: readonly [number, number][], s: number): number {
  const found = ground.findIndex((corner) => corner[0] >= s);
  const after = found < 0 ? ground.length - 1 : Math.max(1, found);
  const [a, b] = [ground[after - 1], ground[after]];
  if (!a || !b) return 0;
  return b[0] === a[0] ? Math.max(a[1], b[1]) : a[1] + ((s - a[0]) / (b[0] - a[0])) * (b[1] - a[1]);
}

/** Every 100 mm along the ground, square to it, every fifth longer. */
function ticks(
  ground: readonly [number, number][],
  left: number,
  right: number,
  x: (s: number) => number,
  y: (z: number) => number,
): string[] {
  const marks: string[] = [];
  for (let n = Math.ceil(right / 100); n <= Math.floor(left / 100); n += 1) {
    const s = n * 100;
    const slope = (heightAt(ground, s + 5) - heightAt(ground, s - 5)) / 10;
    const length = (n % 5 === 0 ? 10 : 5.5) / Math.hypot(1, slope);
    marks.push(`M${x(s)} ${y(heightAt(ground, s))}l${short(-slope * length)} ${short(length)}`);
  }
  return marks;
}

interface Room {
  width: number;
  height: number;
  x: (s: number) => number;
  y: (z: number) => number;
}

/** The lens lies in the solid ground, to the right of the point where there is room. */
function lens(of: RampPicture, at: Point, room: Room): Lens {
  const r = Math.round(Math.min(74, room.width * 0.135));
  const gap = of.at[1] - heightAt(of.ground, of.at[0]);
  const k = Math.min(3, (0.62 * r) / Math.max(Math.abs(gap), 1e-6));
  const cx = Math.min(room.width - r - 16, Math.max(at[0] + 1.6 * r, r + 150));
  const under = Math.max(...[-r, 0, r].map((dx) => groundY(of, room, cx + dx)));
  const cy = Math.min(room.height - r - 8, Math.max(under + r + 14, at[1] + r + 26));
  const z0 = of.at[1] - gap / 2;
  const inX = (s: number) => short(cx - (s - of.at[0]) * k);
  const inY = (z: number) => short(cy - (z - z0) * k);
  const reach = (r + 4) / k;
  const edge = cut(of.ground, of.at[0] - reach, of.at[0] + reach).map(([s, z]): Point => [inX(s), inY(z)]);
  edge.reverse();
  const line = `M${edge.map((p) => p.join(",")).join("L")}`;
  const lowest = inY(of.at[1]);
  const round = ROUND_MM * k;
  const half = Math.min(round * 0.98, 2 * r);
  const up = short(round - Math.sqrt(round * round - half * half));
  const part = `M${short(cx - half)},${short(lowest - up)}A${short(round)},${short(round)} 0 0 0 ${short(cx + half)},${short(lowest - up)}`;
  const [dx, dy] = [cx - at[0], cy - at[1]];
  const far = Math.hypot(dx, dy) || 1;
  return {
    cx,
    cy,
    r,
    leader: `M${short(at[0] + (dx / far) * RING)} ${short(at[1] + (dy / far) * RING)}L${short(cx - (dx / far) * r)} ${short(cy - (dy / far) * r)}`,
    solid: `${line}V${short(cy + r + 4)}H${short(cx - r - 4)}Z`,
    line,
    part: `${part}V${short(cy - r - 6)}H${short(cx - half)}Z`,
    inGround: gap < 0,
    levels: [inY(heightAt(of.ground, of.at[0])), lowest],
    k,
  };
}

function groundY(of: RampPicture, room: Room, px: number): number {
  // From the screen back to the ground, by two known places.
  const [a, b] = [room.x(0), room.x(1000)];
  return room.y(heightAt(of.ground, ((px - a) / (b - a)) * 1000));
}

export interface CurveShapes {
  x: (s: number) => number;
  y: (gap: number) => number;
  lines: { line: RampLine; d: string }[];
  touching: [number, number] | null;
  labels: number[];
  minor: number[];
  foot: number;
}

const SHOWN_MM = 100;

/** The gap against the place, clipped at 100 mm. */
export function curveShapes(of: RampCurve, width: number, height: number): CurveShapes {
  const all = of.lines.flatMap(({ points }) => points.map(([, gap]) => gap));
  const least = Math.min(0, ...all);
  const x = linear(of.span, [46, width - 8]);
  const y = linear([SHOWN_MM, Math.max(least * 1.15, -SHOWN_MM)], [10, height - 58]);
  const lines = of.lines.map((line) => ({ line, d: clipped(line.points, x, y) }));
  const step = of.span[1] - of.span[0] > 4000 ? 1000 : 500;
  const every = (step: number) => {
    const first = Math.ceil(of.span[0] / step);
    return Array.from({ length: Math.max(0, Math.floor(of.span[1] / step) - first + 1) }, (_, i) => (first + i) * step);
  };
  return {
    x,
    y,
    lines,
    touching: of.touching && [x(of.touching[0]), x(of.touching[1])],
    labels: every(step),
    minor: every(100),
    foot: height - 58,
  };
}

/** Only what lies below the upper edge, cut at it. */
function clipped(points: readonly [number, number][], x: (s: number) => number, y: (gap: number) => number): string {
  const parts: string[] = [];
  let open = false;
  points.forEach(([s, gap], i) => {
    const before = points[i - 1];
    if (before && before[1] > SHOWN_MM !== gap > SHOWN_MM) {
      const at = before[0] + ((SHOWN_MM - before[1]) / (gap - before[1])) * (s - before[0]);
      parts.push(`${open ? "L" : "M"}${short(x(at))},${short(y(SHOWN_MM))}`);
      open = gap <= SHOWN_MM;
    }
    if (gap <= SHOWN_MM) {
      parts.push(`${open ? "L" : "M"}${short(x(s))},${short(y(gap))}`);
      open = true;
    }
  });
  return parts.join("");
}

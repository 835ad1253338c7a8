// A section through one wheel in its opening, seen from behind so that left stays left, to scale: paths from millimetres to pixels.
import type { FitScene } from "../../bindings/FitScene";
import type { WheelShape } from "../../bindings/WheelShape";

/** Hundredths of a px are enough. */
export const round = (value: number) => Math.round(value * 100) / 100;

/** Outboard of the present tire's middle, and over the floor, mm. */
export type At = [out: number, up: number];

export interface OpeningShapes {
  /** Where the ground is drawn, px. */
  ground: number;
  /** px a mm. */
  k: number;
  skin: string;
  house: string;
  now: WheelPaths;
  other: WheelPaths | null;
  frame: string | null;
  rail: string | null;
  spring: string | null;
  shock: string | null;
  rod: [number, number] | null;
  axle: string;
  drum: string;
  disc: string;
  /** Ticks of 100 mm on the ground. */
  ticks: { x: number; long: boolean }[];
  /** Where a gap is drawn: from the tire to the place, px, the height it is dimensioned at, and that of the place itself. */
  gap: (place: string, other: boolean) => { from: number; to: number; y: number; at: number } | null;
}

export interface WheelPaths {
  lobes: string[];
  rim: string;
}

/** Rounding of a tire's cut, parts of the section height. */
const SHOULDER = 1 / 3;
/** How far a skin stands outside of its lip, and a frame box reaches inboard, mm. */
const SKIN_MM = 22;
const BOX: [wide: number, high: number] = [62, 108];
const SPRING_MM = 88;

const INBOARD = ["fender_inner", "frame", "spring", "rod", "shock"];

function place(scene: FitScene, name: string) {
  return scene.places.find((one) => one.place === name);
}

/** Picture mm that have to fit: outboard, inboard, up. */
export function extent(scene: FitScene): [number, number, number] {
  const half = scene.now.section_mm / 2;
  const outer = half + (place(scene, "fender_outer")?.gap_mm ?? 40) + SKIN_MM + 34;
  const reach = INBOARD.map((name) => place(scene, name)?.gap_mm ?? 0);
  const inner = Math.max(half + Math.max(120, ...reach) + BOX[0] + 60, 3.4 * scene.now.section_mm);
  const top = scene.now.loaded_mm + scene.now.radius_mm + (place(scene, "above")?.gap_mm ?? 80) + 62;
  return [outer, inner, top];
}

/**
 * Everything of the picture in a width; `left` where outboard is at the left, `up` how far the wheel has gone up, mm.
 */
export function openingShapes(scene: FitScene, width: number, tall: number, left: boolean, up: number): OpeningShapes {
  const [outer, inner, top] = extent(scene);
  const k = Math.min(width / (outer + inner), tall / top);
  const ground = top * k + 4;
  const x0 = left ? outer * k : width - outer * k;
  const sx = left ? -1 : 1;
  const px = ([out, z]: At): [number, number] => [x0 + sx * out * k, ground - z * k];
  const line = (points: At[]) => points.map((point, i) => `${i ? "L" : "M"}${px(point).map(round).join(" ")}`).join("");
  const half = scene.now.section_mm / 2;
  const gap = (name: string) => place(scene, name)?.gap_mm;
  const lipOut = half + (gap("fender_outer") ?? 40);
  const crown = scene.now.loaded_mm + scene.now.radius_mm + (gap("above") ?? 80);
  const lipUp = place(scene, "fender_outer")?.height_mm ?? scene.now.loaded_mm + 0.78 * scene.now.radius_mm;
  const wallOut = -(half + (gap("fender_inner") ?? Math.max(90, (gap("spring") ?? 0) + SPRING_MM + 12)));
  const far = -Math.max(inner + 60, width / k - outer + 60);
  const curve = (points: At[]) => {
    const [first, ...rest] = points.map(px);
    if (!first) return "";
    let path = `M${round(first[0])} ${round(first[1])}`;
    for (let i = 0; i + 2 < rest.length; i += 3) {
      path += `C${rest
        .slice(i, i + 3)
        .map((point) => point.map(round).join(" "))
        .join(" ")}`;
    }
    return path;
  };
  const skin =
    line([
      [lipOut, lipUp + 6],
      [lipOut + 4, lipUp],
      [lipOut + SKIN_MM, lipUp + 2],
    ]) +
    curve([
      [lipOut + SKIN_MM, lipUp + 2],
      [lipOut + SKIN_MM + 8, lipUp + 0.5 * (crown - lipUp) + 30],
      [lipOut - 10, crown + 40],
      [half * 0.2, crown + 48],
      [-half, crown + 54],
      [far * 0.6, crown + 54],
      [far, crown + 54],
    ]).replace(/^M[^C]*/, "");
  const house =
    line([[lipOut, lipUp + 6]]) +
    curve([
      [lipOut, lipUp + 6],
      [lipOut - 2, lipUp + 0.7 * (crown - lipUp)],
      [lipOut - 30, crown],
      [half * 0.3, crown],
      [-half * 0.6, crown],
      [wallOut, crown - 6],
      [wallOut, crown - 70],
    ]).replace(/^M[^C]*/, "") +
    line([
      [wallOut, crown - 70],
      [wallOut, scene.now.loaded_mm + 0.35 * scene.now.radius_mm],
    ]).replace(/^M[^L]*/, "");
  const moved = (shape: WheelShape) => wheelPaths(shape, shape.loaded_mm + up, line, up > 0);
  const hub = scene.now.loaded_mm + up;
  const frameOut = gap("frame") === undefined ? null : -(half + gap("frame")!);
  const frameUp = Math.min(
    Math.max(place(scene, "frame")?.height_mm ?? 0.8 * scene.now.loaded_mm, BOX[1] / 2 + 90),
    crown,
  );
  const box = (out: number): At[] => [
    [out, frameUp + BOX[1] / 2],
    [out - BOX[0], frameUp + BOX[1] / 2],
    [out - BOX[0], frameUp - BOX[1] / 2],
    [out, frameUp - BOX[1] / 2],
  ];
  const springOut = gap("spring") === undefined ? null : -(half + gap("spring")!);
  const shockOut = gap("shock") === undefined ? null : -(half + gap("shock")!);
  const rodOut = gap("rod") === undefined ? null : -(half + gap("rod")!);
  const face = scene.now.offset_mm;
  const pitch = 100 * k;
  const first = ((x0 % pitch) + pitch) % pitch;
  return {
    ground,
    k,
    skin,
    house,
    now: moved(scene.now),
    other: scene.other && moved(scene.other),
    frame: frameOut === null ? null : `${line(box(frameOut))}Z`,
    rail:
      frameOut === null
        ? null
        : line([
            [frameOut + 3, frameUp - BOX[1] / 2],
            [frameOut - BOX[0] - 3, frameUp - BOX[1] / 2],
          ]),
    spring: springOut === null ? null : coil(springOut, hub * 0.75, crown - 40, line),
    shock:
      shockOut === null
        ? null
        : `${line([
            [shockOut, hub * 0.6],
            [shockOut - 40, hub * 0.6],
            [shockOut - 40, crown - 60],
            [shockOut, crown - 60],
          ])}Z`,
    rod: rodOut === null ? null : px([rodOut - 14, place(scene, "rod")?.height_mm ?? hub * 0.7]),
    axle: `${line([
      [face - 60, hub + 26],
      [far, hub + 26],
      [far, hub - 26],
      [face - 60, hub - 26],
    ])}Z`,
    drum: `${line([
      [face - 6, hub + 132],
      [face - 74, hub + 132],
      [face - 74, hub - 132],
      [face - 6, hub - 132],
    ])}Z`,
    disc: line([
      [scene.now.rim_width_mm * 0.18, hub + scene.now.rim_diameter_mm / 2 - 14],
      [face, hub + 96],
      [face, hub - 96],
      [scene.now.rim_width_mm * 0.18, hub - scene.now.rim_diameter_mm / 2 + 14],
    ]),
    ticks: Array.from({ length: Math.floor(width / pitch) + 2 }, (_, i) => ({
      x: first + (i - 1) * pitch,
      long: i % 5 === 0,
    })),
    gap: (name, other) => {
      const shape = other && scene.other ? scene.other : scene.now;
      const edge = shape.section_mm / 2;
      const y = ground - (shape.loaded_mm + up + 0.5 * (shape.radius_mm + shape.rim_diameter_mm / 2)) * k;
      if (name === "fender_outer") {
        return { from: px([shape.out_mm + edge, 0])[0], to: px([lipOut, 0])[0], y, at: px([0, lipUp])[1] };
      }
      const mm = gap(name);
      if (mm === undefined || !INBOARD.includes(name)) return null;
      const height = place(scene, name)?.height_mm ?? (name === "frame" ? frameUp : hub);
      return { from: px([shape.out_mm - edge, 0])[0], to: px([-(half + mm), 0])[0], y, at: px([0, height])[1] };
    },
  };
}

/** Both cuts of the tire and the rim between them. */
function wheelPaths(shape: WheelShape, hub: number, line: (points: At[]) => string, lifted: boolean): WheelPaths {
  const rim = shape.rim_diameter_mm / 2;
  const height = Math.max(shape.radius_mm - rim, 10);
  const half = shape.section_mm / 2;
  const bead = Math.min(shape.rim_width_mm / 2, half);
  const round = Math.min(SHOULDER * height, half);
  /** One side of a cut, from the bead outward over the widest part to the tread: as parts of the height, and widths. */
  const side = (reach: number): At[] => {
    const points: At[] = [
      [bead, 0],
      [bead + (half - bead) * 0.6, 0.1 * reach],
      [half, 0.42 * reach],
      [half, reach - Math.min(round, 0.5 * reach)],
    ];
    for (let step = 1; step <= 8; step += 1) {
      const turn = (step / 8) * (Math.PI / 2);
      const shoulder = Math.min(round, 0.5 * reach);
      points.push([half - round + round * Math.cos(turn), reach - shoulder + shoulder * Math.sin(turn)]);
    }
    return points;
  };
  const cut = (from: number, reach: number, way: number) => {
    const right = side(reach);
    const all: At[] = [...right, ...[...right].reverse().map(([out, up]): At => [-out, up])];
    return `${line(all.map(([out, up]): At => [shape.out_mm + out, from + way * up]))}Z`;
  };
  // On the floor the lower cut is pressed flat; a lifted wheel hangs round.
  const below = lifted ? height : Math.max(shape.loaded_mm - rim, 8);
  return {
    lobes: [cut(hub + rim, height, 1), cut(hub - rim, below, -1)],
    rim:
      line([
        [shape.out_mm + bead, hub + rim],
        [shape.out_mm + bead, hub - rim],
      ]) +
      line([
        [shape.out_mm - bead, hub + rim],
        [shape.out_mm - bead, hub - rim],
      ]),
  };
}

function coil(out: number, low: number, high: number, line: (points: At[]) => string): string {
  const turns = 10;
  const points = Array.from({ length: turns + 1 }, (_, i): At => [
    i % 2 === 0 ? out - 6 : out - SPRING_MM + 6,
    low + ((high - low) * i) / turns,
  ]);
  return line(points);
}

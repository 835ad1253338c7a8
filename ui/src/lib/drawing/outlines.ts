// Our own outlines, in thousandths of the wheelbase: s behind the front axle, h above the rail line. All plain on purpose;
// none of them is a certain car. Side views ride on the rail line by shear; plan views are half outlines to be mirrored.
import type { Outline } from "../../bindings/Outline";

export interface SideShape {
  /** Filled body, drawn over the wheels where `closed`, under them otherwise. */
  body: string;
  /** Closed bodies: lower edge from the rocker and two wheel openings whose tops are the lips. */
  closed: boolean;
  /** More filled pieces in front of the body, closed shapes. */
  pieces: string[];
  /** Lines of weight 1.5: windscreen. */
  strokes: string[];
  /** Lines of weight 0.75: doors, belt, glass. */
  details: string[];
  lamp: { s: number; h: number; r: number } | null;
  /** Separate fenders: outer edges over the front and rear wheel, front to back. */
  fenders: { front: string; rear: string } | null;
  /** Room in front of the front axle and behind the rear axle, in wheelbases. */
  overhang: { front: number; rear: number };
  /** Height of the highest anchor. */
  top: number;
}

export interface PlanShape {
  /** Half outline, nose to tail: s, y. */
  half: string;
  /** Lines drawn on both sides. */
  mirrored: string[];
  /** Lines drawn once. */
  once: string[];
  /** Open cars show their axles, and their tires stand clear of the body. */
  axles: boolean;
}

const louvers = Array.from({ length: 14 }, (_, i) => {
  const s = 68 + i * 18.6;
  return `${s - 2},${214 - i * 0.3} ${s + 2},${154 - i * 0.5}`;
});

export const SIDE: Record<Outline, SideShape> = {
  roadster: {
    body: "2,44c 4,262c 120,272 250,281 352,288c 398,283 430,268c 470,250 560,243 640,246 700,262 728,272c 770,277 860,268 950,240 1050,190 1140,124 1188,66 1186,42c 1000,42c",
    closed: false,
    pieces: ["-30,22c -34,120 -24,250 -12,268c 8,270c 10,40c"],
    strokes: ["402,284 458,372"],
    details: [
      ...louvers,
      "8,222 353,241",
      "353,287 353,44",
      "472,246 477,150 481,48",
      "669,252 676,150 656,48",
      "84,127 400,130 800,134 1080,138 1128,130",
    ],
    lamp: { s: -83, h: 170, r: 34 },
    fenders: null,
    overhang: { front: 0.18, rear: 0.3 },
    top: 372,
  },
  coupe: {
    body: "-268,30c -296,78 -292,128 -262,172 -200,196 -60,208 120,214 290,218c 352,262 430,306 540,330 650,330 750,308 840,268 920,232 990,216 1120,204 1240,184 1312,142 1330,90 1300,40c",
    closed: true,
    pieces: [],
    strokes: [],
    details: [
      "352,226c 400,280 450,310 562,314c 562,226c 352,226c",
      "578,226c 578,314c 680,304 780,268 848,232c 578,226c",
      "331,214 334,120 337,18",
      "708,222 698,118 711,18",
      "-291,120 -240,138 -105,155 320,158 760,160 1111,156 1240,144 1318,118",
    ],
    lamp: { s: -264, h: 150, r: 20 },
    fenders: null,
    overhang: { front: 0.31, rear: 0.35 },
    top: 331,
  },
  sedan: {
    body: "-250,40c -276,90 -270,150 -236,186 -150,204 60,218 240,226c 318,290 390,340 500,366 640,370 760,352 850,306 925,246 980,226c 1110,214 1210,186 1262,130 1262,60 1240,40c",
    closed: true,
    pieces: [],
    strokes: [],
    details: [
      "320,238c 372,292 430,332 566,349c 566,235c 320,238c",
      "595,236c 595,350c 700,346 790,318 864,240c 595,236c",
      "303,226 306,120 311,16",
      "581,234 581,16",
      "882,236 876,190 868,150",
      "-240,129 -150,146 85,161 587,173 1053,164 1258,150",
    ],
    lamp: { s: -246, h: 144, r: 22 },
    fenders: null,
    overhang: { front: 0.31, rear: 0.35 },
    top: 371,
  },
  pickup: {
    body: "-104,40c -128,110 -124,190 -100,226c 60,244 296,262c 330,318 372,366c 420,386 520,392 610,386 640,362c 646,228c 664,228c 1256,228c 1262,60c",
    closed: false,
    pieces: [],
    strokes: [],
    details: [
      "332,264c 360,318 400,352c 470,372 560,374 600,370c 618,352 618,268c 332,264c",
      "302,262 304,160 308,54",
      "649,228 649,54",
      "664,228 664,54",
      "-118,166 40,184 302,198 646,206",
      "664,208 1258,212",
      "864,210 864,100",
      "1060,211 1060,140",
    ],
    lamp: { s: -148, h: 158, r: 26 },
    fenders: {
      front: "-176,52c -150,98 -83,140 0,149 84,132 140,92 180,62 234,50c",
      rear: "766,50c 820,62 862,98 917,134 1000,145 1086,128 1148,84 1174,44c",
    },
    overhang: { front: 0.24, rear: 0.31 },
    top: 392,
  },
  bare_frame: {
    body: "",
    closed: false,
    pieces: [],
    strokes: [],
    details: [],
    lamp: null,
    fenders: null,
    overhang: { front: 0.24, rear: 0.3 },
    top: 160,
  },
};

/** Frame rail seen from the side: upper edge nose to tail, then lower edge tail to nose; the horn rises, the tail kicks up. */
export const FRAME = {
  upper: "-178,52c -130,43c 0,46c 880,46c 940,104 1040,112c 1128,82c 1240,66c",
  lower: "1240,34c 1128,48c 1040,66c 950,60 890,0c 0,0c -130,8c -178,15c",
};

/** Half width of a wheel opening, and height of the rocker edge. */
export const OPENING = { half: 139, rocker: 14, nose: 22, tail: 22 };

export const PLAN: Record<Outline, PlanShape> = {
  roadster: {
    half: "-36,0c -36,88c -24,103 40,118 354,184c 480,226 600,246 680,248 800,246 966,229 1080,196 1160,140 1192,66 1197,0c",
    mirrored: ["354,0c 354,184c", "453,0c 453,150 470,182c 560,206 680,198c 712,188 722,140 722,0c"],
    once: ["-36,0 354,0"],
    axles: true,
  },
  coupe: {
    half: "-288,0 -284,110 -262,200 -200,262 -110,296 0,303 300,306 700,308 1000,308 1160,296 1262,258 1316,170 1333,0",
    mirrored: ["306,0 308,120 327,232c 460,188 620,176 740,190 840,226c 840,0c"],
    once: ["327,-232c 327,232c"],
    axles: false,
  },
  sedan: {
    half: "-268,0 -264,120 -244,212 -180,272 -90,298 0,302 300,306 700,308 1000,306 1120,292 1200,252 1246,160 1262,0",
    mirrored: ["270,0 274,130 300,226c 460,196 700,192 860,206 930,222c 944,120 946,0"],
    once: ["300,-226c 300,226c", "930,-222c 930,222c"],
    axles: false,
  },
  pickup: {
    half: "-149,0 -147,140 -126,222 -70,262 0,280 150,296 500,306 900,306 1100,302 1214,286 1258,236 1274,140 1277,0",
    mirrored: ["331,0c 331,236c", "660,0c 660,268c"],
    once: ["-90,0 300,0"],
    axles: false,
  },
  bare_frame: {
    half: "-170,0c -170,132c 0,140 300,150 900,190 1230,196c 1230,0c",
    mirrored: ["-170,104c 0,112 300,122 900,160 1230,166c", "420,0c 420,126c", "820,0c 820,154c"],
    once: [],
    axles: true,
  },
};

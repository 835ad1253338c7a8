//! The car from its left, as the interface draws it: anchors in thousandths of the wheelbase, behind the front axle and above the
//! rail line; a `c` behind an anchor marks a corner.

use trueground_core::car::Outline;

/// What is drawn of an outline.
pub(super) struct Shape {
    /// The body, nose to tail over the roof.
    pub(super) body: &'static str,
    /// Its lower edge is the rocker with two wheel openings, drawn over the wheels.
    pub(super) closed: bool,
    /// More filled pieces.
    pub(super) pieces: &'static [&'static str],
    /// Heavy lines.
    pub(super) strokes: &'static [&'static str],
    /// Fine lines: doors, belt, glass.
    pub(super) details: &'static [&'static str],
    /// Headlamp: place and radius.
    pub(super) lamp: Option<(f64, f64, f64)>,
    /// Separate fenders, front and rear.
    pub(super) fenders: Option<(&'static str, &'static str)>,
    /// Room before the front axle and behind the rear axle, wheelbases.
    pub(super) overhang: (f64, f64),
    /// Highest anchor.
    pub(super) top: f64,
}

/// Frame rail: upper edge nose to tail, lower edge tail to nose.
pub(super) const FRAME: [&str; 2] = [
    "-178,52c -130,43c 0,46c 880,46c 940,104 1040,112c 1128,82c 1240,66c",
    "1240,34c 1128,48c 1040,66c 950,60 890,0c 0,0c -130,8c -178,15c",
];

/// The shape of an outline.
pub(super) const fn shape(outline: Outline) -> Shape {
    match outline {
        Outline::Roadster => Shape {
            body: "2,44c 4,262c 120,272 250,281 352,288c 398,283 430,268c 470,250 560,243 640,246 700,262 728,272c 770,277 860,268 950,240 1050,190 1140,124 1188,66 1186,42c 1000,42c",
            closed: false,
            pieces: &["-30,22c -34,120 -24,250 -12,268c 8,270c 10,40c"],
            strokes: &["402,284 458,372"],
            details: &[
                "66,214 70,154",
                "84.6,213.7 88.6,153.5",
                "103.2,213.4 107.2,153",
                "121.8,213.1 125.8,152.5",
                "140.4,212.8 144.4,152",
                "159,212.5 163,151.5",
                "177.6,212.2 181.6,151",
                "196.2,211.9 200.2,150.5",
                "214.8,211.6 218.8,150",
                "233.4,211.3 237.4,149.5",
                "252,211 256,149",
                "270.6,210.7 274.6,148.5",
                "289.2,210.4 293.2,148",
                "307.8,210.1 311.8,147.5",
                "8,222 353,241",
                "353,287 353,44",
                "472,246 477,150 481,48",
                "669,252 676,150 656,48",
                "84,127 400,130 800,134 1080,138 1128,130",
            ],
            lamp: Some((-83.0, 170.0, 34.0)),
            fenders: None,
            overhang: (0.18, 0.3),
            top: 372.0,
        },
        Outline::Coupe => Shape {
            body: "-268,30c -296,78 -292,128 -262,172 -200,196 -60,208 120,214 290,218c 352,262 430,306 540,330 650,330 750,308 840,268 920,232 990,216 1120,204 1240,184 1312,142 1330,90 1300,40c",
            closed: true,
            pieces: &[],
            strokes: &[],
            details: &[
                "352,226c 400,280 450,310 562,314c 562,226c 352,226c",
                "578,226c 578,314c 680,304 780,268 848,232c 578,226c",
                "331,214 334,120 337,18",
                "708,222 698,118 711,18",
                "-291,120 -240,138 -105,155 320,158 760,160 1111,156 1240,144 1318,118",
            ],
            lamp: Some((-264.0, 150.0, 20.0)),
            fenders: None,
            overhang: (0.31, 0.35),
            top: 331.0,
        },
        Outline::Sedan => Shape {
            body: "-250,40c -276,90 -270,150 -236,186 -150,204 60,218 240,226c 318,290 390,340 500,366 640,370 760,352 850,306 925,246 980,226c 1110,214 1210,186 1262,130 1262,60 1240,40c",
            closed: true,
            pieces: &[],
            strokes: &[],
            details: &[
                "320,238c 372,292 430,332 566,349c 566,235c 320,238c",
                "595,236c 595,350c 700,346 790,318 864,240c 595,236c",
                "303,226 306,120 311,16",
                "581,234 581,16",
                "882,236 876,190 868,150",
                "-240,129 -150,146 85,161 587,173 1053,164 1258,150",
            ],
            lamp: Some((-246.0, 144.0, 22.0)),
            fenders: None,
            overhang: (0.31, 0.35),
            top: 371.0,
        },
        Outline::Pickup => Shape {
            body: "-104,40c -128,110 -124,190 -100,226c 60,244 296,262c 330,318 372,366c 420,386 520,392 610,386 640,362c 646,228c 664,228c 1256,228c 1262,60c",
            closed: false,
            pieces: &[],
            strokes: &[],
            details: &[
                "332,264c 360,318 400,352c 470,372 560,374 600,370c 618,352 618,268c 332,264c",
                "302,262 304,160 308,54",
                "649,228 649,54",
                "664,228 664,54",
                "-118,166 40,184 302,198 646,206",
                "664,208 1258,212",
                "864,210 864,100",
                "1060,211 1060,140",
            ],
            lamp: Some((-148.0, 158.0, 26.0)),
            fenders: Some((
                "-176,52c -150,98 -83,140 0,149 84,132 140,92 180,62 234,50c",
                "766,50c 820,62 862,98 917,134 1000,145 1086,128 1148,84 1174,44c",
            )),
            overhang: (0.24, 0.31),
            top: 392.0,
        },
        Outline::BareFrame => Shape {
            body: "",
            closed: false,
            pieces: &[],
            strokes: &[],
            details: &[],
            lamp: None,
            fenders: None,
            overhang: (0.24, 0.3),
            top: 160.0,
        },
    }
}

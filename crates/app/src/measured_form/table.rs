//! What each part's form asks, and where in the car's description it goes.

use crate::wire::MeasuredPart;
use trueground_core::car::GapPlace;
use trueground_core::corner::Corner;

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    /// A length with the tape's own units; below 0 too.
    Length,
    /// Degrees; below 0 too.
    Degrees,
    /// Kilograms, or pounds with their unit.
    Kg,
    /// A name.
    Words,
    /// A tire's marking.
    Marking,
    /// One of these; the first stands for not said where its value is empty.
    Choice(&'static [(&'static str, &'static str)]),
}

/// A field: path under the part, words, kind, hint. `must`: as soon as anything of its group (what stands before the last point) is typed.
#[derive(Clone, Debug)]
pub(super) struct Ask {
    pub(super) path: String,
    pub(super) words: String,
    pub(super) kind: Kind,
    pub(super) hint: &'static str,
    pub(super) must: bool,
}

/// Fields that belong together.
#[derive(Clone, Debug)]
pub(super) struct Section {
    pub(super) title: &'static str,
    pub(super) good: &'static str,
    pub(super) asks: Vec<Ask>,
}

fn ask(path: &str, words: &str, kind: Kind, hint: &'static str) -> Ask {
    Ask { path: path.to_owned(), words: words.to_owned(), kind, hint, must: false }
}

fn must(path: &str, words: &str, kind: Kind, hint: &'static str) -> Ask {
    Ask { must: true, ..ask(path, words, kind, hint) }
}

fn section(title: &'static str, good: &'static str, asks: Vec<Ask>) -> Section {
    Section { title, good, asks }
}

use Kind::{Choice, Degrees, Kg, Length, Marking, Words};

const UNDER: &str =
    "Wheels on the ground or on rated stands on solid floor. Never put any part of you under a car held by a jack.";
const GAP: &str = "Engine off, wheels chocked: fingers out of the gap before anything moves.";

/// What to know at the step.
pub(super) const fn caution(part: MeasuredPart) -> &'static str {
    match part {
        MeasuredPart::Wheel | MeasuredPart::Steer => GAP,
        MeasuredPart::OtherWheel => "A gap that clears does not make a wheel or a spacer approved.",
        MeasuredPart::Travel | MeasuredPart::Square | MeasuredPart::Jack | MeasuredPart::JackPoint => UNDER,
        MeasuredPart::Strap => "Straps carry the whole car: rated ones, at points that are made for them.",
        MeasuredPart::Weighed => "Brake on and wheels chocked before anybody walks round the car on its scales.",
        MeasuredPart::Radiator => "A hot radiator is under pressure: let it cool before it is opened.",
    }
}

/// The form's sections.
pub(super) fn sections(part: MeasuredPart, of: &str) -> Vec<Section> {
    match part {
        MeasuredPart::Wheel => wheel(Corner::from_code(of).is_some_and(Corner::is_front)),
        MeasuredPart::Steer => steer(),
        MeasuredPart::OtherWheel => other_wheel(),
        MeasuredPart::Travel => travel(),
        MeasuredPart::Square => square(),
        MeasuredPart::Jack => vec![section(
            "",
            "",
            vec![
                must("label", "What do you call it?", Words, "low trolley jack"),
                must("saddle_low_mm", "Saddle all the way down", Length, "floor to the top of the saddle"),
                ask("saddle_high_mm", "Saddle all the way up", Length, ""),
            ],
        )],
        MeasuredPart::JackPoint => vec![section(
            "",
            "",
            vec![
                must("label", "What is it?", Words, "front cross-member"),
                ask("attach", "It goes with", ATTACH, ""),
                must("x_mm", "Ahead of the front axle", Length, "behind it with a minus: -2650"),
                ask("y_mm", "Left of the middle", Length, "right of it with a minus"),
                must("z_mm", "Above the floor", Length, "as the car stands"),
            ],
        )],
        MeasuredPart::Strap => vec![section(
            "",
            "",
            vec![
                must("label", "What do you call it?", Words, "front pair"),
                must("x_mm", "Where it holds the body, ahead of the front axle", Length, "behind it with a minus"),
                must(
                    "pull_kg",
                    "Pull of all its straps together",
                    Kg,
                    "as a ratchet is pulled by hand: about 150 kg each",
                ),
                must("down_deg", "How steeply it goes down", Degrees, "0 level, 90 straight down"),
            ],
        )],
        MeasuredPart::Weighed => weighed(),
        MeasuredPart::Radiator => vec![section(
            "",
            "",
            vec![
                must("core_height_mm", "Core height before", Length, "without the tanks"),
                must("core_width_mm", "Core width", Length, ""),
                must("sectioned_mm", "Taken out of the height", Length, ""),
            ],
        )],
    }
}

const ATTACH: Kind = Choice(&[
    ("body", "the body"),
    ("frame", "the frame"),
    ("front_axle", "the front axle"),
    ("rear_axle", "the rear axle"),
]);

fn rim() -> Vec<Ask> {
    vec![
        ask("rim_width_mm", "Rim width between the beads", Length, "as stamped: 6 in"),
        ask("offset_mm", "Offset", Length, "as stamped, ET or IS; or backspacing"),
        ask("backspacing_mm", "Backspacing", Length, "inner rim edge to the mounting face"),
        ask("section_width_mm", "Widest part of the tire", Length, "empty: by its marking and the rim"),
        ask("max_load_kg", "What the sidewall says it carries", Kg, "empty: by its load index"),
    ]
}

fn wheel(front: bool) -> Vec<Section> {
    let to = |place: GapPlace| match place {
        GapPlace::FenderOuter => "To the fender lip",
        GapPlace::FenderInner => "To the wheel house",
        GapPlace::Frame => "To the frame rail",
        GapPlace::Spring => "To the spring",
        GapPlace::Rod => "To a rod, arm or hose",
        GapPlace::Shock => "To the shock",
        GapPlace::Ahead => "Ahead of the tread",
        GapPlace::Behind => "Behind the tread",
        GapPlace::Above => "Above the tread",
    };
    let gaps = |key: &str, of: &dyn Fn(GapPlace) -> bool, needed: bool| {
        let places = GapPlace::ALL.into_iter().filter(|place| of(*place));
        places
            .map(|place| Ask { must: needed, ..ask(&format!("gaps.{}.{key}", place.code()), to(place), Length, "") })
            .collect::<Vec<_>>()
    };
    let steered = |place: GapPlace| place != GapPlace::Above;
    let beside = |place: GapPlace| !matches!(place, GapPlace::Ahead | GapPlace::Behind | GapPlace::Above);
    let mut sections = vec![
        section("Gaps as it stands", "", gaps("at_rest_mm", &|_| true, true)),
        section("The wheel that is on it", "what another wheel would change", rim()),
        section(
            "Gaps with this wheel at the top of its travel",
            "full bump without reckoning",
            gaps("at_bump_mm", &|_| true, false),
        ),
    ];
    if front {
        sections.push(section(
            "Least gaps from lock to lock",
            "full lock without reckoning",
            gaps("at_lock_mm", &steered, false),
        ));
        sections.push(section(
            "How high above the floor each is nearest",
            "a sharper answer at full lock",
            gaps("height_mm", &beside, false),
        ));
        sections.push(section(
            "How far ahead of the wheel centre each stands",
            "for a spring, rod or shock; a rail needs none",
            gaps("along_mm", &|place| matches!(place, GapPlace::Spring | GapPlace::Rod | GapPlace::Shock), false),
        ));
    }
    sections
}

fn steer() -> Vec<Section> {
    vec![section(
        "",
        "",
        vec![
            must(
                "lock_inner_deg",
                "The wheel inside the turn, from straight ahead to its lock",
                Degrees,
                "a straight-edge along the rim, chalk on the floor",
            ),
            ask("lock_outer_deg", "The wheel outside the turn", Degrees, "empty: as far"),
            ask(
                "kingpin_to_face_mm",
                "Kingpin to the wheel’s mounting face",
                Length,
                "at the height of the wheel centre",
            ),
            ask(
                "scrub_radius_mm",
                "Or scrub radius",
                Length,
                "a rod along the kingpin to the floor; from there to the tire’s middle",
            ),
            ask("kingpin_lean_deg", "The kingpin leans inward", Degrees, "empty: 7"),
        ],
    )]
}

fn other_wheel() -> Vec<Section> {
    let mut rim = rim();
    for ask in &mut rim {
        if ask.path == "rim_width_mm" {
            ask.must = true;
        }
    }
    let mut first = vec![
        must("label", "What do you call it?", Words, "205 on 7 inch"),
        ask("axle", "It is for", Choice(&[("", "both axles"), ("front", "the front"), ("rear", "the rear")]), ""),
        must("marking", "Marking of its tire", Marking, "205/70R15 96T"),
    ];
    first.append(&mut rim);
    first.push(ask("spacer_mm", "Spacer behind it", Length, ""));
    first.push(ask("free_diameter_mm", "Its diameter, where measured", Length, "empty: by the marking"));
    vec![section("", "", first)]
}

fn travel() -> Vec<Section> {
    let side = Choice(&[("left", "on the left"), ("right", "on the right")]);
    let ends = Choice(&[("", "at one end"), ("true", "at both ends")]);
    vec![
        section(
            "Up and down",
            "",
            vec![
                ask("frame_gap_mm", "Axle to the frame above it", Length, "iron to iron, as it stands"),
                ask("stop_gap_mm", "Axle to the bump stop", Length, "to the rubber"),
                ask("stop_gives_mm", "What the rubber gives", Length, "until it is solid"),
                ask("droop_mm", "Down until something holds it", Length, "frame on stands, axle hanging"),
            ],
        ),
        section(
            "Shock absorber",
            "its length left both ways",
            vec![
                must("shock.length_mm", "Pin to pin as it stands", Length, ""),
                must("shock.shortest_mm", "Pushed in", Length, ""),
                must("shock.longest_mm", "Pulled out", Length, ""),
                ask("shock.lean_deg", "Leaning from upright", Degrees, "empty: upright"),
            ],
        ),
        section(
            "Brake hose",
            "whether it reaches at full droop",
            vec![
                must("hose.length_mm", "The hose laid straight", Length, ""),
                must("hose.span_mm", "Its ends apart as it hangs", Length, ""),
            ],
        ),
        section(
            "Shackle",
            "how it swings",
            vec![
                must("shackle.length_mm", "Pin to pin", Length, ""),
                must("shackle.angle_deg", "From upright", Degrees, "positive the way a longer spring pushes it"),
                must("shackle.spring_length_mm", "Spring, eye to eye", Length, ""),
                must(
                    "shackle.arch_mm",
                    "Its arch over the line of the eyes",
                    Length,
                    "loaded; below the line with a minus",
                ),
                ask("shackle.both_ends", "Shackles", ends, ""),
            ],
        ),
        section(
            "Track bar",
            "how far it shifts the axle",
            vec![
                must("track_bar.length_mm", "End to end", Length, ""),
                ask("track_bar.rise_mm", "Axle end above the frame end", Length, "empty: level; below it with a minus"),
                ask("track_bar.frame_end", "Its frame end is", side, ""),
            ],
        ),
    ]
}

fn square() -> Vec<Section> {
    let toe = |axle: &str, words: &str| {
        vec![
            must(
                &format!("toe_{axle}.front_mm"),
                &format!("{words}, across the front of the tires"),
                Length,
                "scribed lines, at hub height",
            ),
            must(
                &format!("toe_{axle}.rear_mm"),
                &format!("{words}, across the rear of them"),
                Length,
                "rolled forward half a turn",
            ),
            ask(
                &format!("toe_{axle}.apart_mm"),
                "From the front mark to the rear one",
                Length,
                "empty: the tire’s diameter",
            ),
        ]
    };
    let caster = |corner: Corner| {
        let at = |key: &str| format!("caster.{corner}.{key}");
        let words = |what: &str| format!("{}, {what}", capital(corner.words()));
        vec![
            ask(&at("gauge_deg"), &words("caster by gauge"), Degrees, "or the three below"),
            ask(&at("steered_deg"), &words("steered each way"), Degrees, "20"),
            ask(&at("camber_out_deg"), &words("camber with its front out"), Degrees, ""),
            ask(&at("camber_in_deg"), &words("camber with its front in"), Degrees, ""),
        ]
    };
    let camber = Corner::ALL.map(|corner| {
        ask(&format!("camber_deg.{corner}"), &capital(corner.words()), Degrees, "out at the top positive")
    });
    vec![
        section(
            "Wheelbases",
            "",
            vec![
                ask("wheelbase_left_mm", "On the left", Length, "wheel centre to wheel centre"),
                ask("wheelbase_right_mm", "On the right", Length, ""),
            ],
        ),
        section(
            "Diagonals of the frame",
            "whether one rail stands ahead",
            vec![
                must("diagonals.0.label", "Between which points?", Words, "front horns to rear cross-member"),
                must("diagonals.0.left_front_to_right_rear_mm", "Left front to right rear", Length, ""),
                must("diagonals.0.right_front_to_left_rear_mm", "Right front to left rear", Length, ""),
                ask("diagonals.0.apart_mm", "Front points to rear points, along the car", Length, ""),
            ],
        ),
        section(
            "Toe",
            "rear minus front, in positive",
            [toe("front", "Front wheels"), toe("rear", "Rear wheels")].concat(),
        ),
        section("Camber", "by gauge; the floor’s lean is taken out", camber.into()),
        section("Caster", "by gauge or by a swing", [caster(Corner::FL), caster(Corner::FR)].concat()),
        section(
            "The floor it stood on",
            "without it camber and caster are good to ±1°",
            vec![
                must("floor.rear_higher_deg", "Rear wheels higher", Degrees, "lower with a minus"),
                must("floor.left_higher_front_deg", "Left wheel higher, front", Degrees, ""),
                must("floor.left_higher_rear_deg", "Left wheel higher, rear", Degrees, ""),
            ],
        ),
    ]
}

pub(super) fn capital(words: &str) -> String {
    crate::words::capital(words)
}

fn weighed() -> Vec<Section> {
    let wheel = |corner: Corner| {
        let words = format!("Under the {} wheel", corner.words());
        must(&format!("wheels_kg.{}", corner.code()), &words, Kg, "")
    };
    vec![
        section(
            "Scale ticket",
            "What stands on each axle with the nominal load: the tires are held against it, with what is aboard moved to them.",
            vec![
                must("axles_kg.front", "Front axle", Kg, "as the ticket says"),
                must("axles_kg.rear", "Rear axle", Kg, ""),
            ],
        ),
        section(
            "A scale under each wheel",
            "Better than half of an axle: springs seldom carry both sides alike.",
            Corner::ALL.map(wheel).into(),
        ),
        section(
            "Weighed again with the rear raised",
            "How high the weight sits. Springs blocked, tanks as before; it stands on rated stands, never on a jack.",
            vec![
                must("raised.front_kg", "Front axle then", Kg, ""),
                must("raised.lift_mm", "Rear axle raised by", Length, "at the wheel centres"),
                must("raised.axle_height_mm", "Wheel centres above the ground, level", Length, ""),
            ],
        ),
    ]
}

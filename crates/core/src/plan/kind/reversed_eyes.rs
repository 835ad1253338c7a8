//! Main-leaf eyes turned over: lower by about one eye diameter, 25 to 40 mm [common practice, no source]. One eye of a spring with its axle
//! at mid length: half of that. Eyes centred on the leaf (Berlin eyes): half of what turning them over does [a spring maker's rules].

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, INSTEAD, Kind, Moves, Refusal, Takes, Worked, doubted, number,
    the, whole,
};

/// "About one eye diameter" [common practice, no source].
const REL_U: f64 = 0.1;

pub(super) const KIND: Kind = Kind {
    code: "reversed_eyes",
    words: "eyes reversed",
    does: "Lower by about one eye diameter, 25 to 40 mm (common practice, no source).",
    fields: &[
        number("eye_diameter_mm", "Eye diameter, outside", 10.0, 80.0, "mm"),
        Field {
            key: "eyes",
            words: "Which eyes, both unless said",
            takes: Takes::Choice(&["both", "one", "both_berlin", "one_berlin"]),
        },
    ],
    moves: Moves::Spring,
    side_effects: &["shackle angle", "spring-to-frame clearance", "bump travel"],
    cautions: &[Caution::SpringsHoldEnergy, Caution::NeverHeatSprings],
    event: EventKind::EyesReversed,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let eye = given.required("eye_diameter_mm", INSTEAD)?;
    let (part, words) = match given.choice("eyes").unwrap_or("both") {
        "one" => (0.5, "half of an eye diameter"),
        "both_berlin" => (0.5, "half of an eye diameter, the eyes centred on the leaf"),
        "one_berlin" => (0.25, "a quarter of an eye diameter, one eye centred on the leaf"),
        _ => (1.0, "one eye diameter"),
    };
    Ok(Worked::new(
        Effect::spring_at(the(end), doubted(-eye * part, REL_U, 2.0)),
        format!("{words}, {} mm", whole(eye * part)),
    ))
}

//! Main-leaf eyes turned over: lower by about one eye diameter, 25 to 40 mm [common practice, no source].

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, number, the, whole,
};

/// "About one eye diameter" [common practice, no source].
const REL_U: f64 = 0.1;

pub(super) const KIND: Kind = Kind {
    code: "reversed_eyes",
    words: "eyes reversed",
    does: "Lower by about one eye diameter, 25 to 40 mm (common practice, no source).",
    fields: &[number("eye_diameter_mm", "Eye diameter, outside", 10.0, 80.0, "mm")],
    moves: Moves::Spring,
    side_effects: &["shackle angle", "spring-to-frame clearance", "bump travel"],
    cautions: &[Caution::SpringsHoldEnergy, Caution::NeverHeatSprings],
    event: EventKind::EyesReversed,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let eye = given.required("eye_diameter_mm", INSTEAD)?;
    Ok(Worked::new(
        Effect::spring_at(the(end), doubted(-eye, REL_U, 2.0)),
        format!("one eye diameter, {} mm", whole(eye)),
    ))
}

//! Spring perch moved up on the axle's side, or the spring's seat: 1 to 1.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "perch",
    words: "spring perch moved",
    does: "Lower by as much as the perch is moved: 1 to 1.",
    fields: &[mm("lower_mm", "How far it lets the car down", 200.0)],
    moves: Moves::Spring,
    side_effects: &["shackle angle", "bump travel", "steering arms to frame"],
    cautions: &[Caution::AxleAndSteering],
    event: EventKind::SpringPerch,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let down = given.required("lower_mm", INSTEAD)?;
    Ok(Worked::new(Effect::spring_at(the(end), doubted(-down, 0.0, 1.0)), format!("1 to 1: {} mm", whole(down))))
}

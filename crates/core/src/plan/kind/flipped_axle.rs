//! Axle moved from under the springs to over them: lower by axle and spring pack where they sat on each other.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "flipped_axle",
    words: "axle over the springs",
    does: "Lower by the spring pack and the axle at their seats: 1 to 1.",
    fields: &[mm("lower_mm", "Axle and spring pack at their seat", 300.0)],
    moves: Moves::Spring,
    side_effects: &["axle to frame", "pinion angle", "brake hoses and lines", "shock lengths", "driveshaft tunnel"],
    cautions: &[Caution::AxleAndSteering, Caution::SpringsHoldEnergy],
    event: EventKind::SpringPerch,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let down = given.required("lower_mm", INSTEAD)?;
    Ok(Worked::new(Effect::spring_at(the(end), doubted(-down, 0.0, 2.0)), format!("1 to 1: {} mm", whole(down))))
}

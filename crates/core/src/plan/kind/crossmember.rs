//! Front or rear cross-member flattened: the spring's seat rises in the frame, the frame comes down 1 to 1.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "crossmember",
    words: "cross-member flattened",
    does: "Lower by as much as the spring's seat rises in the frame: 1 to 1.",
    fields: &[mm("flattened_mm", "How much flatter", 150.0)],
    moves: Moves::Spring,
    side_effects: &["spring-to-frame clearance", "bump travel", "fan and radiator"],
    cautions: &[Caution::Frame],
    event: EventKind::FrameWork,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let down = given.required("flattened_mm", INSTEAD)?;
    Ok(Worked::new(Effect::spring_at(the(end), doubted(-down, 0.0, 2.0)), format!("1 to 1: {} mm", whole(down))))
}

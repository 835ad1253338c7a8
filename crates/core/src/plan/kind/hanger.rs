//! Spring hanger moved up the frame: one of the two ends of a spring, so half of it [common practice, no source].

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "hanger",
    words: "spring hanger moved",
    does: "Lower by half of what one hanger moves up the frame (common practice, no source).",
    fields: &[mm("up_mm", "How far it moves up the frame", 200.0)],
    moves: Moves::Spring,
    side_effects: &["shackle angle", "pinion angle or caster: the spring slopes otherwise", "bump travel"],
    cautions: &[Caution::Frame],
    event: EventKind::FrameWork,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let up = given.required("up_mm", INSTEAD)?;
    Ok(Worked::new(
        Effect::spring_at(the(end), doubted(-up / 2.0, 0.1, 1.0)),
        format!("half of {} mm: one end of the spring", whole(up)),
    ))
}

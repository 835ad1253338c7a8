//! Kick-up (Z): the rail is stepped up over the axle, and the whole frame ahead of it comes down 1 to 1 at that axle.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "kick_up",
    words: "kick-up (Z)",
    does: "Lower by the step at that axle: 1 to 1. What is left above the axle is its travel.",
    fields: &[mm("height_mm", "Height of the step", 400.0)],
    moves: Moves::Frame,
    side_effects: &[
        "axle-to-frame travel is whatever is left above the axle",
        "driveshaft tunnel",
        "brake lines and hoses",
        "floor and bed",
    ],
    cautions: &[Caution::Frame],
    event: EventKind::FrameWork,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let down = given.required("height_mm", INSTEAD)?;
    Ok(Worked::new(Effect::frame_at(the(end), doubted(-down, 0.0, 2.0)), format!("1 to 1: {} mm", whole(down))))
}

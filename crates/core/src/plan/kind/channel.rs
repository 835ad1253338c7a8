//! Body channelled over the frame: the body comes down by the depth, the frame stays.

use super::{Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, whole};

pub(super) const KIND: Kind = Kind {
    code: "channel",
    words: "body channelled",
    does: "The body comes down over the frame by the depth; frame, axle clearance and caster stay.",
    fields: &[mm("depth_mm", "Depth", 300.0)],
    moves: Moves::Body,
    side_effects: &[
        "pedals, floor and steering column",
        "grille and radiator come down with the hood line: less cooling area",
        "headlights",
    ],
    cautions: &[Caution::Frame],
    event: EventKind::Channelled,
    work,
};

fn work(given: &Given, _: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    let depth = given.required("depth_mm", INSTEAD)?;
    let effect = Effect { body_over_frame_mm: doubted(-depth, 0.0, 2.0), ..Effect::NONE };
    Ok(Worked::new(effect, format!("the body over the frame, {} mm", whole(depth))))
}

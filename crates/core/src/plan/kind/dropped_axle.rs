//! Dropped axle: the beam hangs lower between the spindles, and all on it 1 to 1; the wheel centres stay.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "dropped_axle",
    words: "dropped axle",
    does: "Lower by its drop: 1 to 1. Wheel centres stay; the beam and what hangs on it come down too.",
    fields: &[mm("drop_mm", "Drop of the beam below the spindles", 250.0)],
    moves: Moves::Frame,
    side_effects: &["tie rod and steering arms to frame and ground", "drag link slope: bump steer", "brake hoses"],
    cautions: &[Caution::AxleAndSteering],
    event: EventKind::DroppedAxle,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let drop = given.required("drop_mm", INSTEAD)?;
    let rise = doubted(-drop, 0.0, 1.0);
    let mut effect = Effect::frame_at(the(end), rise);
    effect.axle_mm[the(end).index()] = rise;
    Ok(Worked::new(effect, format!("1 to 1: {} mm", whole(drop))))
}

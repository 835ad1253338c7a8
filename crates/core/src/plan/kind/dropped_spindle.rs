//! Dropped spindle: the wheel sits higher on its upright, the arms come down with the frame 1 to 1; the wheel centre stays.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, mm, the, whole,
};

pub(super) const KIND: Kind = Kind {
    code: "dropped_spindle",
    words: "dropped spindle",
    does: "Lower by its drop: 1 to 1. Wheel centres stay; the arms come down too.",
    fields: &[mm("drop_mm", "How much higher the spindle sits", 250.0)],
    moves: Moves::Frame,
    side_effects: &["steering arms and tie rods: bump steer", "rim to upright", "brake hoses"],
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

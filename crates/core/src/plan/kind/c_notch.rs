//! C-notch: room above the axle; moves nothing.

use super::{Car, Caution, Effect, End, EventKind, Given, Kind, Moves, Refusal, Worked, doubted, mm, the, whole};

pub(super) const KIND: Kind = Kind {
    code: "c_notch",
    words: "C-notch",
    does: "Moves nothing; the axle gains the depth of the notch above it.",
    fields: &[mm("depth_mm", "Depth of the notch", 200.0)],
    moves: Moves::Nothing,
    side_effects: &["driveshaft to tunnel at the new full bump", "brake hose length", "damper length"],
    cautions: &[Caution::Frame],
    event: EventKind::FrameWork,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let depth = given.required("depth_mm", "")?;
    let mut effect = Effect::NONE;
    effect.travel_mm[the(end).index()] = doubted(depth, 0.0, 2.0);
    Ok(Worked::new(effect, format!("{} mm more room above the axle", whole(depth))))
}

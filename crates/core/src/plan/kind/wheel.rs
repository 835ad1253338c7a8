//! Other wheels: move nothing up or down; edges move by half of the width less or plus the offset.

use super::{Car, Caution, Effect, End, EventKind, Given, Kind, Moves, Refusal, Worked, number};

pub(super) const KIND: Kind = Kind {
    code: "wheel",
    words: "other wheels",
    does: "Moves nothing up or down. Outer edge by width/2 − offset, inner edge by width/2 + offset.",
    fields: &[
        number("width_change_mm", "Change of the rim's width", -200.0, 200.0, "mm"),
        number("offset_change_mm", "Change of the offset, + moves the wheel in", -150.0, 150.0, "mm"),
    ],
    moves: Moves::Nothing,
    side_effects: &["tire to fender, spring and frame at bump and lock", "scrub radius", "track and wheel bearings"],
    cautions: &[Caution::NotApproved],
    event: EventKind::Wheels,
    work,
};

fn work(given: &Given, _: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    let (width, offset) = (given.number("width_change_mm"), given.number("offset_change_mm"));
    if width.is_none() && offset.is_none() {
        return Err(given.missing("width_change_mm", " or offset_change_mm"));
    }
    let (half, offset) = (width.unwrap_or(0.0) / 2.0, offset.unwrap_or(0.0));
    Ok(Worked::new(Effect::NONE, "moves nothing up or down").with(format!(
        "Outer edge {:+.0} mm, inner edge {:+.0} mm, track {:+.0} mm.",
        half - offset,
        half + offset,
        -2.0 * offset
    )))
}

//! Wedge shim: turns caster in front or the pinion behind, and moves nothing.

use super::{Car, Caution, Effect, End, EventKind, Given, Kind, Moves, Refusal, Worked, number, the};
use crate::uncertainty::Quantity;

/// Cut and seated [common practice, no source], degrees.
const U_DEG: f64 = 0.2;

pub(super) const KIND: Kind = Kind {
    code: "wedge",
    words: "wedge shim",
    does: "Turns caster in front, the pinion behind, by its angle; moves nothing.",
    fields: &[number("wedge_deg", "Its wedge, + adds caster or turns the pinion up", -12.0, 12.0, "deg")],
    moves: Moves::Nothing,
    side_effects: &["drag link slope: bump steer", "re-torque the U-bolts"],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::BlocksShims,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let wedge = given.required("wedge_deg", "")?;
    let turn = Quantity::new(wedge, U_DEG);
    let mut effect = Effect::NONE;
    if the(end) == End::Front {
        effect.caster_deg = turn
    } else {
        effect.pinion_deg = turn
    }
    Ok(Worked::new(effect, format!("{wedge}° of wedge")))
}

//! Air or hydraulic springs set to another height. Parked and driving are two stances: plan each by itself.

use super::{Car, End, EventKind, Given, Kind, Moves, Refusal, Worked};

pub(super) const KIND: Kind = Kind {
    code: "air",
    words: "air or hydraulic setting",
    does: "By the amount, as it was read once at that setting. Parked and driving heights are two stances.",
    fields: &[],
    moves: Moves::Spring,
    side_effects: &["bump travel", "driving height is another stance", "camber and toe"],
    cautions: &[],
    event: EventKind::Coils,
    work,
};

/// An amount is taken before this is asked.
fn work(given: &Given, _: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    Err(given.missing("amount_mm", ": how far this setting lifts (+) or lowers (-), read once with the tape"))
}

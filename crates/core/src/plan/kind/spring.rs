//! Another spring, or the same one set higher or lower, where only the height is known.

use super::{Car, Caution, End, EventKind, Given, Kind, Moves, Refusal, Worked};

pub(super) const KIND: Kind = Kind {
    code: "spring",
    words: "other spring or pack",
    does: "Frame and body move by the amount at that axle's spring.",
    fields: &[],
    moves: Moves::Spring,
    side_effects: &["shackle angle", "bump travel", "ride: another rate shifts the roll share"],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::OtherSprings,
    work,
};

/// An amount is taken before this is asked.
fn work(given: &Given, _: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    Err(given.missing("amount_mm", ": what it lifts (+) or lowers (-) at the spring"))
}

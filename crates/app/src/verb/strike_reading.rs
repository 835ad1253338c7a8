//! Strikes the reading of a step.

use crate::fields::Fields;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, StrikeReading, WalkView};
use crate::{Garage, Now};
use trueground_store::Mark;

/// Strikes a reading with the person's reason; it stays in the book, and the step can be read again.
///
/// # Errors
/// No such snapshot or step, nothing is read there, no reason, or it is finished.
pub fn strike_reading(garage: &mut Garage, request: StrikeReading, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let step = walk.step(request.step)?;
    let Some(reading) = walk.read(step) else {
        return Err(Problem::new("nothing_to_strike", "Nothing is read at this step.", "Choose a step that is read."));
    };
    let mut fields = Fields::default();
    let reason = fields.label("reason", "The reason", &request.reason);
    fields.done()?;
    garage.store.mark(reading.taken.id, Mark::Struck, reason.as_deref().unwrap_or_default(), None, now.stamp())?;
    page(garage, id)
}

//! Strikes a reading of a floor.

use crate::fields::Fields;
use crate::wire::{FloorView, Problem, StrikeFloorReading};
use crate::{Garage, Now, floor_page, problems};
use trueground_store::Mark;

/// Strikes a reading with the person's reason; it stays in the book.
///
/// # Errors
/// No such floor or reading on it, it does not count already, or no reason.
pub fn strike_floor_reading(
    garage: &mut Garage,
    request: StrikeFloorReading,
    now: &Now<'_>,
) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let reading = problems::id("reading", &request.reading)?;
    let floor = garage.store.floor(id)?;
    if !floor.readings.iter().any(|kept| kept.taken.id == reading && kept.counts()) {
        let hint = "Choose a reading of this floor that is not struck.";
        return Err(Problem::new("nothing_to_strike", "That reading does not count on this floor.", hint));
    }
    let mut fields = Fields::default();
    let reason = fields.label("reason", "The reason", &request.reason);
    fields.done()?;
    garage.store.mark(reading, Mark::Struck, reason.as_deref().unwrap_or_default(), None, now.stamp())?;
    floor_page::page(garage, id, now)
}

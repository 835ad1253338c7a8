//! Takes back the last staff reading of a floor.

use crate::wire::{FloorRef, FloorView, Problem};
use crate::{Garage, Now, floor_page};
use trueground_store::Mark;

/// Takes back the newest staff reading that counts; it stays in the book and can be put back until another is taken. Works as
/// often as there are readings, also after a restart.
///
/// # Errors
/// No such floor, or there is nothing to take back.
pub fn undo_floor_reading(garage: &mut Garage, request: FloorRef, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let floor = garage.store.floor(id)?;
    let Some(newest) = floor.readings.iter().rev().find(|reading| reading.counts()) else {
        return Err(Problem::new("nothing_to_undo", "Nothing is read on this floor.", "Read its first spot."));
    };
    garage.store.mark(newest.taken.id, Mark::TakenBack, "", None, now.stamp())?;
    floor_page::page(garage, id, now)
}

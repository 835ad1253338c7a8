//! Puts back the staff reading that was taken back last.

use crate::wire::{FloorRef, FloorView, Problem};
use crate::{Garage, Now, floor_page};
use trueground_store::{Mark, Reading};

/// Undoes the last undo, and the one before at the next asking, until another staff reading is taken; also after a restart.
///
/// # Errors
/// No such floor, or there is nothing to put back.
pub fn put_back_floor_reading(garage: &mut Garage, request: FloorRef, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let floor = garage.store.floor(id)?;
    let Some(reading) = Reading::to_put_back(&floor.readings) else {
        let hint = "A reading can be put back until another is taken.";
        return Err(Problem::new("nothing_to_put_back", "Nothing was taken back.", hint));
    };
    garage.store.mark(reading.taken.id, Mark::PutBack, "", None, now.stamp())?;
    floor_page::page(garage, id, now)
}

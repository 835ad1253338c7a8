//! Opens a floor's page.

use crate::wire::{FloorRef, FloorView, Problem};
use crate::{Garage, Now, floor_page};

/// The floor, its passes, and the spot to read now.
///
/// # Errors
/// No such floor, or it cannot be read.
pub fn open_floor(garage: &mut Garage, request: FloorRef, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    floor_page::page(garage, id, now)
}

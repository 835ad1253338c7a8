//! The empty booking sheet of a car, to print.

use crate::floor_page::typed;
use crate::wire::{BlankSheet, CarRef, Problem};
use crate::words::file_stem;
use crate::{Garage, Now, sheet};
use trueground_core::capture::CarFile;

/// A page to print and fill in with a pencil, and a name to save it under.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn blank_sheet(garage: &mut Garage, request: CarRef, _now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let id = garage.find("car", &request.car)?;
    let file: CarFile = typed(garage.store.car_file(id)?.document)?;
    let file_name = format!("{}-booking-sheet.html", file_stem(&file.vehicle.label));
    Ok(BlankSheet { file_name, html: sheet::blank(&file) })
}

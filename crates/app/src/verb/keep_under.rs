//! Keeps what is under a car.

use crate::floor_page::typed;
use crate::under_form::{Before, changed, read};
use crate::wire::{CarView, Problem, UnderForm};
use crate::{Garage, Now, car_form, car_page, garage_row, snapshot_row};
use trueground_core::capture::CarFile;

/// Changes what is under a car. What is new or changed was measured beside the newest snapshot, unless the form says the first.
///
/// # Errors
/// No such car, or every field that cannot be read, at once; nothing was stored then.
pub fn keep_under(garage: &mut Garage, request: UnderForm, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let file: CarFile = typed(garage.store.car_file(id)?.document)?;
    let listed = garage.store.snapshots(id)?;
    let newest = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let before = Before { vehicle: &file.vehicle, ground: file.ground.as_ref(), newest: newest.as_deref() };
    let parts = read(&request, &before)?;
    let document = changed(garage.store.car(id)?.document, parts, &before);
    car_form::still_fits(garage.store.car_file(id)?.document, &document)?;
    garage.store.change_car(id, &document)?;
    garage_row::keep(garage, id)?;
    car_page::page(garage, id, now)
}

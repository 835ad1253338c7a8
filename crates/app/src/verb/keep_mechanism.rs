//! Keeps what a part's form says.

use crate::floor_page::vehicle;
use crate::wire::{CarView, MechanismForm, Problem};
use crate::{Garage, Now, car_form, car_page, mechanism, snapshot_row};

/// Changes the description of one part of a car; an empty form takes it away. What is new was measured beside the newest snapshot. The earlier description is kept in the store.
///
/// # Errors
/// No such car, every field that cannot be read, at once, or a part that cannot be worked out; then nothing was changed.
pub fn keep_mechanism(garage: &mut Garage, request: MechanismForm, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car(id)?.document;
    let listed = garage.store.snapshots(id)?;
    let newest = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let vehicle = mechanism::read(vehicle(&document)?, &request, newest.as_deref())?;
    let document = mechanism::changed(document, &vehicle, &request)?;
    car_form::still_fits(garage.store.car_file(id)?.document, &document)?;
    garage.store.change_car(id, &document)?;
    car_page::page(garage, id, now)
}

//! Adds a car.

use crate::wire::{CarForm, CarView, Problem};
use crate::{Garage, Now, car_form, car_page};

/// Adds a car from what was typed; the typed texts are kept beside the numbers.
///
/// # Errors
/// Every field that cannot be read, at once.
pub fn add_car(garage: &mut Garage, request: CarForm, now: &Now<'_>) -> Result<CarView, Problem> {
    let vehicle = car_form::vehicle(&request, car_form::Kept::default())?;
    let id = now.id();
    garage.store.add_car(id, &car_form::document(&request, &vehicle)?, now.stamp())?;
    car_page::page(garage, id, now)
}

//! Opens a car's page.

use crate::wire::{CarRef, CarView, Problem};
use crate::{Garage, Now, car_page};

/// The car's page; the car is then the last used one.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn open_car(garage: &mut Garage, request: CarRef, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    garage.store.car(id)?;
    garage.store.use_car(id)?;
    car_page::page(garage, id, now)
}

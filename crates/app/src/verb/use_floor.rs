//! Lets a car stand on a floor that another car marked out.

use crate::wire::{CarView, Problem, UseFloor};
use crate::{Garage, Now, car_page};

/// The floor is one of this car's from now on, with the other car's spots; its readings are shared.
///
/// # Errors
/// No such car or floor, or it cannot be written.
pub fn use_floor(garage: &mut Garage, request: UseFloor, now: &Now<'_>) -> Result<CarView, Problem> {
    let car = garage.find("car", &request.car)?;
    let floor = garage.find("floor", &request.floor)?;
    garage.store.use_floor(car, floor, now.stamp())?;
    car_page::page(garage, car, now)
}

//! Changes a car's measures.

use crate::floor_page::vehicle;
use crate::wire::{CarView, ChangeCar, Problem};
use crate::{Garage, Now, car_form, car_page};

/// Changes a car; what the form does not know (springs, and what a file said) stays, and so do points that readings may hang on.
///
/// # Errors
/// No such car, every field that cannot be read, at once, or what was read would not fit the car any more.
pub fn change_car(garage: &mut Garage, request: ChangeCar, _now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car(id)?.document;
    let vehicle = car_form::vehicle(&request.form, Some(&vehicle(&document)?))?;
    let document = car_form::changed(document, &request.form, &vehicle)?;
    car_form::still_fits(garage.store.car_file(id)?.document, &document)?;
    garage.store.change_car(id, &document)?;
    car_page::page(garage, id)
}

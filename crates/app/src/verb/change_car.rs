//! Changes a car's measures.

use crate::floor_page::{typed, vehicle};
use crate::wire::{CarView, ChangeCar, Problem};
use crate::{Garage, Now, car_form, car_page, garage_row};

/// Changes a car; what the form does not know stays, and so do marks that readings hang on. The earlier description is kept in
/// the store; snapshots are worked out with the car as it is described now, since a corrected measure was wrong before too.
///
/// # Errors
/// No such car, every field that cannot be read, at once, or what was read would not fit the car any more.
pub fn change_car(garage: &mut Garage, request: ChangeCar, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car(id)?.document;
    let earlier = vehicle(&document)?;
    let read = car_page::read_at(&typed(garage.store.car_file(id)?.document)?);
    let rail_mm = garage_row::kept(&garage.store.car_head(id)?).and_then(|kept| kept.side).map(|side| side.rail_mm());
    let kept = car_form::Kept { vehicle: Some(&earlier), read: Some(&read), rail_mm };
    let vehicle = car_form::vehicle(&request.form, kept)?;
    let document = car_form::changed(document, &request.form, &vehicle)?;
    car_form::still_fits(garage.store.car_file(id)?.document, &document)?;
    garage.store.change_car(id, &document)?;
    car_page::page(garage, id, now)
}

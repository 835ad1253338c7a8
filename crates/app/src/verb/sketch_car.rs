//! Draws a car's form while it is filled in.

use crate::car_form::Kept;
use crate::floor_page::vehicle;
use crate::wire::{CarSketch, Problem, SketchCar};
use crate::{Garage, Now, car_sketch, garage_row};

/// The picture of what can be read of a form; nothing is stored and nothing is refused for what is half typed.
///
/// # Errors
/// No such car.
pub fn sketch_car(garage: &mut Garage, request: SketchCar, _now: &Now<'_>) -> Result<CarSketch, Problem> {
    let Some(car) = &request.car else {
        return Ok(car_sketch::sketch(&request.form, Kept::default(), None));
    };
    let id = garage.find("car", car)?;
    let earlier = vehicle(&garage.store.car(id)?.document)?;
    let standing = garage_row::kept(&garage.store.car_head(id)?).and_then(|kept| kept.side);
    let rail_mm = standing.as_ref().map(crate::wire::SideView::rail_mm);
    let kept = Kept { vehicle: Some(&earlier), read: None, rail_mm };
    Ok(car_sketch::sketch(&request.form, kept, standing.as_ref()))
}

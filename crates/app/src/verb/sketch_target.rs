//! Draws a target's form while it is filled in.

use crate::wire::{Problem, TargetForm, TargetSketch};
use crate::{Garage, Now, garage_row, target_page, target_sketch};

/// The picture of what can be read of a form; nothing is stored and nothing is refused for what is half typed.
///
/// # Errors
/// No such car.
pub fn sketch_target(garage: &mut Garage, request: TargetForm, _now: &Now<'_>) -> Result<TargetSketch, Problem> {
    let car = garage.find("car", &request.car)?;
    // What is wrong with the snapshot is said when the form is sent.
    let of = target_page::of_snapshot(garage, car, &request).ok().flatten();
    let vehicle = garage.store.with_targets(car)?.vehicle;
    let now = garage_row::kept(&garage.store.car_head(car)?).and_then(|kept| kept.side);
    Ok(target_sketch::sketch(&request, &vehicle, of, now))
}

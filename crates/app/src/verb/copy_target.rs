//! Copies a target to another car.

use crate::wire::{CopyTarget, Problem, TargetsView};
use crate::{Garage, Now, car_form, target_page};
use trueground_core::target::{Target, carry};
use trueground_core::wording::shown;

/// Heights go over by kind of point and corner; what has no counterpart is said. The reply is the page of the car it was copied from.
///
/// # Errors
/// No such car or target, or the other car has none of its points; then nothing was stored.
pub fn copy_target(garage: &mut Garage, request: CopyTarget, now: &Now<'_>) -> Result<TargetsView, Problem> {
    let (car, to) = (garage.find("car", &request.car)?, garage.find("car", &request.to)?);
    let from = garage.store.with_targets(car)?;
    let target = target_page::find(&from, &request.target)?;
    let other = garage.store.with_targets(to)?;
    let carried = carry(&target, &from.vehicle, &other.vehicle, request.keep);
    if carried.target.is_empty() {
        let sentence = format!("{} has none of the points of this target.", shown(&other.vehicle.label));
        return Err(Problem::new("target_refused", sentence, "Mark the same kinds of point on it first."));
    }
    let mut extra = carried.target.extra.clone();
    extra.remove("form");
    let copy = Target { id: now.id().to_string(), since: Some(now.stamp().date()), extra, ..carried.target };
    garage.store.add_target(to, &car_form::written(&copy)?, now.stamp())?;
    let mut said = vec![format!("It is now among the targets of {}.", shown(&other.vehicle.label))];
    said.extend(carried.left_out);
    target_page::page(garage, car, None, said)
}

//! Opens the Plan tab of a car.

use crate::wire::{CarRef, PlansView, Problem};
use crate::{Garage, Now, plan_page};

/// Kept plans, parts, kinds of change, and what is left to do after work.
///
/// # Errors
/// No such car.
pub fn open_plans(garage: &mut Garage, request: CarRef, now: &Now<'_>) -> Result<PlansView, Problem> {
    let car = garage.find("car", &request.car)?;
    plan_page::page(garage, car, None, now)
}

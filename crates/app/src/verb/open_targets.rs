//! Opens the targets of a car.

use crate::wire::{CarRef, Problem, TargetsView};
use crate::{Garage, Now, target_page};

/// Every target of a car, with what it wants in a sentence and its picture.
///
/// # Errors
/// No such car.
pub fn open_targets(garage: &mut Garage, request: CarRef, _now: &Now<'_>) -> Result<TargetsView, Problem> {
    let car = garage.find("car", &request.car)?;
    target_page::page(garage, car, None, Vec::new())
}

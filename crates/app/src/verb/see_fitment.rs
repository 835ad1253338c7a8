//! Shows the wheels in their openings, and what else of the car can be measured part by part.

use crate::wire::{CarRef, FitmentView, Problem};
use crate::{Garage, Now, fitment_page};

/// Every wheel that was measured, at the newest snapshot's stance, with its own tire and with each other wheel for its axle.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn see_fitment(garage: &mut Garage, request: CarRef, _now: &Now<'_>) -> Result<FitmentView, Problem> {
    fitment_page::page(garage, &request.car)
}

//! Shows the wheels in their openings, and what else of the car can be measured part by part.

use crate::wire::{FitmentView, Problem, SeeFitment};
use crate::{Garage, Now, fitment_page};

/// Every wheel that was measured, at the stance that is asked for, with its own tire and with each other wheel for its axle.
///
/// # Errors
/// No such car or stance, or it cannot be read.
pub fn see_fitment(garage: &mut Garage, request: SeeFitment, now: &Now<'_>) -> Result<FitmentView, Problem> {
    fitment_page::page(garage, &request, &now.stamp().date())
}

//! Leaves out one part of a car that was measured by itself.

use crate::wire::{MeasuredRef, Problem};
use crate::{Garage, Now, measured_form};

/// Leaves it out; the earlier description is kept in the store.
///
/// # Errors
/// No such car or part.
pub fn leave_measured_out(garage: &mut Garage, request: MeasuredRef, _now: &Now<'_>) -> Result<(), Problem> {
    measured_form::leave_out(garage, &request)
}

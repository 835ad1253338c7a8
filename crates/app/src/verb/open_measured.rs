//! Opens the form of one part of a car that is measured by itself.

use crate::wire::{MeasuredForm, MeasuredRef, Problem};
use crate::{Garage, Now, measured_form};

/// The form, filled in with what is known.
///
/// # Errors
/// No such car or part.
pub fn open_measured(garage: &mut Garage, request: MeasuredRef, _now: &Now<'_>) -> Result<MeasuredForm, Problem> {
    measured_form::open(garage, &request)
}

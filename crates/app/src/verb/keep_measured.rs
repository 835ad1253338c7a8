//! Keeps one part of a car that was measured by itself.

use crate::wire::{KeepMeasured, MeasuredForm, Problem};
use crate::{Garage, Now, measured_form};

/// Keeps it as typed; the earlier description is kept in the store.
///
/// # Errors
/// No such car or part, or every field that is wrong, at once; nothing is kept then.
pub fn keep_measured(garage: &mut Garage, request: KeepMeasured, _now: &Now<'_>) -> Result<MeasuredForm, Problem> {
    measured_form::keep(garage, &request)
}

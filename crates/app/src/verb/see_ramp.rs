//! A stance on a ground.

use crate::ramp_page::page;
use crate::wire::{Problem, RampView, SeeRamp};
use crate::{Garage, Now};

/// Where a stance comes nearest on a ground, with the answers turned round; a sentence in place of it where something is missing.
///
/// # Errors
/// No such car, stance or ground, or readings that cannot be worked out.
pub fn see_ramp(garage: &mut Garage, request: SeeRamp, now: &Now<'_>) -> Result<RampView, Problem> {
    page(garage, &request, &now.stamp().date())
}

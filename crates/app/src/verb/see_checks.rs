//! What follows from a stance of a car.

use crate::checks_page::page;
use crate::wire::{ChecksView, Problem, SeeChecks};
use crate::{Garage, Now};

/// Everything the screen of checks says of a stance; a sentence in place of it where there is no stance yet.
///
/// # Errors
/// No such car, snapshot, target, load or rule, or readings that cannot be worked out.
pub fn see_checks(garage: &mut Garage, request: SeeChecks, now: &Now<'_>) -> Result<ChecksView, Problem> {
    page(garage, &request, &now.stamp().date())
}

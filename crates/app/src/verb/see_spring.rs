//! Shows a spring pack.

use crate::mechanism_page::spring;
use crate::wire::{Problem, SeeSpring, SpringView};
use crate::{Garage, Now};

/// A spring pack whole, and without the leaves that are asked for or that a plan takes out. Nothing is stored.
///
/// # Errors
/// No such car or plan, or a leaf that cannot come out.
pub fn see_spring(garage: &mut Garage, request: SeeSpring, now: &Now<'_>) -> Result<SpringView, Problem> {
    spring(garage, &request, &now.stamp().date())
}

//! Opens a ground's page.

use crate::wire::{GroundRef, GroundView, Problem};
use crate::{Garage, Now, ground_page};

/// The ground, its stations, and the one to read now.
///
/// # Errors
/// No such ground.
pub fn open_ground(garage: &mut Garage, request: GroundRef, _now: &Now<'_>) -> Result<GroundView, Problem> {
    ground_page::page(garage, &request.ground)
}

//! Shows the driveline.

use crate::mechanism_page::{driveline, look_at_driveline, seen};
use crate::wire::{DrivelineView, Problem, SeeMechanism};
use crate::{Garage, Now};

/// Joints at a stance and over the travel, the slip that is left, and what wants to stand level.
///
/// # Errors
/// No such car or stance, or its readings cannot be worked out.
pub fn see_driveline(garage: &mut Garage, request: SeeMechanism, now: &Now<'_>) -> Result<DrivelineView, Problem> {
    let seen = seen(garage, &request, &now.stamp().date(), look_at_driveline)?;
    Ok(driveline(seen, request.inches))
}

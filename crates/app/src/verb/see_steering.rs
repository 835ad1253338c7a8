//! Shows the steering.

use crate::mechanism_page::{look_at_steering, seen, steering};
use crate::wire::{Problem, SeeMechanism, SteeringView};
use crate::{Garage, Now};

/// Bump steer over the travel at a stance, and the height of the pitman ball that makes it least; caster with it.
///
/// # Errors
/// No such car or stance, or its readings cannot be worked out.
pub fn see_steering(garage: &mut Garage, request: SeeMechanism, now: &Now<'_>) -> Result<SteeringView, Problem> {
    let seen = seen(garage, &request, &now.stamp().date(), look_at_steering)?;
    Ok(steering(seen, request.inches))
}

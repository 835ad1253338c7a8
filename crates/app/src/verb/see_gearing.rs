//! Shows the gearing.

use crate::mechanism_page::{gearing, seen};
use crate::wire::{GearingView, Problem, SeeGearing, SeeMechanism};
use crate::{Garage, Now, mechanism_page};

/// Engine speed over road speed, gear by gear, on the tires as they stand, with other axles and tires beside it.
///
/// # Errors
/// No such car, or its readings cannot be worked out.
pub fn see_gearing(garage: &mut Garage, request: SeeGearing, now: &Now<'_>) -> Result<GearingView, Problem> {
    let ask = SeeMechanism { car: request.car, stance: None, inches: request.inches };
    let seen = seen(garage, &ask, &now.stamp().date(), |car| mechanism_page::look_at_gearing(car, request.miles))?;
    Ok(gearing(seen.car, seen.found, request.miles, request.inches))
}

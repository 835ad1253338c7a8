//! Shows a spring pack.

use crate::floor_page::vehicle;
use crate::mechanism_page::spring;
use crate::wire::{Problem, SeeSpring, SpringView};
use crate::{Garage, Now};

/// A spring pack whole, and without the leaves that are asked for. Nothing is stored.
///
/// # Errors
/// No such car, or a leaf that cannot come out.
pub fn see_spring(garage: &mut Garage, request: SeeSpring, _now: &Now<'_>) -> Result<SpringView, Problem> {
    let id = garage.find("car", &request.car)?;
    let vehicle = vehicle(&garage.store.car(id)?.document)?;
    let pack = if request.rear { &vehicle.leaf_packs.rear } else { &vehicle.leaf_packs.front };
    spring(id.to_string(), request.rear, pack.as_ref(), request.remove.as_deref(), request.inches)
}

//! Takes back the newest station of a ground.

use crate::wire::{GroundRef, GroundView, Problem};
use crate::{Garage, Now, ground_page};

/// It stays in the book and can be put back until another is taken; works as often as there are stations, also after a restart.
///
/// # Errors
/// No such ground, or nothing is read there.
pub fn undo_station(garage: &mut Garage, request: GroundRef, now: &Now<'_>) -> Result<GroundView, Problem> {
    if garage.store.ground(&request.ground)?.to_take_back().is_none() {
        return Err(Problem::new("nothing_to_undo", "Nothing is read on this ground.", "Read its first station."));
    }
    garage.store.take_station_back(&request.ground, now.stamp())?;
    ground_page::page(garage, &request.ground)
}

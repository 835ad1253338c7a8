//! Puts back the station that was taken back last.

use crate::wire::{GroundRef, GroundView, Problem};
use crate::{Garage, Now, ground_page};

/// Undoes the last undo, and the one before at the next asking, until another station is taken.
///
/// # Errors
/// No such ground, or there is nothing to put back.
pub fn put_back_station(garage: &mut Garage, request: GroundRef, now: &Now<'_>) -> Result<GroundView, Problem> {
    if garage.store.ground(&request.ground)?.to_put_back().is_none() {
        let hint = "A station can be put back until another is taken.";
        return Err(Problem::new("nothing_to_put_back", "Nothing was taken back.", hint));
    }
    garage.store.put_station_back(&request.ground, now.stamp())?;
    ground_page::page(garage, &request.ground)
}

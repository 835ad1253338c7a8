//! Finishes a snapshot.

use crate::walk_page::Walk;
use crate::wire::{CarView, Problem, SnapshotRef};
use crate::{Garage, Now, car_page, garage_row};

/// Freezes a snapshot and keeps its result for the list of cars. Finishing it twice changes nothing.
///
/// # Errors
/// No such snapshot, or nothing is read in it.
pub fn finish_snapshot(garage: &mut Garage, request: SnapshotRef, now: &Now<'_>) -> Result<CarView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    if walk.newest().is_none() {
        return Err(Problem::new(
            "nothing_read",
            "Nothing is read in this snapshot.",
            "Read at least one corner. An unfinished snapshot waits as long as you like.",
        ));
    }
    garage.store.finish(id, now.stamp())?;
    garage_row::keep(garage, walk.snapshot.car)?;
    car_page::page(garage, walk.snapshot.car, now)
}

//! Puts back the reading that was taken back last.

use crate::walk_page::{Walk, page};
use crate::wire::{Problem, SnapshotRef, WalkView};
use crate::{Garage, Now};
use trueground_store::Mark;

/// Undoes the last undo, and the one before at the next asking, until another reading is taken.
///
/// # Errors
/// No such snapshot, finished, or there is nothing to put back.
pub fn put_back(garage: &mut Garage, request: SnapshotRef, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let Some(reading) = walk.taken_back() else {
        let hint = "A reading can be put back until another is taken.";
        return Err(Problem::new("nothing_to_put_back", "Nothing was taken back.", hint));
    };
    let place = walk.step_of(reading).and_then(|step| walk.place(&step.key()));
    let next = place.map(|place| walk.next_key(place));
    garage.store.mark(reading.taken.id, Mark::PutBack, "", next.as_deref(), now.stamp())?;
    page(garage, id)
}

//! Opens a snapshot's walk where it was left.

use crate::wire::{Problem, SnapshotRef, WalkView};
use crate::{Garage, Now, walk_page};

/// Every step, what was read, and the half-typed text.
///
/// # Errors
/// No such snapshot, or it cannot be read.
pub fn open_walk(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    walk_page::page(garage, id)
}

//! Opens a snapshot's walk where it was left.

use crate::walk_page::{Walk, view};
use crate::wire::{Problem, SnapshotRef, WalkView};
use crate::{Garage, Now};

/// Every step, what was read, the half-typed text, and the question that stands. What is damaged is named in the garage's
/// notices.
///
/// # Errors
/// No such snapshot, or it cannot be read.
pub fn open_walk(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    for what in &walk.snapshot.damaged {
        let (car, name) = (&walk.vehicle.label, &walk.snapshot.name);
        let notice = format!("{car}: snapshot {name}: {what} is damaged and was set aside.");
        if !garage.notices.contains(&notice) {
            garage.notices.push(notice);
        }
    }
    view(garage, &walk)
}

//! Looks through an entered sheet for what looks like a slip.

use crate::slip::about_each;
use crate::walk_page::Walk;
use crate::wire::{Problem, SheetSlips, SnapshotRef};
use crate::{Garage, Now};

/// Every question that a walk would have asked, from the top of the sheet; nothing is changed.
///
/// # Errors
/// No such snapshot, or an earlier one cannot be read.
pub fn check_sheet(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<SheetSlips, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    Ok(SheetSlips { slips: about_each(garage, &walk)? })
}

//! Shows whether the springs have settled.

use crate::wire::{Problem, SeeSettling, SettlingView};
use crate::{Garage, Now, settled, settling_page};

/// What the heights did since the last work on the springs, from finished snapshots.
///
/// # Errors
/// No such car, or its readings cannot be worked out.
pub fn see_settling(garage: &mut Garage, request: SeeSettling, now: &Now<'_>) -> Result<SettlingView, Problem> {
    let id = garage.find("car", &request.car)?;
    let listed = garage.store.snapshots(id)?;
    let settled = settled::car(garage, id, &listed, request.model, &now.stamp().date())?;
    let solution = settled.solved.solution.as_ref().map_err(Clone::clone)?;
    let about = settling_page::About {
        solved: &settled.solved,
        solution,
        lines: &settled.lines,
        next: &settled.next,
        drifts: &settled.drifts,
        listed: &listed,
    };
    Ok(settling_page::page(&about, &request))
}

//! Shows whether the springs have settled.

use crate::snapshot_row::last_on_wheels;
use crate::wire::{Problem, SeeSettling, SettlingView};
use crate::{Garage, Now, settling_page, solved};
use trueground_core::bench::Refusal;
use trueground_core::trend::{drifts_of_car, settle_car};

/// What the heights did since the last work on the springs, from finished snapshots.
///
/// # Errors
/// No such car, or its readings cannot be worked out.
pub fn see_settling(garage: &mut Garage, request: SeeSettling, _now: &Now<'_>) -> Result<SettlingView, Problem> {
    let id = garage.find("car", &request.car)?;
    let listed = garage.store.snapshots(id)?;
    let last = last_on_wheels(garage, &listed, true).map(|record| record.name);
    let solved = solved::car(garage, id, last.as_deref())?;
    let solution = solved.solution.as_ref().map_err(Clone::clone)?;
    let refused = |refusal: Refusal| Problem::new("cannot_be_worked_out", refusal.message, refusal.hint);
    let lines = settle_car(&solved.file, solution, settling_page::model(request.model)).map_err(refused)?;
    let drifts = drifts_of_car(&solved.file, solution, &lines).map_err(refused)?;
    let about = settling_page::About { solved: &solved, solution, lines: &lines, drifts: &drifts, listed: &listed };
    Ok(settling_page::page(&about, &request))
}

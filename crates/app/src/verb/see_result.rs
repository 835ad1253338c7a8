//! Shows a snapshot's level result.

use crate::result_page::{About, page};
use crate::solved;
use crate::wire::{Problem, ResultView, SeeResult};
use crate::{Garage, Now};
use trueground_store::StoreError;

/// The level result; an unfinished snapshot may be looked at too.
///
/// # Errors
/// No such snapshot, or its readings cannot be worked out.
pub fn see_result(garage: &mut Garage, request: SeeResult, _now: &Now<'_>) -> Result<ResultView, Problem> {
    about(garage, &request.snapshot, |about| page(about, &request.kind))
}

/// Gathers what a result's pages are about.
pub(super) fn about<T>(garage: &mut Garage, snapshot: &str, page: impl FnOnce(&About<'_>) -> T) -> Result<T, Problem> {
    let id = garage.find("snapshot", snapshot)?;
    let record = garage.store.snapshot(id)?;
    let solved = solved::car(garage, record.car, Some(&record.name))?;
    let display = garage.settings()?.display;
    let solution = solved.solution.as_ref().map_err(Clone::clone)?;
    let gone = || StoreError::NotFound { what: "snapshot", id: snapshot.to_owned() };
    let snapshot = solved.snapshot(&record.name).ok_or_else(gone)?;
    let floors = garage.store.floors(record.car)?;
    let floor_id =
        floors.into_iter().find(|(_, name)| snapshot.floor.as_ref() == Some(name)).map(|(id, _)| id.to_string());
    Ok(page(&About {
        solved: &solved,
        solution,
        stance: solved.stance(&record.name).ok_or_else(gone)?,
        snapshot,
        snapshot_id: id.to_string(),
        floor_id,
        finished: record.finished,
        display,
    }))
}

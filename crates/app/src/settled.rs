//! A car's settling worked out, kept until something about the car, the law asked for or the day changes.

use crate::snapshot_row::last_on_wheels;
use crate::solved::{self, SolvedCar};
use crate::wire::{Problem, SettlingModel};
use crate::{Garage, settling_page};
use std::sync::Arc;
use trueground_core::bench::Refusal;
use trueground_core::trend::{Drift, LineSettling, NextDate, drifts_of_car, next_date, settle_car};
use uuid::Uuid;

/// The settling of every line of a car.
#[derive(Debug)]
pub(crate) struct SettledCar {
    pub(crate) solved: Arc<SolvedCar>,
    model: SettlingModel,
    today: String,
    pub(crate) lines: Vec<LineSettling>,
    /// The next useful day of each line.
    pub(crate) next: Vec<Option<NextDate>>,
    pub(crate) drifts: Vec<Drift>,
}

/// From its finished snapshots; the same again while nothing changed.
///
/// # Errors
/// No such car, or its readings cannot be worked out.
pub(crate) fn car(
    garage: &mut Garage,
    id: Uuid,
    listed: &[(Uuid, String, bool)],
    model: SettlingModel,
    today: &str,
) -> Result<Arc<SettledCar>, Problem> {
    let last = last_on_wheels(garage, listed, true).map(|record| record.name);
    let solved = solved::car(garage, id, last.as_deref())?;
    if let Some(kept) = &garage.settled
        && Arc::ptr_eq(&kept.solved, &solved)
        && (kept.model, kept.today.as_str()) == (model, today)
    {
        return Ok(Arc::clone(kept));
    }
    let refused = |refusal: Refusal| Problem::new("cannot_be_worked_out", refusal.message, refusal.hint);
    let solution = solved.solution.as_ref().map_err(Clone::clone)?;
    let lines = settle_car(&solved.file, solution, settling_page::model(model)).map_err(refused)?;
    let next: Result<Vec<_>, Refusal> = lines.iter().map(|line| next_date(line, today)).collect();
    let drifts = drifts_of_car(&solved.file, solution, &lines).map_err(refused)?;
    let today = today.to_owned();
    let settled = Arc::new(SettledCar { next: next.map_err(refused)?, model, today, lines, drifts, solved });
    garage.settled = Some(Arc::clone(&settled));
    Ok(settled)
}

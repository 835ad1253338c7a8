//! A car worked out: its exchange file and the level engine's answer, kept until something about the car changes.

use crate::Garage;
use crate::floor_page::typed;
use crate::wire::Problem;
use std::sync::Arc;
use trueground_core::capture::{CarFile, Snapshot};
use trueground_core::level::{self, Solution};
use trueground_core::stance::SnapshotStance;
use uuid::Uuid;

/// Most snapshots worked out together, half of them before and half after the one that is asked for. They share the car's
/// roll share and the floor; farther ones add next to nothing, and the time a result takes keeps a bound.
const TOGETHER: usize = 400;

/// A car, worked out round one of its snapshots.
#[derive(Debug)]
pub(crate) struct SolvedCar {
    pub(crate) car: Uuid,
    pub(crate) version: i64,
    /// What had happened to the garage's grounds then.
    grounds: i64,
    /// All of the car.
    pub(crate) file: CarFile,
    /// Names of the snapshots that were worked out together.
    together: Vec<String>,
    /// The answer, or why there is none.
    pub(crate) solution: Result<Solution, Problem>,
}

impl SolvedCar {
    /// The snapshot of that name.
    pub(crate) fn snapshot(&self, name: &str) -> Option<&Snapshot> {
        self.file.snapshots.iter().find(|snapshot| snapshot.id == name)
    }

    /// The stance of the snapshot of that name, if it could be worked out.
    pub(crate) fn stance(&self, name: &str) -> Option<&SnapshotStance> {
        self.solution.as_ref().ok()?.snapshots.iter().find(|stance| stance.id == name)
    }
}

/// Works out a file by itself, so that the named snapshot is among the answers.
pub(crate) fn of_file(file: &CarFile, name: &str) -> SolvedCar {
    let mut part = file.clone();
    let finished = |snapshot: &Snapshot| !snapshot.extra.contains_key("unfinished");
    part.snapshots.retain(|snapshot| snapshot.id == name || finished(snapshot));
    let solution = level::solve(&part, &level::Options::default()).map_err(|refused| {
        Problem::new("cannot_be_worked_out", format!("{}.", refused.message()), format!("{}.", refused.hint()))
    });
    SolvedCar {
        car: Uuid::nil(),
        version: 0,
        grounds: 0,
        file: file.clone(),
        together: vec![name.to_owned()],
        solution,
    }
}

/// Works out a car, so that the named snapshot is among the answers; the last one where none is named.
///
/// # Errors
/// The car cannot be read. What the engine refuses stands in the answer.
pub(crate) fn car(garage: &mut Garage, id: Uuid, name: Option<&str>) -> Result<Arc<SolvedCar>, Problem> {
    with(garage, id, name.as_slice())
}

/// Works out a car round the first of the named snapshots, so that all of them are among the answers.
///
/// # Errors
/// As [`car`].
pub(crate) fn with(garage: &mut Garage, id: Uuid, names: &[&str]) -> Result<Arc<SolvedCar>, Problem> {
    let version = garage.store.car(id)?.version;
    let grounds = garage.store.grounds_version()?;
    if let Some(kept) = &garage.solved
        && kept.car == id
        && kept.version == version
        && kept.grounds == grounds
        && names.iter().all(|name| kept.together.iter().any(|known| known == name))
    {
        return Ok(Arc::clone(kept));
    }
    let loaded = garage.store.car_file(id)?;
    let file: CarFile = typed(loaded.document)?;
    for what in loaded.damaged {
        garage.set_aside(&file.vehicle.label, &what);
    }
    // What is half read says nothing yet about what is finished.
    let finished: Vec<String> =
        garage.store.snapshots(id)?.into_iter().filter(|(.., finished)| *finished).map(|(_, name, _)| name).collect();
    let named = |snapshot: &Snapshot| names.contains(&snapshot.id.as_str());
    let mut part = file.clone();
    part.snapshots.retain(|snapshot| named(snapshot) || finished.contains(&snapshot.id));
    let asked = part.snapshots.iter().position(|snapshot| names.first() == Some(&snapshot.id.as_str()));
    let at = asked.unwrap_or(part.snapshots.len().saturating_sub(1));
    let first = (at + 1).saturating_sub(TOGETHER / 2).min(part.snapshots.len().saturating_sub(TOGETHER));
    let near = first..first + TOGETHER;
    let mut place = 0..;
    part.snapshots.retain(|snapshot| place.next().is_some_and(|place| near.contains(&place)) || named(snapshot));
    let solution = level::solve(&part, &level::Options::default()).map_err(|refused| {
        Problem::new("cannot_be_worked_out", format!("{}.", refused.message()), format!("{}.", refused.hint()))
    });
    let together = part.snapshots.into_iter().map(|snapshot| snapshot.id).collect();
    let solved = Arc::new(SolvedCar { car: id, version, grounds, file, together, solution });
    garage.solved = Some(Arc::clone(&solved));
    Ok(solved)
}

/// The car without what is half read, and of the rest at most so many of the newest snapshots as are worked out together.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn finished(garage: &Garage, id: Uuid, file: &CarFile) -> Result<CarFile, Problem> {
    let finished: Vec<String> =
        garage.store.snapshots(id)?.into_iter().filter(|(.., finished)| *finished).map(|(_, name, _)| name).collect();
    let mut file = file.clone();
    file.snapshots.retain(|snapshot| finished.contains(&snapshot.id));
    file.snapshots.drain(..file.snapshots.len().saturating_sub(TOGETHER));
    Ok(file)
}

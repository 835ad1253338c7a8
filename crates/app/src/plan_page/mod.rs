//! The Plan tab: kept plans, what a plan comes to, parts and the search among them, and what is left to do after work.

mod draft;
mod drop;
mod follow;
mod list;
mod search;
mod view;

use crate::solved::SolvedCar;
use crate::wire::{CompareAsk, PlanForm, Problem};
use crate::words::capital;
use crate::{Garage, compare_page, snapshot_row};
use std::sync::Arc;
use trueground_core::bench::Refusal;
use trueground_core::level::{self, Solution};
use trueground_core::plan::{After, Taught, taught};
use uuid::Uuid;

pub(crate) use draft::draft;
pub(crate) use follow::{coming, events_of, tick};
pub(crate) use list::{page, part_of, plan_of};
pub(crate) use search::search;
pub(crate) use view::{can_be_done, view};

/// A car that can be planned on.
pub(crate) struct Base {
    pub(crate) car: Uuid,
    pub(crate) solved: Arc<SolvedCar>,
    /// Name in the file of the snapshot to set out from, and its id in the garage.
    pub(crate) from: (String, String),
    /// What earlier work taught.
    pub(crate) taught: Taught,
    /// What was measured after plans that were carried out, by the plan's name.
    pub(crate) after: Vec<(String, After)>,
}

impl Base {
    /// `None` where no snapshot on its wheels is finished.
    ///
    /// # Errors
    /// No such car or snapshot.
    pub(crate) fn of(garage: &mut Garage, car: &str, from: &str) -> Result<Option<Self>, Problem> {
        let car = garage.find("car", car)?;
        let listed = garage.store.snapshots(car)?;
        let named = listed.iter().find(|(id, _, finished)| *finished && id.to_string() == from);
        let newest =
            || snapshot_row::last_on_wheels(garage, &listed, true).map(|record| (record.name, record.id.to_string()));
        let from = match named {
            Some((id, name, _)) => Some((name.clone(), id.to_string())),
            None => newest(),
        };
        let Some(from) = from else { return Ok(None) };
        let solved = crate::solved::with(garage, car, &[from.0.as_str()])?;
        let (taught, after) = match &solved.solution {
            Ok(solution) => taught(&solved.file, solution),
            Err(_) => (Taught::default(), Vec::new()),
        };
        Ok(Some(Self { car, solved, from, taught, after }))
    }

    pub(crate) fn solution(&self) -> Result<&Solution, Problem> {
        self.solved.solution.as_ref().map_err(Clone::clone)
    }
}

/// The stances of the car, as Compare knows them.
pub(crate) fn stances(garage: &mut Garage, form: &PlanForm) -> Result<compare_page::Asked, Problem> {
    let ask = CompareAsk { kind: form.kind.clone(), ..CompareAsk::of(&form.car) };
    compare_page::asked(garage, &ask, "")
}

pub(crate) fn refused(problem: &level::Problem) -> Problem {
    Problem::new("cannot_be_planned", ended(problem.message()), ended(problem.hint()))
}

pub(crate) fn not_read(refusal: &Refusal) -> Problem {
    Problem::new("cannot_be_planned", ended(&refusal.message), ended(&refusal.hint))
}

fn ended(text: &str) -> String {
    format!("{}{}", capital(text), if text.ends_with(['.', '?']) { "" } else { "." })
}

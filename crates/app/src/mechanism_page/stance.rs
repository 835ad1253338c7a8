//! How the car stands on the page of a part: as last measured, or as a target wants it; as its points were measured before the first
//! snapshot.

use crate::wire::{MechanismStance, Problem, SeeMechanism, StanceOf, StanceRef};
use crate::{Garage, snapshot_row, solved, target_page};
use trueground_core::checks::{AtStance, LoadCase, Which, at_stance};

/// What was looked at.
pub(crate) struct Seen<T> {
    pub(crate) car: String,
    pub(crate) stances: Vec<MechanismStance>,
    pub(crate) chosen: u32,
    /// True where the stance is wanted, not measured.
    pub(crate) predicted: bool,
    pub(crate) found: T,
}

/// Looks at the car in the stance that is asked for.
///
/// # Errors
/// No such car or target, or its readings cannot be worked out.
pub(crate) fn seen<T>(
    garage: &mut Garage,
    request: &SeeMechanism,
    look: impl FnOnce(&AtStance<'_>) -> T,
) -> Result<Seen<T>, Problem> {
    let id = garage.find("car", &request.car)?;
    let listed = garage.store.snapshots(id)?;
    let last = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let solved = solved::car(garage, id, last.as_deref())?;
    let file = solved::finished(garage, id, &solved.file)?;
    let mut stances = vec![MechanismStance { stance: None, words: "as it stands".to_owned() }];
    for target in garage.store.targets(id)?.into_iter().rev().filter(|_| last.is_some()) {
        let words = if target.label.is_empty() { "the target".to_owned() } else { target.label };
        stances.push(MechanismStance { stance: Some(StanceRef { of: StanceOf::Target, id: target.id }), words });
    }
    let chosen = stances.iter().position(|row| row.stance == request.stance).unwrap_or(0);
    let target = match &stances[chosen].stance {
        Some(stance) => Some(target_page::find(&solved.file, &stance.id)?),
        None => None,
    };
    let refused = |problem: trueground_core::level::Problem| {
        Problem::new("cannot_be_worked_out", format!("{}.", problem.message()), format!("{}.", problem.hint()))
    };
    let found = match (&target, &last) {
        (_, None) => look(&AtStance::as_described(&file.vehicle)),
        (target, Some(last)) => {
            let solution = solved.solution.as_ref().map_err(Clone::clone)?;
            let which = target.as_ref().map_or(Which::Snapshot(last), Which::Target);
            look(&at_stance(&file, solution, which, LoadCase::Nominal, Vec::new()).map_err(refused)?)
        }
    };
    Ok(Seen {
        car: id.to_string(),
        stances,
        chosen: u32::try_from(chosen).unwrap_or_default(),
        predicted: target.is_some(),
        found,
    })
}

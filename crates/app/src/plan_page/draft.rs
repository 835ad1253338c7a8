//! The plan that is being drawn up: read from what the window keeps half filled in, so that every page can stand the car on it before
//! it is kept.

use super::view::{planned_of, read};
use crate::Garage;
use crate::compare_page::{Asked, Chosen};
use crate::wire::{PlanDraft, PlanForm, Problem, StanceOf, StanceRef};
use trueground_core::capture::CarFile;
use trueground_core::plan::{Change, taught};
use uuid::Uuid;

/// Under which name the window keeps it.
fn name(car: Uuid) -> String {
    format!("plan {car}")
}

/// The stance that it would make; `None` where nothing is changed, nothing of it can be worked out, or it stands as it was kept.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn draft(garage: &Garage, car: Uuid, asked: &Asked) -> Result<Option<Chosen>, Problem> {
    let name = name(car);
    let kept = garage.store.kept_forms()?.into_iter().find(|(known, _)| *known == name);
    let Some(form) = kept.and_then(|(_, text)| serde_json::from_str::<PlanDraft>(&text).ok()).map(|draft| draft.form)
    else {
        return Ok(None);
    };
    let file = &asked.solved.file;
    let Ok(solution) = &asked.solved.solution else { return Ok(None) };
    if form.changes.iter().all(|change| change.left_out) || as_kept(file, &form) {
        return Ok(None);
    }
    let named = asked.find(&StanceRef { of: StanceOf::Snapshot, id: form.from.clone() }).ok();
    let Some(from) = named.as_ref().and_then(Chosen::snapshot).or(asked.newest()) else { return Ok(None) };
    let (changes, _) = read(&form, garage.settings()?.tape);
    let done: Vec<(usize, Change)> =
        changes.into_iter().filter(|(number, _)| !form.changes[*number].left_out).collect();
    let Ok((planned, _)) = planned_of(file, solution, &from.id, &taught(file, solution).0, &done) else {
        return Ok(None);
    };
    if planned.steps.is_empty() {
        return Ok(None);
    }
    let label = match form.label.trim() {
        "" => "the plan at hand".to_owned(),
        label => format!("{label}, changed"),
    };
    Ok(Some(Chosen::Planned { id: String::new(), label, planned: Box::new(planned) }))
}

/// True where the form says what the kept plan says.
fn as_kept(file: &CarFile, form: &PlanForm) -> bool {
    let kept = form.plan.as_ref().and_then(|id| file.plans.iter().find(|plan| plan.id == *id && plan.is_offered(file)));
    let typed = kept.and_then(|plan| serde_json::from_value::<PlanForm>(plan.extra.get("form")?.clone()).ok());
    typed.is_some_and(|typed| (typed.changes, typed.from) == (form.changes.clone(), form.from.clone()))
}

//! Half-typed text of steps that were left before it was taken: kept with the walk's plan, and shown again at its step.

use crate::walk_page::Walk;
use crate::wire::Problem;
use crate::{Garage, Now, car_form};

/// Sets what is half typed at the present step aside before the walk goes elsewhere. A repeat of a step that is read is none of
/// its own and is let go.
///
/// # Errors
/// It cannot be written.
pub(crate) fn set_aside(garage: &mut Garage, walk: Walk, now: &Now<'_>) -> Result<Walk, Problem> {
    let Some(draft) = walk.snapshot.draft.as_ref().filter(|draft| !draft.text.trim().is_empty()) else {
        return Ok(walk);
    };
    let unread = walk.place(&draft.step).is_some_and(|place| walk.read(&walk.steps[place]).is_none());
    if !unread || walk.plan.half_typed.get(&draft.step) == Some(&draft.text) {
        return Ok(walk);
    }
    let mut plan = walk.plan.clone();
    plan.half_typed.insert(draft.step.clone(), draft.text.clone());
    garage.store.change_plan(walk.snapshot.id, &car_form::written(&plan)?, None, now.stamp())?;
    Walk::of(garage, walk.snapshot.id)
}

/// Lets go of what was set aside for a step: it was typed anew, erased, or taken.
///
/// # Errors
/// It cannot be written.
pub(crate) fn let_go(garage: &mut Garage, walk: &Walk, step: &str, now: &Now<'_>) -> Result<(), Problem> {
    if walk.plan.half_typed.contains_key(step) {
        let mut plan = walk.plan.clone();
        plan.half_typed.remove(step);
        garage.store.change_plan(walk.snapshot.id, &car_form::written(&plan)?, None, now.stamp())?;
    }
    Ok(())
}

/// What is half typed at a step: what stands there now, else what was set aside.
pub(crate) fn at(walk: &Walk, place: usize) -> String {
    let Some(step) = walk.steps.get(place) else { return String::new() };
    let key = step.key();
    let now = walk.snapshot.draft.as_ref().filter(|draft| draft.step == key && !draft.text.is_empty());
    let before = || walk.plan.half_typed.get(&key).filter(|_| walk.read(step).is_none());
    now.map(|draft| &draft.text).or_else(before).cloned().unwrap_or_default()
}

//! Leaves a step of the walk out until the person comes back to it.

use crate::plan::Skip;
use crate::step::Step;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, SkipStep, WalkView};
use crate::{Garage, Now, car_form, half_typed};

/// Skips one step, or all that is left at its corner, and goes on with the next that is open. What is skipped is offered again at
/// the end, and can be come back to at any time by going there. Half-typed text is kept for its step.
///
/// # Errors
/// No such snapshot or step, it is read already, or the snapshot is finished.
pub fn skip_step(garage: &mut Garage, request: SkipStep, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = half_typed::set_aside(garage, Walk::of(garage, id)?, now)?;
    let step = walk.step(request.step)?;
    let wanted = |other: &&Step| *other == step || (request.whole_corner && other.corner == step.corner);
    let open = walk.steps.iter().filter(|other| walk.open(other));
    let steps: Vec<String> = open.filter(wanted).map(Step::key).collect();
    if steps.is_empty() && walk.read(step).is_some() {
        let hint = "Strike it if it is wrong. What is not read yet can be skipped.";
        return Err(Problem::new("nothing_to_skip", format!("The {} is read.", step.brief()), hint));
    }
    let mut plan = walk.plan.clone();
    let next = walk.next_key_without(request.step as usize, &steps);
    if !steps.is_empty() {
        plan.skips.push(Skip { steps, undone: false, after: walk.history.events });
    }
    garage.store.change_plan(id, &car_form::written(&plan)?, Some(&next), now.stamp())?;
    page(garage, id)
}

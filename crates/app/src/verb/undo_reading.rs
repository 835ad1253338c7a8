//! Takes back what was done last in a walk.

use crate::history::Act;
use crate::plan::Skip;
use crate::step::Step;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, SnapshotRef, StepKind, WalkView};
use crate::{Garage, Now, car_form, half_typed};
use trueground_store::Mark;

/// Takes back the newest reading that counts and goes to its step, or the newest strike, return of a struck one, or skip,
/// whichever was last. Everything stays in the book and can be put back until something new is done. Works as often as there is
/// something, also after a restart.
///
/// # Errors
/// No such snapshot, finished, or there is nothing to take back.
pub fn undo_reading(garage: &mut Garage, request: SnapshotRef, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = half_typed::set_aside(garage, Walk::of(garage, id)?, now)?;
    let Some(last) = walk.history.done.last() else {
        return Err(Problem::new("nothing_to_undo", "Nothing is read in this snapshot.", "Read its first corner."));
    };
    let reading = |at: &usize| &walk.snapshot.readings[*at];
    match last {
        Act::Take(at) => {
            let step = walk.step_of(reading(at)).map(|step| planned(&walk, step).key());
            garage.store.mark(reading(at).taken.id, Mark::TakenBack, "", step.as_deref(), now.stamp())?;
        }
        Act::Strike(at, _) => {
            let next = walk.on_from(reading(at));
            garage.store.mark(reading(at).taken.id, Mark::PutBack, "", next.as_deref(), now.stamp())?;
        }
        Act::Unstrike(at, reason) => {
            garage.store.mark(reading(at).taken.id, Mark::Struck, reason, None, now.stamp())?;
        }
        Act::Skip(steps) => {
            let mut plan = walk.plan.clone();
            plan.skips.push(Skip { steps: steps.clone(), undone: true, after: walk.history.events });
            let first = steps.first().map(String::as_str);
            garage.store.change_plan(id, &car_form::written(&plan)?, first, now.stamp())?;
        }
    }
    page(garage, id)
}

/// A repeat beyond the plan is gone from the steps once it is taken back: then the mark's last planned step is the place.
fn planned(walk: &Walk, step: Step) -> Step {
    let rounds = if matches!(step.kind, StepKind::Gauge | StepKind::Plane) { 1 } else { walk.plan.rounds };
    Step { round: step.round.min(rounds), ..step }
}

//! Puts back what was taken back last.

use crate::history::Act;
use crate::plan::Skip;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, SnapshotRef, WalkView};
use crate::{Garage, Now, car_form, half_typed};
use trueground_store::Mark;

/// Undoes the last undo, and the one before at the next asking, until something new is done.
///
/// # Errors
/// No such snapshot, finished, or there is nothing to put back.
pub fn put_back(garage: &mut Garage, request: SnapshotRef, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = half_typed::set_aside(garage, Walk::of(garage, id)?, now)?;
    let Some(last) = walk.history.undone.last() else {
        let hint = "A reading can be put back until another is taken.";
        return Err(Problem::new("nothing_to_put_back", "Nothing was taken back.", hint));
    };
    let reading = |at: &usize| &walk.snapshot.readings[*at];
    match last {
        Act::Take(at) => {
            let place = walk.step_of(reading(at)).and_then(|step| walk.place(&step.key()));
            let next = place.map(|place| walk.next_key(place));
            garage.store.mark(reading(at).taken.id, Mark::PutBack, "", next.as_deref(), now.stamp())?;
        }
        Act::Strike(at, reason) => {
            garage.store.mark(reading(at).taken.id, Mark::Struck, reason, None, now.stamp())?;
        }
        Act::Unstrike(at, _) => {
            let next = walk.on_from(reading(at));
            garage.store.mark(reading(at).taken.id, Mark::PutBack, "", next.as_deref(), now.stamp())?;
        }
        Act::Skip(steps) => {
            let mut plan = walk.plan.clone();
            plan.skips.push(Skip { steps: steps.clone(), undone: false, after: walk.history.events });
            let next = walk.next_key_without(walk.at(), steps);
            garage.store.change_plan(id, &car_form::written(&plan)?, Some(&next), now.stamp())?;
        }
    }
    page(garage, id)
}

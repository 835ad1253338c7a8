//! Takes back the last reading.

use crate::steps::Step;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, SnapshotRef, WalkView};
use crate::{Garage, Now};
use trueground_store::Mark;

/// Takes back the newest reading that counts and goes to its step; the reading stays in the book and can be put back until
/// another is taken. Works as often as there are readings, also after a restart.
///
/// # Errors
/// No such snapshot, finished, or there is nothing to take back.
pub fn undo_reading(garage: &mut Garage, request: SnapshotRef, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let Some(newest) = walk.newest() else {
        return Err(Problem::new("nothing_to_undo", "Nothing is read in this snapshot.", "Read its first corner."));
    };
    let step = walk.step_of(newest).map(|step| planned(&walk, step).key());
    garage.store.mark(newest.taken.id, Mark::TakenBack, "", step.as_deref(), now.stamp())?;
    page(garage, id)
}

/// A repeat beyond the plan is gone from the steps once it is taken back: then the mark's last planned step is the place.
fn planned(walk: &Walk, step: Step) -> Step {
    let rounds =
        if step.point_kind.is_some() || step.kind == crate::wire::StepKind::Hub { walk.plan.rounds } else { 1 };
    Step { round: step.round.min(rounds), ..step }
}

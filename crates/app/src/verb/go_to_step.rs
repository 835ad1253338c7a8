//! Goes to a step of the walk.

use crate::walk_page::{Walk, page};
use crate::wire::{GoToStep, Problem, WalkView};
use crate::{Garage, Now};

/// Goes there; it stays so after a restart. Half-typed text of another step is dropped.
///
/// # Errors
/// No such snapshot or step, or it is finished.
pub fn go_to_step(garage: &mut Garage, request: GoToStep, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let key = walk.step(request.step)?.key();
    garage.store.keep_draft(id, &key, "", now.stamp())?;
    page(garage, id)
}

//! Goes to a step of the walk.

use crate::walk_page::{END, Walk, page};
use crate::wire::{GoToStep, Problem, WalkView};
use crate::{Garage, Now, half_typed};

/// Goes there; it stays so after a restart. Half-typed text is kept for its step, and a question about the reading taken last counts as
/// answered: both are kept.
///
/// # Errors
/// No such snapshot or step, or it is finished.
pub fn go_to_step(garage: &mut Garage, request: GoToStep, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = half_typed::set_aside(garage, Walk::of(garage, id)?, now)?;
    let all = request.step as usize == walk.steps.len();
    let key = if all { END.to_owned() } else { walk.step(request.step)?.key() };
    garage.store.go_to(id, &key, now.stamp())?;
    page(garage, id)
}

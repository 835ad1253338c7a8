//! Works out a plan while it is typed.

use crate::wire::{PlanForm, PlanView, Problem};
use crate::{Garage, Now, plan_page};

/// What a plan comes to: picture, changes, what follows. Nothing is stored, and what is half typed is said beside its field.
///
/// # Errors
/// No such car, no snapshot to set out from, or readings that cannot be worked out.
pub fn sketch_plan(garage: &mut Garage, request: PlanForm, _now: &Now<'_>) -> Result<PlanView, Problem> {
    plan_page::view(garage, &request)
}

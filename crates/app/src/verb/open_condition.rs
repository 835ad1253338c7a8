//! Shows the condition of a snapshot, to be changed.

use crate::wire::{ConditionView, Problem, SnapshotRef};
use crate::{Garage, Now, begin_form};

/// How the car stood, as it was typed.
///
/// # Errors
/// No such snapshot, or it cannot be read.
pub fn open_condition(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<ConditionView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let record = garage.store.snapshot(id)?;
    Ok(ConditionView { snapshot: id.to_string(), form: begin_form::of_condition(garage, &record)? })
}

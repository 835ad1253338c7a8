//! Writes a target as a small file, to be shared.

use crate::wire::{Exported, Problem, TargetRef};
use crate::words::file_stem;
use crate::{Garage, Now, target_page};
use trueground_core::target::TargetFile;

/// The target with the marks of its car, as text, and a name to save it under.
///
/// # Errors
/// No such car or target.
pub fn write_target(garage: &mut Garage, request: TargetRef, _now: &Now<'_>) -> Result<Exported, Problem> {
    let car = garage.find("car", &request.car)?;
    let file = garage.store.with_targets(car)?;
    let target = target_page::find(&file, &request.target)?;
    let text = serde_json::to_string_pretty(&TargetFile::of(&file.vehicle, &target))
        .map_err(|error| Problem::new("unwritable", format!("This cannot be written: {error}."), "Try again."))?;
    let label = if target.label.is_empty() { "target" } else { &target.label };
    Ok(Exported { file_name: format!("{}.target.json", file_stem(label)), text, notices: Vec::new() })
}

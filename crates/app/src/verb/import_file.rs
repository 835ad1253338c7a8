//! Reads in an exchange file.

use super::open_garage;
use crate::wire::{GarageView, ImportFile, Nothing, Problem};
use crate::{Garage, Now, garage_row};
use trueground_core::capture::CarFile;
use trueground_core::wording::shown;
use trueground_store::StoreError;

/// Reads in a file, all or nothing. Reading in the same file twice changes nothing. Where the car is here already and the file
/// describes it differently, the file holds, and a notice says what it replaced; readings are only ever added.
///
/// # Errors
/// Not an exchange file, it makes no sense alone or with what is here of the car, or it contradicts a finished snapshot; then
/// nothing was read in.
pub fn import_file(garage: &mut Garage, request: ImportFile, now: &Now<'_>) -> Result<GarageView, Problem> {
    let named =
        |problem: Problem| Problem { sentence: format!("{}: {}", shown(&request.name), problem.sentence), ..problem };
    let mut document: serde_json::Value = serde_json::from_str(&request.text).map_err(|error| {
        let place = format!("line {}, column {}", error.line(), error.column());
        named(StoreError::Unreadable { place, what: "this is not JSON as an exchange file is".to_owned() }.into())
    })?;
    if let Some(input) = document.get_mut("input").filter(|input| input.is_object()) {
        document = input.take();
    }
    if let Ok(file) = serde_json::from_value::<CarFile>(document.clone())
        && let [first, others @ ..] = &trueground_core::validate::import_faults(&file)[..]
    {
        let more = if others.is_empty() { String::new() } else { format!(" (and {} more)", others.len()) };
        return Err(named(Problem::new("file_unreadable", format!("{first}{more}."), format!("{}.", first.hint))));
    }
    let imported = garage.store.import_document(document, now.stamp()).map_err(|error| named(error.into()))?;
    garage.store.use_car(imported.car)?;
    if !imported.replaced.is_empty() {
        let label = garage.store.car_head(imported.car)?.label;
        let are = match &imported.replaced[..] {
            [one] if one != "its measures" => "is now that of",
            _ => "are now those of",
        };
        let notice = format!("{label}: {} {are} the file.", imported.replaced.join(", "));
        if !garage.notices.contains(&notice) {
            garage.notices.push(notice);
        }
    }
    if imported.changed {
        garage_row::keep(garage, imported.car)?;
    }
    open_garage(garage, Nothing {}, now)
}

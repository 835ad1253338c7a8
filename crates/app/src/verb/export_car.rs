//! Writes a car out as an exchange file.

use crate::wire::{ExportCar, Exported, Problem};
use crate::words::file_stem;
use crate::{Garage, Now};

/// The car with all that was read on it and its photos, as text, and a name to save it under. A photo whose picture is lost is
/// named only, and said.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn export_car(garage: &mut Garage, request: ExportCar, now: &Now<'_>) -> Result<Exported, Problem> {
    let id = garage.find("car", &request.car)?;
    let loaded =
        if request.without_pictures { garage.store.car_file(id)? } else { garage.store.car_file_with_pictures(id)? };
    let document = loaded.document;
    let label = document["vehicle"]["label"].as_str().unwrap_or("car");
    let text = serde_json::to_string_pretty(&document)
        .map_err(|error| Problem::new("unwritable", format!("This car cannot be written: {error}."), "Try again."))?;
    Ok(Exported {
        file_name: format!("{}-{}.json", file_stem(label), now.stamp().date()),
        text,
        notices: loaded.damaged,
    })
}

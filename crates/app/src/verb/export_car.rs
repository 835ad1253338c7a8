//! Writes a car out as an exchange file.

use crate::wire::{CarRef, Exported, Problem};
use crate::words::file_stem;
use crate::{Garage, Now};

/// The car with all that was read on it, as text, and a name to save it under.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn export_car(garage: &mut Garage, request: CarRef, now: &Now<'_>) -> Result<Exported, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car_file(id)?.document;
    let label = document["vehicle"]["label"].as_str().unwrap_or("car");
    let text = serde_json::to_string_pretty(&document)
        .map_err(|error| Problem::new("unwritable", format!("This car cannot be written: {error}."), "Try again."))?;
    Ok(Exported { file_name: format!("{}-{}.json", file_stem(label), now.stamp().date()), text })
}

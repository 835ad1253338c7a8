//! Reads the sample cars in beside whatever is there.

use super::open_garage;
use crate::wire::{GarageView, Nothing, Problem};
use crate::{Garage, Now, garage_row};
use serde_json::Value;
use trueground_store::car_id;

/// In the order of the list's foot to its head.
const SAMPLES: [&str; 3] = [
    include_str!("../../../../sample-data/show-roadster.json"),
    include_str!("../../../../sample-data/settling-coupe.json"),
    include_str!("../../../../sample-data/sloping-drive.json"),
];

/// Puts the three sample cars at the head of the garage. One that is here already stays as it is, with all that was changed.
///
/// # Errors
/// Nothing can be written.
pub fn open_sample_garage(garage: &mut Garage, _request: Nothing, now: &Now<'_>) -> Result<GarageView, Problem> {
    for sample in SAMPLES {
        let document: Value = serde_json::from_str(sample).map_err(|error| {
            Problem::new(
                "file_unreadable",
                format!("A sample car cannot be read: {error}."),
                "Install Trueground anew.",
            )
        })?;
        let car = car_id(&document);
        let here = garage.store.cars()?.iter().any(|kept| kept.id == car);
        if !here {
            garage.store.import_document(document, now.stamp())?;
            garage_row::keep(garage, car)?;
        }
        garage.store.use_car(car)?;
    }
    open_garage(garage, Nothing {}, now)
}

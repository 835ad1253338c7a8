//! Reads the sample cars in beside whatever is there.

use super::open_garage;
use crate::wire::{GarageView, Nothing, Problem};
use crate::{Garage, Now, garage_row};

/// In the order of the list's foot to its head.
const SAMPLES: [&str; 3] = [
    include_str!("../../../../sample-data/show-roadster.json"),
    include_str!("../../../../sample-data/settling-coupe.json"),
    include_str!("../../../../sample-data/sloping-drive.json"),
];

/// Puts the three sample cars at the head of the garage. Doing it twice changes nothing.
///
/// # Errors
/// Nothing can be written.
pub fn open_sample_garage(garage: &mut Garage, _request: Nothing, now: &Now<'_>) -> Result<GarageView, Problem> {
    for sample in SAMPLES {
        let imported = garage.store.import(sample, now.stamp())?;
        garage.store.use_car(imported.car)?;
        if imported.changed {
            garage_row::keep(garage, imported.car)?;
        }
    }
    open_garage(garage, Nothing {}, now)
}

//! Opens the garage: every car, and how the app is set. Works nothing out.

use crate::wire::{GarageView, Nothing, Problem};
use crate::{Garage, Now, garage_row};

/// Every car, last used first, drawn from kept results.
///
/// # Errors
/// The garage cannot be read.
pub fn open_garage(garage: &mut Garage, _request: Nothing, _now: &Now<'_>) -> Result<GarageView, Problem> {
    let mut cars = Vec::new();
    for what in garage.store.grounds_left_out()? {
        garage.set_aside("Grounds", &what);
    }
    for head in garage.store.cars()? {
        for what in garage.store.left_out(head.id).unwrap_or_default() {
            garage.set_aside(&head.label, &what);
        }
        cars.push(garage_row::row(garage, &head)?);
    }
    Ok(GarageView { cars, settings: garage.settings()?, notices: garage.notices.clone() })
}

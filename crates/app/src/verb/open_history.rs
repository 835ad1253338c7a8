//! Shows a stretch of a car's history.

use crate::wire::{HistoryView, OpenHistory, Problem};
use crate::{Garage, Now, car_log};

/// Newest first; results and changes are worked out for this stretch only, so that a long history opens at once.
///
/// # Errors
/// No such car, or it cannot be read.
pub fn open_history(garage: &mut Garage, request: OpenHistory, now: &Now<'_>) -> Result<HistoryView, Problem> {
    let car = garage.find("car", &request.car)?;
    car_log::page(garage, car, &request.only, request.after, now)
}

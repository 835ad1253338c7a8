//! Withdraws an entry of the history: it no longer counts, and stays in the book.

use crate::wire::{EventRef, HistoryView, Problem};
use crate::{Garage, Now, car_log, event};
use trueground_core::capture::EventChanged;

/// Withdraws it; one that is withdrawn already stays so.
///
/// # Errors
/// No such car or event, or it cannot be written.
pub fn withdraw_event(garage: &mut Garage, request: EventRef, now: &Now<'_>) -> Result<HistoryView, Problem> {
    let car = garage.find("car", &request.car)?;
    let record = event::find(garage, car, &request.event)?;
    let row = event::row(&record.name, EventChanged::Withdrawn, None, now);
    garage.store.write_event(car, &row, Some(&request.request_id), now.stamp())?;
    car_log::first(garage, car, now)
}

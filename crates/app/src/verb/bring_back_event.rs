//! Undoes the last thing that happened to an entry of the history.

use crate::wire::{EventRef, HistoryView, Problem};
use crate::{Garage, Now, car_log, event};
use trueground_core::capture::EventChanged;

/// A withdrawn entry counts again; one that was changed says again what it said before. Both are rows of their own.
///
/// # Errors
/// No such car or event, nothing happened to it since it was kept, or it cannot be written.
pub fn bring_back_event(garage: &mut Garage, request: EventRef, now: &Now<'_>) -> Result<HistoryView, Problem> {
    let car = garage.find("car", &request.car)?;
    let record = event::find(garage, car, &request.event)?;
    let row = if record.counts {
        let says: Vec<_> = record.rows.iter().filter_map(|row| row.says.as_ref()).collect();
        let Some(before) = says.iter().rev().nth(1) else {
            let hint = "Change it, or withdraw it.";
            return Err(Problem::new("nothing_to_undo", "Nothing happened to this entry since it was kept.", hint));
        };
        event::row(&record.name, EventChanged::Changed, Some((*before).clone()), now)
    } else {
        event::row(&record.name, EventChanged::BroughtBack, None, now)
    };
    garage.store.write_event(car, &row, Some(&request.request_id), now.stamp())?;
    car_log::first(garage, car, now)
}

//! Keeps work on a car or a note, or changes what an entry says.

use crate::fields::Fields;
use crate::wire::{HistoryView, KeepEvent, Problem};
use crate::{Garage, Now, car_log, event};
use trueground_core::capture::EventChanged;

/// Keeps the event and shows the newest stretch of the history. What an entry said before stays in its book.
///
/// # Errors
/// No such car or event, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_event(garage: &mut Garage, request: KeepEvent, now: &Now<'_>) -> Result<HistoryView, Problem> {
    let car = garage.find("car", &request.form.car)?;
    garage.store.car(car)?;
    let before = match &request.form.event {
        Some(id) => Some(event::find(garage, car, id)?),
        None => None,
    };
    let mut fields = Fields::default();
    let read = event::read(&mut fields, &request.form, before.as_ref().map(|record| &record.event), now);
    fields.done()?;
    if let Some(says) = read {
        let row = match &before {
            None => event::kept(says, now),
            Some(record) if record.event == says => return car_log::first(garage, car, now),
            Some(record) => event::row(&record.name, EventChanged::Changed, Some(says), now),
        };
        garage.store.write_event(car, &row, Some(&request.request_id), now.stamp())?;
    }
    car_log::first(garage, car, now)
}

//! The days of a car's file: its snapshots in order, and when the settling began.

use crate::bench::Refusal;
use crate::capture::{CarFile, Event, Snapshot};
use chrono::NaiveDate;

/// When the settling began, and what stood on the clock then.
pub(super) struct Begun<'f> {
    pub(super) day_0: NaiveDate,
    pub(super) reset: Option<&'f Event>,
    pub(super) first_km: Option<f64>,
}

impl Begun<'_> {
    /// Kilometres since, where both were booked; of a car without work on its springs, since its first snapshot.
    pub(super) fn km(&self, snapshot: &Snapshot) -> Option<f64> {
        let begun = self.reset.map_or(self.first_km, |event| event.odometer_km);
        snapshot.odometer_km.zip(begun).map(|(now, then)| now - then)
    }
}

/// Snapshots with their days, in order. A mock-up on stands is no ride height.
pub(super) fn on_its_wheels(file: &CarFile) -> Result<Vec<(NaiveDate, &Snapshot)>, Refusal> {
    let mut dated = Vec::new();
    for (i, snapshot) in file.snapshots.iter().enumerate().filter(|(_, snapshot)| snapshot.on_wheels()) {
        dated.push((date(&snapshot.date, &format!("snapshots[{i}].date"))?, snapshot));
    }
    dated.sort_by_key(|(date, _)| *date);
    Ok(dated)
}

/// A day of the file.
pub(super) fn date(text: &str, path: &str) -> Result<NaiveDate, Refusal> {
    text.parse().map_err(|_| {
        let message = format!("{path} is {}, not a day.", crate::wording::shown(text));
        Refusal::new(message, "Write it as 2031-05-03.")
    })
}

/// The last work after which springs settle anew.
pub(super) fn last_reset(file: &CarFile) -> Result<Option<(NaiveDate, &Event)>, Refusal> {
    let mut last: Option<(NaiveDate, &Event)> = None;
    for (i, event) in file.events.iter().enumerate().filter(|(_, event)| event.resets_settling) {
        let on = date(&event.date, &format!("events[{i}].date"))?;
        if last.is_none_or(|(before, _)| before <= on) {
            last = Some((on, event));
        }
    }
    Ok(last)
}

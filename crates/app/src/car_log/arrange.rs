//! Puts everything that happened to a car in the order of time.
//!
//! Days come from what was written down; within a day a floor is levelled first and corrections come last. Work stands before the
//! snapshots of its day unless the kilometres, or else the time it was entered that same day, say otherwise.

use super::item::{Item, What};
use crate::Garage;
use crate::wire::Problem;
use std::collections::BTreeMap;
use trueground_core::capture::{CarFile, Snapshot};
use trueground_store::{EventRecord, Reading};
use uuid::Uuid;

/// What happened on one day.
#[derive(Default)]
struct Day<'f> {
    levellings: Vec<What>,
    snapshots: Vec<&'f Snapshot>,
    events: Vec<usize>,
    targets: Vec<What>,
    corrections: Vec<What>,
}

/// Everything, oldest first.
///
/// # Errors
/// A floor cannot be read.
pub(super) fn in_time(
    garage: &Garage,
    file: &CarFile,
    events: &[EventRecord],
    car: Uuid,
) -> Result<Vec<Item>, Problem> {
    let mut days: BTreeMap<String, Day<'_>> = BTreeMap::new();
    for snapshot in &file.snapshots {
        days.entry(snapshot.date.clone()).or_default().snapshots.push(snapshot);
        for (place, correction) in snapshot.corrections.iter().enumerate() {
            let date = correction.at.as_deref().and_then(|at| at.get(..10)).unwrap_or(&snapshot.date);
            let what = What::Correction { snapshot: snapshot.id.clone(), place };
            days.entry(date.to_owned()).or_default().corrections.push(what);
        }
    }
    for (place, target) in file.targets.iter().enumerate() {
        if let Some(date) = &target.since {
            days.entry(date.clone()).or_default().targets.push(What::Target(place));
        }
    }
    for (place, record) in events.iter().enumerate() {
        days.entry(record.event.date.clone()).or_default().events.push(place);
    }
    for (floor, name) in garage.store.floors(car)? {
        // One that is damaged is said elsewhere.
        let Ok(record) = garage.store.floor(floor) else { continue };
        let mut by_day: BTreeMap<String, usize> = BTreeMap::new();
        for reading in record.readings.iter().filter(|reading| reading.counts()) {
            if let Some(date) = read_on(reading) {
                *by_day.entry(date).or_default() += 1;
            }
        }
        for (date, readings) in by_day {
            let what = What::Levelling { floor, name: name.clone(), readings };
            days.entry(date).or_default().levellings.push(what);
        }
    }
    Ok(days.into_iter().flat_map(|(date, day)| arranged(&date, day, events)).collect())
}

fn read_on(reading: &Reading) -> Option<String> {
    let said = reading.taken.extra.get("taken_at").and_then(|at| at.as_str()).and_then(|at| at.get(..10));
    said.map(str::to_owned).or_else(|| reading.at.map(|at| at.date()))
}

fn arranged(date: &str, day: Day<'_>, events: &[EventRecord]) -> Vec<Item> {
    let mut middle: Vec<What> = day.snapshots.iter().map(|snapshot| What::Snapshot(snapshot.id.clone())).collect();
    // From the last on, so that work of one place keeps its order of entry.
    for place in day.events.into_iter().rev() {
        let before = snapshots_before(date, &day.snapshots, &events[place]);
        let at = middle
            .iter()
            .enumerate()
            .filter(|(_, what)| matches!(what, What::Snapshot(_)))
            .nth(before)
            .map_or(middle.len(), |(at, _)| at);
        let at = (0..at).rev().take_while(|at| matches!(middle[*at], What::Event(_))).last().unwrap_or(at);
        middle.insert(at, What::Event(place));
    }
    let all = day.levellings.into_iter().chain(middle).chain(day.targets).chain(day.corrections);
    all.map(|what| Item { date: date.to_owned(), what }).collect()
}

/// How many snapshots of its day were taken before this work.
fn snapshots_before(date: &str, snapshots: &[&Snapshot], record: &EventRecord) -> usize {
    if let Some(work_km) = record.event.odometer_km
        && snapshots.iter().any(|snapshot| snapshot.odometer_km.is_some())
    {
        let fewer = |snapshot: &&&Snapshot| snapshot.odometer_km.is_some_and(|km| km < work_km);
        return snapshots.iter().take_while(fewer).count();
    }
    let entered = record.entered.iso();
    if entered.get(..10) != Some(date) {
        return 0;
    }
    let earlier = |snapshot: &&&Snapshot| last_read(snapshot).is_some_and(|at| Some(at) < entered.get(..16));
    snapshots.iter().take_while(earlier).count()
}

/// Day and minute of the last reading.
fn last_read(snapshot: &Snapshot) -> Option<&str> {
    let readings = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings);
    readings.filter_map(|reading| reading.taken_at.as_deref()?.get(..16)).max()
}

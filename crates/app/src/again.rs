//! Measuring like an earlier snapshot: its form with each line to be confirmed, and what changed since.

use crate::solved::SolvedCar;
use crate::wire::{AgainView, Problem};
use crate::words::{capital, day, kinds};
use crate::{Garage, Now, begin_form, snapshot_row};
use std::collections::BTreeSet;
use trueground_core::capture::{EventEffect, EventKind, Snapshot, days_between};
use trueground_core::car::PointKind;
use trueground_store::{Reading, SnapshotRecord};
use uuid::Uuid;

const YEAR_DAYS: i64 = 365;
/// Farther from a year ago than this nothing is called last year's.
const ABOUT_DAYS: i64 = 92;

/// The finished snapshot on its wheels nearest to a year ago, within a quarter of a year of it.
///
/// # Errors
/// The list cannot be read.
pub(crate) fn a_year_ago(garage: &Garage, solved: &SolvedCar, now: &Now<'_>) -> Result<Option<Uuid>, Problem> {
    let today = now.stamp().date();
    let listed = garage.store.snapshots(solved.car)?;
    let off = |snapshot: &Snapshot| days_between(&snapshot.date, &today).map(|days| (days - YEAR_DAYS).abs());
    let nearest = listed
        .into_iter()
        .filter(|(.., finished)| *finished)
        .filter_map(|(id, name, _)| {
            let snapshot = solved.snapshot(&name).filter(|snapshot| snapshot.on_wheels())?;
            Some((off(snapshot)?, id))
        })
        .filter(|(off, _)| *off <= ABOUT_DAYS)
        .min_by_key(|(off, _)| *off);
    Ok(nearest.map(|(_, id)| id))
}

/// "26 Aug 2031, 364 days ago"
pub(crate) fn ago(date: &str, now: &Now<'_>) -> String {
    match days_between(date, &now.stamp().date()) {
        Some(0) => format!("{}, today", day(date)),
        Some(1) => format!("{}, yesterday", day(date)),
        Some(days) if days > 1 => format!("{}, {days} days ago", day(date)),
        _ => day(date),
    }
}

/// The form.
///
/// # Errors
/// No such snapshot of this car, it is no finished one on its wheels, or it cannot be read.
pub(crate) fn page(garage: &Garage, solved: &SolvedCar, id: Uuid, now: &Now<'_>) -> Result<AgainView, Problem> {
    let record = garage.store.snapshot(id)?;
    let snapshot = snapshot_row::typed(&record)?;
    if record.car != solved.car || !record.finished || !snapshot.on_wheels() {
        let hint = "Choose a finished one that stood on its wheels.";
        return Err(Problem::new("cannot_be_like_it", "This snapshot cannot be measured like again.", hint));
    }
    Ok(AgainView {
        snapshot: id.to_string(),
        form: begin_form::form(garage, solved, Some(&record))?,
        then: begin_form::last_time(garage, solved, &record)?,
        words: ago(&snapshot.date, now),
        since: since(garage, solved, &record, &snapshot)?,
    })
}

/// What changed on the car, its marks and its floor since that snapshot.
fn since(
    garage: &Garage,
    solved: &SolvedCar,
    record: &SnapshotRecord,
    then: &Snapshot,
) -> Result<Vec<String>, Problem> {
    let mut all = Vec::new();
    let later = |date: &str| date > then.date.as_str();
    let mut events: Vec<_> = solved.file.events.iter().filter(|event| later(&event.date)).collect();
    events.sort_by(|a, b| a.date.cmp(&b.date));
    for event in events {
        let line = match event.effect() {
            EventEffect::Nothing | EventEffect::MayMove => continue,
            EventEffect::SettlesAnew | EventEffect::Moves => {
                format!("{} on {}.", capital(&trueground_core::wording::shown(&event.what)), day(&event.date))
            }
        };
        let line = match event.known_kind() {
            Some(EventKind::MarksAnew) => format!("{line} What is read now cannot be held against it."),
            _ => line,
        };
        all.push(line);
    }
    let read: BTreeSet<&str> = record.readings.iter().filter(|reading| reading.counts()).map(place).collect();
    let points = &solved.file.vehicle.ref_points;
    for kind in PointKind::ALL {
        let of_kind = || points.iter().filter(|point| point.kind == kind && read.contains(point.id.as_str()));
        if of_kind().count() > 0 && of_kind().all(|point| point.retired) {
            all.push(format!("{} are no longer read: take them up again on the car\u{2019}s page.", kinds(kind)));
        }
    }
    let gone = read.iter().filter(|name| is_mark(name) && points.iter().all(|point| point.id != **name)).count();
    if gone > 0 {
        all.push(format!("{gone} of its marks are no longer on the car."));
    }
    if let Some(name) = &then.floor
        && let Some((floor, _)) = garage.store.floors(record.car)?.into_iter().find(|(_, known)| known == name)
    {
        let floor = garage.store.floor(floor)?;
        let levelled = floor.readings.iter().rev().filter(|reading| reading.counts()).find_map(|reading| reading.at);
        if let Some(at) = levelled.map(|at| at.date()).filter(|at| later(at)) {
            let label = floor.document["label"].as_str().unwrap_or("The floor").to_owned();
            all.push(format!("{} was levelled again on {}.", capital(&label), day(&at)));
        }
    }
    Ok(all)
}

fn place(reading: &Reading) -> &str {
    let name = reading.taken.place.as_str();
    ["on:", "hub_to:"].into_iter().find_map(|word| name.strip_prefix(word)).unwrap_or(name)
}

fn is_mark(name: &str) -> bool {
    let no_mark = ["hub.", "under:", "S1", "S2", "S3", "S4", "frame_"];
    no_mark.iter().all(|word| !name.starts_with(word))
}

//! One entry of the history as it is shown.

use super::Log;
use super::item::{Item, What, is_note};
use super::step;
use crate::corrections::corrections;
use crate::wire::{EventView, HistoryEntry, HistoryMark, HistoryPart, PhotoView, Problem};
use crate::words::{capital, counted, day};
use crate::{Garage, event, photo_page, snapshot_row};
use trueground_core::capture::{EventChange, EventChanged, EventEffect, Snapshot};
use trueground_core::corner::Corner;
use trueground_core::wording::{grouped, shown};
use trueground_store::EventRecord;
use uuid::Uuid;

/// A gauge is read no better than that, kPa (common practice, no source).
const ALIKE_KPA: f64 = 5.0;

/// Writes it.
///
/// # Errors
/// Its snapshot cannot be read.
pub(super) fn entry(garage: &Garage, log: &Log, item: &Item) -> Result<HistoryEntry, Problem> {
    let mut entry = HistoryEntry {
        id: String::new(),
        part: log.part(item),
        month: day(&item.date).split_once(' ').map_or_else(String::new, |(_, month)| month.to_owned()),
        day: day(&item.date),
        mark: HistoryMark::Words,
        title: String::new(),
        lines: Vec::new(),
        withdrawn: false,
        snapshot: None,
        floor: None,
        event: None,
        photos: Vec::new(),
        again: false,
        step: None,
        words: String::new(),
    };
    match &item.what {
        What::Snapshot(name) => {
            let (Some(id), Some(snapshot)) = (log.id(name), log.solved.snapshot(name)) else { return Ok(entry) };
            of_snapshot(garage, log, id, snapshot, &mut entry)?;
        }
        What::Event(place) => of_event(&log.solved.car.to_string(), &log.events[*place], &mut entry),
        What::Correction { snapshot, place } => of_correction(log, snapshot, *place, &mut entry),
        What::Target(place) => {
            let target = &log.solved.file.targets[*place];
            entry.id = format!("target {}", target.id);
            entry.mark = HistoryMark::Target;
            entry.title = format!("Target kept: {}", shown(&target.label));
            let replaces =
                target.replaces.as_ref().map(|_| "It replaces an earlier entry of the same target.".to_owned());
            let note = Some(shown_whole(&target.note)).filter(|note| !note.is_empty());
            entry.lines = [note, replaces].into_iter().flatten().collect();
        }
        What::Levelling { floor, name, readings } => {
            let known = log.solved.file.floors.iter().find(|each| each.id == *name);
            let label = known.map_or(name.as_str(), |floor| floor.label.as_str());
            entry.id = format!("levelling {floor} {}", item.date);
            entry.mark = HistoryMark::Level;
            entry.title = format!("{}: floor read", shown(label));
            entry.lines = vec![format!("{}.", capital(&counted(*readings, "reading", "readings")))];
            entry.floor = Some(floor.to_string());
        }
    }
    entry.words = in_sentences(&entry);
    Ok(entry)
}

fn of_snapshot(
    garage: &Garage,
    log: &Log,
    id: Uuid,
    snapshot: &Snapshot,
    entry: &mut HistoryEntry,
) -> Result<(), Problem> {
    let file = &log.solved.file;
    let finished = log.finished(&snapshot.id);
    let state = if finished { None } else { Some(snapshot_row::progress(&garage.store.snapshot(id)?, &file.vehicle)) };
    let row = snapshot_row::row(&log.solved, id, snapshot, state);
    entry.id = format!("snapshot {id}");
    entry.mark = match (finished && snapshot.on_wheels(), other_condition(log, snapshot)) {
        (false, _) => HistoryMark::NoHeight,
        (true, true) => HistoryMark::OtherLoad,
        (true, false) => HistoryMark::Measured,
    };
    entry.title = row.state;
    // What is the same in most rows is said in two words.
    let load = if Some(&row.load) == file.vehicle.nominal_load.as_ref() { "usual load".to_owned() } else { row.load };
    let stood = capital(&[row.floor, row.facing, load].join(" · "));
    let km = snapshot.odometer_km.map(kilometres);
    entry.lines =
        [(row.label != entry.day).then(|| capital(&row.label)), Some(stood), km].into_iter().flatten().collect();
    entry.snapshot = Some(id.to_string());
    entry.photos = photos(garage, id, snapshot)?;
    entry.again = finished && snapshot.on_wheels();
    entry.step = step::step(log, snapshot);
    Ok(())
}

/// "48,215 km"
fn kilometres(km: f64) -> String {
    format!("{} km", grouped(km.round().max(0.0) as usize))
}

/// Another load than usual, or pressures other than the tires'.
fn other_condition(log: &Log, snapshot: &Snapshot) -> bool {
    let off = |corner: Corner| {
        let usual = log.solved.file.vehicle.tires.as_ref().map(|tires| tires.at(corner).nominal_pressure_kpa);
        let now = snapshot.tire_pressure_kpa.as_ref().map(|pressures| *pressures.at(corner));
        usual.zip(now).is_some_and(|(usual, now)| (usual - now).abs() > ALIKE_KPA)
    };
    !snapshot.load_change_from_nominal.is_empty() || Corner::ALL.into_iter().any(off)
}

fn photos(garage: &Garage, id: Uuid, snapshot: &Snapshot) -> Result<Vec<PhotoView>, Problem> {
    if snapshot.photos.is_empty() {
        return Ok(Vec::new());
    }
    photo_page::shown(garage, id, &snapshot.date)
}

fn of_event(car: &str, record: &EventRecord, entry: &mut HistoryEntry) {
    let said = &record.event;
    let effect = said.effect();
    entry.id = format!("event {}", record.name);
    entry.mark = match effect {
        EventEffect::SettlesAnew => HistoryMark::SettlesAnew,
        _ if is_note(record) => HistoryMark::Words,
        _ => HistoryMark::Work,
    };
    entry.title = capital(&shown_whole(&said.what));
    let settles = (effect == EventEffect::SettlesAnew).then(|| "Springs settle anew from here.".to_owned());
    entry.lines = [said.note.as_deref().map(shown_whole), said.odometer_km.map(kilometres), settles]
        .into_iter()
        .flatten()
        .collect();
    entry.withdrawn = !record.counts;
    let changes: Vec<String> = changes(&record.rows);
    entry.event = Some(EventView {
        event: record.name.clone(),
        form: event::form(car, record),
        effect: event::effect(effect).to_owned(),
        can_undo: !record.counts || record.rows.iter().filter(|row| row.says.is_some()).count() > 1,
        changes,
    });
}

/// A person's words, all of them, without what would move the line.
fn shown_whole(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect::<String>().trim().to_owned()
}

/// What happened to an entry after it was kept.
fn changes(rows: &[EventChange]) -> Vec<String> {
    let mut before = rows.first().and_then(|row| row.says.as_ref());
    let mut all = Vec::new();
    for row in rows.iter().skip(1) {
        let at = row.at.as_deref().unwrap_or_default();
        let when = match (at.get(..10), at.get(11..16)) {
            (Some(date), Some(clock)) => format!(" {}, {clock}", day(date)),
            _ => String::new(),
        };
        all.push(match row.what {
            EventChanged::Withdrawn => format!("Withdrawn{when}."),
            EventChanged::BroughtBack => format!("Brought back{when}."),
            EventChanged::Kept | EventChanged::Changed => {
                let (then, now) = (before, row.says.as_ref());
                before = now.or(before);
                let told = then.zip(now).map(|(then, now)| differences(then, now)).unwrap_or_default();
                if told.is_empty() { format!("Changed{when}.") } else { format!("Changed{when}: {}.", told.join("; ")) }
            }
        });
    }
    all
}

fn differences(then: &trueground_core::capture::Event, now: &trueground_core::capture::Event) -> Vec<String> {
    let km = |km: Option<f64>| km.map_or("no kilometres".to_owned(), kilometres);
    let settles = |settles: bool| if settles { "springs settle anew" } else { "springs go on settling" }.to_owned();
    let note = |note: &Option<String>| note.as_deref().map_or("no note".to_owned(), shown);
    let rows = [
        (day(&then.date), day(&now.date)),
        (shown(&then.what), shown(&now.what)),
        (km(then.odometer_km), km(now.odometer_km)),
        (note(&then.note), note(&now.note)),
        (settles(then.resets_settling), settles(now.resets_settling)),
    ];
    rows.into_iter().filter(|(then, now)| then != now).map(|(then, now)| format!("{then} → {now}")).collect()
}

fn of_correction(log: &Log, name: &str, place: usize, entry: &mut HistoryEntry) {
    let Some(snapshot) = log.solved.snapshot(name) else { return };
    let all = corrections(&log.solved.file, snapshot);
    let Some(words) = all.get(place) else { return };
    entry.id = format!("correction {}", words.uuid);
    entry.title = format!("Corrected: {}", words.what.to_lowercase());
    let reason = if words.reason.is_empty() { String::new() } else { format!(", {}", words.reason) };
    entry.lines = vec![format!("{}{reason}", words.change), format!("In the snapshot of {}.", day(&snapshot.date))];
    entry.withdrawn = words.taken_back;
    entry.snapshot = log.id(name).map(|id| id.to_string());
}

/// All of an entry in sentences.
fn in_sentences(entry: &HistoryEntry) -> String {
    let stop = |text: &str| {
        let text = text.trim();
        if text.ends_with(['.', '!', '?']) || text.is_empty() { text.to_owned() } else { format!("{text}.") }
    };
    let mut all = vec![format!("{}: {}", entry.day, stop(&entry.title))];
    if entry.withdrawn {
        all.push(
            if entry.part == HistoryPart::Correction { "Taken back since." } else { "Withdrawn: it does not count." }
                .to_owned(),
        );
    }
    all.extend(entry.lines.iter().map(|line| stop(line)));
    if !entry.photos.is_empty() {
        all.push(format!("{}.", capital(&counted(entry.photos.len(), "photo", "photos"))));
    }
    if let Some(event) = &entry.event {
        all.extend(event.changes.clone());
    }
    all.extend(entry.step.as_ref().map(step::words));
    all.join(" ")
}

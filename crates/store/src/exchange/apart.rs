//! Takes an exchange file apart into documents and readings, and merges them into what is kept.

use super::{Imported, ReadingIds, car_id, named_id, value_key};
use crate::photo;
use crate::reading::{self, NewReading, Parent, Reading, ReadingKind};
use crate::{Result, Stamp, StoreError, car, car_event, correction, floor, ground, instrument, plan, snapshot, target};
use rusqlite::Connection;
use serde_json::Value;
use std::collections::HashSet;
use trueground_core::capture::Correction;
use uuid::Uuid;

pub(super) fn merge(connection: &Connection, mut file: Value, at: Stamp) -> Result<Imported> {
    let car_uuid = car_id(&file);
    let instruments = instrument::merge(connection, &mut file, at)?;
    let grounds = ground::merge(connection, &mut file, at)?;
    let floors = taken_array(&mut file, "floors");
    let snapshots = taken_array(&mut file, "snapshots");
    let events = taken_array(&mut file, "events");
    let changes = taken_array(&mut file, "event_changes");
    let targets = target::take_out(&mut file);
    let plans = plan::take_out(&mut file);
    if let Value::Object(keys) = &mut file {
        keys.shift_remove("uuid");
        keys.retain(|key, value| !["events", "event_changes"].contains(&key.as_str()) || !is_empty_list(value));
    }
    let mut result = Imported {
        car: car_uuid,
        changed: instruments || grounds,
        new_readings: 0,
        new_corrections: 0,
        new_events: 0,
        replaced: Vec::new(),
    };
    let car_row = match car::record(connection, car_uuid)? {
        None => {
            result.changed = true;
            car::insert(connection, car_uuid, &file, at)?
        }
        Some(kept) => {
            // A car that was added here has no lists of its own; written out as a file it has.
            for key in ["floors", "snapshots"] {
                if let Value::Object(keys) = &mut file
                    && kept.document.get(key).is_none()
                {
                    keys.shift_remove(key);
                }
            }
            if kept.document != file {
                result.changed = true;
                let what = if kept.document["vehicle"] == file["vehicle"] { "its description" } else { "its measures" };
                result.replaced.push(what.to_owned());
                car::replace(connection, kept.row, car_uuid, &file)?;
            }
            kept.row
        }
    };
    result.changed |= target::merge(connection, car_uuid, car_row, targets, at)?;
    result.changed |= plan::merge(connection, car_uuid, car_row, plans, at)?;
    let mut names = HashSet::new();
    for floor in floors {
        let name = floor["id"].as_str().unwrap_or_default().to_owned();
        once(&mut names, format!("floor {name}"))?;
        merge_floor(connection, &mut result, car_row, &name, floor, at)?;
    }
    for snapshot in snapshots {
        let name = snapshot["id"].as_str().unwrap_or_default().to_owned();
        once(&mut names, format!("snapshot {name}"))?;
        merge_snapshot(connection, &mut result, car_row, &name, snapshot, at)?;
    }
    result.new_events = car_event::merge(connection, car_row, car_uuid, events, changes, at)?;
    result.changed |= result.new_events > 0;
    if result.changed {
        car::touch(connection, car_row)?;
    }
    Ok(result)
}

fn merge_floor(
    connection: &Connection,
    result: &mut Imported,
    car_row: i64,
    name: &str,
    mut document: Value,
    at: Stamp,
) -> Result<()> {
    let id = named_id(result.car, "floor", name);
    let mut readings = Vec::new();
    let mut ids = ReadingIds::new(id);
    let mut passes = HashSet::new();
    for pass in document.pointer_mut("/survey/passes").and_then(Value::as_array_mut).into_iter().flatten() {
        let pass_no = number(&pass["pass_no"], 1);
        once(&mut passes, format!("pass {pass_no} of floor {name}"))?;
        for reading in taken_array(pass, "readings") {
            readings.push(from_file(ReadingKind::Staff, "", pass_no, reading, &mut ids));
        }
    }
    if let Some(survey) = document.get_mut("survey").filter(|survey| survey.is_object()) {
        for reading in taken_array(survey, "straightedge") {
            let set = number(&reading["pass_no"], 1);
            readings.push(from_file(ReadingKind::Straightedge, "", set, reading, &mut ids));
        }
    }
    let (row, kept) = match floor::record(connection, id)? {
        None => {
            result.changed = true;
            (floor::insert(connection, id, car_row, &document, at)?, Vec::new())
        }
        // The file of a car that only stands on it: what it is stays as its own car says.
        Some(kept) if kept.car_row != car_row && document["footprint"].is_object() => {
            result.changed |= floor::share(connection, car_row, &kept, at)?;
            if kept.document["survey"].is_null() && document["survey"].is_object() {
                let mut levelled = kept.document.clone();
                levelled["survey"] = document["survey"].take();
                floor::replace(connection, &kept, &levelled)?;
                floor::touch_all(connection, kept.row)?;
            }
            (kept.row, kept.readings)
        }
        // The car that marked it out comes later than one that stands on it.
        Some(kept) if kept.car_row != car_row => {
            result.changed = true;
            floor::hand_over(connection, &kept, car_row, name, &document, at)?;
            (kept.row, kept.readings)
        }
        Some(kept) => {
            if kept.document != document {
                result.changed = true;
                result.replaced.push(format!("floor {}", document["label"].as_str().unwrap_or(name)));
                floor::replace(connection, &kept, &document)?;
            }
            (kept.row, kept.readings)
        }
    };
    let new = only_new(&kept, readings)?;
    if !new.is_empty() {
        floor::touch_all(connection, row)?;
    }
    result.add(connection, Parent::Floor(row), &new)
}

fn merge_snapshot(
    connection: &Connection,
    result: &mut Imported,
    car_row: i64,
    name: &str,
    mut document: Value,
    at: Stamp,
) -> Result<()> {
    let id = named_id(result.car, "snapshot", name);
    let mut readings = Vec::new();
    let mut ids = ReadingIds::new(id);
    let mut names = HashSet::new();
    for bounce in document.get_mut("bounces").and_then(Value::as_array_mut).into_iter().flatten() {
        let bounce_id = bounce["bounce_id"].as_str().unwrap_or_default().to_owned();
        once(&mut names, format!("bounce {bounce_id} of snapshot {name}"))?;
        for reading in taken_array(bounce, "readings") {
            readings.push(from_file(ReadingKind::Tape, &bounce_id, 0, reading, &mut ids));
        }
    }
    for reading in taken_array(&mut document, "angle_gauge") {
        let bounce_id = reading["bounce_id"].as_str().unwrap_or_default().to_owned();
        readings.push(from_file(ReadingKind::Gauge, &bounce_id, 0, reading, &mut ids));
    }
    for setup in document.get_mut("plane_on_car").and_then(Value::as_array_mut).into_iter().flatten() {
        let pass_no = number(&setup["pass_no"], 1);
        once(&mut names, format!("set-up {pass_no} of snapshot {name}"))?;
        for reading in taken_array(setup, "readings") {
            readings.push(from_file(ReadingKind::Plane, "", pass_no, reading, &mut ids));
        }
    }
    let mut taken = |key: &str| document.as_object_mut().and_then(|keys| keys.shift_remove(key));
    // Whether photos hang on it or not, the description is the same.
    let photos = match taken("photos") {
        Some(Value::Array(photos)) => photos,
        _ => Vec::new(),
    };
    let unfinished = taken("unfinished");
    let corrections = taken_corrections(&mut document, name, unfinished.is_some())?;
    correction::before(&mut document, &mut readings, &corrections);
    let (row, kept, known, frozen) = match snapshot::record(connection, id)? {
        None => {
            result.changed = true;
            let plan = unfinished.clone().unwrap_or_default();
            (snapshot::insert(connection, id, car_row, &document, &plan, at)?, Vec::new(), Vec::new(), false)
        }
        Some(kept) => {
            if !same(&kept, &document, &corrections) {
                if kept.finished {
                    return Err(StoreError::Contradiction {
                        what: format!("Snapshot {name} is finished here, and the file describes it differently."),
                    });
                }
                result.changed = true;
                result.replaced.push(format!("snapshot {}", document["label"].as_str().unwrap_or(name)));
                snapshot::replace(connection, &kept, &document)?;
            }
            (kept.row, kept.readings, kept.corrections, kept.finished)
        }
    };
    let new = only_new(&kept, readings)?;
    if frozen && !new.is_empty() {
        return Err(StoreError::Contradiction {
            what: format!("Snapshot {name} is finished here, and the file has {} more readings of it.", new.len()),
        });
    }
    result.add(connection, Parent::Snapshot(row), &new)?;
    result.changed |= photo::merge(connection, row, id, photos)?;
    if unfinished.is_none() && !frozen {
        result.changed = true;
        snapshot::freeze(connection, row, at)?;
    }
    for new in corrections.iter().filter(|new| known.iter().all(|known| known.uuid != new.uuid)) {
        result.changed = true;
        result.new_corrections += 1;
        correction::insert(connection, row, new, None, at)?;
    }
    Ok(())
}

fn taken_corrections(document: &mut Value, name: &str, unfinished: bool) -> Result<Vec<Correction>> {
    let Some(found) = document.as_object_mut().and_then(|keys| keys.shift_remove("corrections")) else {
        return Ok(Vec::new());
    };
    let corrections: Vec<Correction> = serde_json::from_value(found).unwrap_or_default();
    if unfinished && !corrections.is_empty() {
        let what = format!("Snapshot {name} is unfinished in the file, and the file corrects it.");
        return Err(StoreError::Contradiction { what });
    }
    Ok(corrections)
}

/// Whether a snapshot is described alike, apart from what was corrected here or in the file.
fn same(kept: &snapshot::SnapshotRecord, document: &Value, corrections: &[Correction]) -> bool {
    let (mut here, mut there) = (kept.as_finished.clone(), document.clone());
    let fields = correction::touched_fields(&kept.corrections);
    for field in fields.into_iter().chain(correction::touched_fields(corrections)) {
        for side in [&mut here, &mut there] {
            side.as_object_mut().and_then(|keys| keys.shift_remove(field));
        }
    }
    drop_empty(&mut here);
    drop_empty(&mut there);
    here == there
}

/// An empty list and none are the same: readings stand in rows of their own, and what is left of their list is nothing.
fn drop_empty(value: &mut Value) {
    match value {
        Value::Object(keys) => {
            keys.retain(|_, value| value.as_array().is_none_or(|items| !items.is_empty()));
            keys.values_mut().for_each(drop_empty);
        }
        Value::Array(items) => items.iter_mut().for_each(drop_empty),
        _ => {}
    }
}

impl Imported {
    fn add(&mut self, connection: &Connection, parent: Parent, new: &[NewReading]) -> Result<()> {
        reading::insert(connection, parent, new, None)?;
        self.new_readings += new.len();
        self.changed |= !new.is_empty();
        Ok(())
    }
}

fn once(names: &mut HashSet<String>, name: String) -> Result<()> {
    if names.contains(&name) {
        return Err(StoreError::Contradiction { what: format!("The file names {name} twice.") });
    }
    names.insert(name);
    Ok(())
}

fn is_empty_list(value: &Value) -> bool {
    value.as_array().is_some_and(Vec::is_empty)
}

/// Empties an array in place and hands over what was in it.
fn taken_array(owner: &mut Value, key: &str) -> Vec<Value> {
    match owner.get_mut(key) {
        Some(Value::Array(items)) => std::mem::take(items),
        _ => Vec::new(),
    }
}

fn number(value: &Value, absent: u32) -> u32 {
    value.as_u64().and_then(|number| u32::try_from(number).ok()).unwrap_or(absent)
}

/// A reading that was missed, as its correction says it.
pub(crate) fn added_reading(id: Uuid, mut written: Value) -> Option<NewReading> {
    let kind = if written.get("where").is_some() { ReadingKind::Gauge } else { ReadingKind::Tape };
    let keys = written.as_object_mut()?;
    let bounce = keys.shift_remove("bounce_id")?.as_str()?.to_owned();
    keys.shift_remove("uuid");
    let reading = from_file(kind, &bounce, 0, written, &mut ReadingIds::new(id));
    Some(NewReading { id, ..reading })
}

fn from_file(kind: ReadingKind, bounce: &str, pass_no: u32, value: Value, ids: &mut ReadingIds) -> NewReading {
    let Value::Object(mut keys) = value else { unreachable!("checked against the exchange file's types before") };
    let mut text = |key: &str| match keys.shift_remove(key) {
        Some(Value::String(text)) => text,
        _ => String::new(),
    };
    let mut place = text(match kind {
        ReadingKind::Tape => "ref",
        ReadingKind::Gauge => "where",
        ReadingKind::Plane | ReadingKind::Staff => "point",
        ReadingKind::Straightedge => "from",
    });
    if kind == ReadingKind::Straightedge {
        place = format!("{place}/{}", text("to"));
    }
    let typed = text("text");
    let unit = text("unit");
    let given = Uuid::parse_str(&text("uuid")).ok();
    match kind {
        ReadingKind::Gauge => keys.shift_remove("bounce_id"),
        ReadingKind::Straightedge => keys.shift_remove("pass_no"),
        ReadingKind::Tape | ReadingKind::Plane | ReadingKind::Staff => None,
    };
    let round = if kind == ReadingKind::Tape { keys.shift_remove("repeat").map_or(1, |n| number(&n, 1)) } else { 1 };
    let reversed = matches!(kind, ReadingKind::Gauge | ReadingKind::Straightedge)
        && keys.shift_remove("reversed").and_then(|reversed| reversed.as_bool()).unwrap_or_default();
    let value = keys.shift_remove(value_key(kind)).and_then(|value| value.as_f64()).unwrap_or_default();
    let mut reading = NewReading {
        id: Uuid::nil(),
        kind,
        bounce: bounce.to_owned(),
        pass_no,
        place,
        round,
        reversed,
        text: typed,
        unit,
        value,
        extra: keys,
        request: None,
    };
    let made = ids.made(&reading);
    reading.id = given.unwrap_or(made);
    reading
}

/// Those that are not kept yet.
fn only_new(kept: &[Reading], readings: Vec<NewReading>) -> Result<Vec<NewReading>> {
    let known: HashSet<Uuid> = kept.iter().map(|reading| reading.taken.id).collect();
    let mut named = HashSet::new();
    for reading in &readings {
        if !named.insert(reading.id) {
            let what = format!("The file names reading {} at {} twice.", reading.id, reading.place);
            return Err(StoreError::Contradiction { what });
        }
    }
    Ok(readings.into_iter().filter(|reading| !known.contains(&reading.id)).collect())
}

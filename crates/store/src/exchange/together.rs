//! Puts a car together again from documents and readings, as one exchange file.

use super::{Loaded, ReadingIds, car_id, value_key};
use crate::correction::touched_readings;
use crate::photo::PictureName;
use crate::reading::{Mark, NewReading, Reading, ReadingKind, Standing};
use crate::{
    Result, SnapshotRecord, Store, StoreError, car, car_event, floor, ground, instrument, photo, plan, snapshot, target,
};
use rusqlite::Connection;
use serde_json::{Map, Value, json};
use uuid::Uuid;

pub(super) fn put_together(connection: &Connection, id: Uuid) -> Result<Loaded> {
    let car = car::record(connection, id)?.ok_or_else(|| StoreError::NotFound { what: "car", id: id.to_string() })?;
    let mut damaged = Vec::new();
    let mut document = car.document;
    if car_id(&document) != id
        && let Value::Object(keys) = &mut document
    {
        keys.insert("uuid".to_owned(), json!(id.to_string()));
    }
    let own = "SELECT uuid FROM floor WHERE car = ?1 ORDER BY id";
    let mut floors = all(connection, own, car.row, &mut damaged, |id| {
        Ok(floor::record(connection, id)?.map(|record| {
            let set_aside = record.damaged.iter().map(|what| format!("floor {}: {what}", record.name)).collect();
            (floor_document(&record.document, &record.readings, record.id), set_aside)
        }))
    })?;
    let used = "SELECT uuid FROM floor JOIN floor_use ON floor_use.floor = floor.id WHERE floor_use.car = ?1
                ORDER BY floor_use.rowid";
    // A damaged garage of an earlier layout is read too.
    if floor::uses_are_kept(connection)? {
        floors.extend(all(connection, used, car.row, &mut damaged, |id| {
            let Some(record) = floor::record(connection, id)? else { return Ok(None) };
            let set_aside = record.damaged.iter().map(|what| format!("floor {}: {what}", record.name)).collect();
            Ok(Some((guest_document(connection, &record)?, set_aside)))
        })?);
    }
    document["floors"] = Value::Array(floors);
    let snapshots = "SELECT uuid FROM snapshot WHERE car = ?1 ORDER BY id";
    document["snapshots"] = Value::Array(all(connection, snapshots, car.row, &mut damaged, |id| {
        let Some(record) = snapshot::record(connection, id)? else { return Ok(None) };
        let photos = photo::of(connection, record.row)?;
        let damaged = record.damaged.iter().chain(&photos.damaged);
        let set_aside = damaged.map(|what| format!("snapshot {}: {what}", record.name)).collect();
        let mut document = snapshot_document(&record);
        for photo in &photos.all {
            push(&mut document, "photos", photo::to_file(photo));
        }
        if !record.finished {
            document["unfinished"] = record.plan;
        }
        Ok(Some((document, set_aside)))
    })?);
    instrument::put_in(connection, &mut document)?;
    damaged.extend(car_event::put_in(connection, car.row, id, &mut document)?);
    target::put_in(connection, car.row, &mut document, &mut damaged)?;
    plan::put_in(connection, car.row, &mut document, &mut damaged)?;
    ground::put_in(connection, &mut document, &mut damaged)?;
    Ok(Loaded { document, damaged })
}

/// The same with the pictures of its photos; one that is lost is said, and its photo only named.
pub(super) fn with_pictures(store: &Store, id: Uuid) -> Result<Loaded> {
    let mut loaded = put_together(&store.connection, id)?;
    let snapshots = loaded.document["snapshots"].as_array_mut();
    let photos = snapshots.into_iter().flatten().filter_map(|snapshot| snapshot.get_mut("photos")?.as_array_mut());
    for photo in photos.flatten() {
        let (sha256, media_type) = (photo["sha256"].as_str(), photo["media_type"].as_str());
        let Some(name) = sha256.zip(media_type).and_then(|(hash, media_type)| PictureName::parse(hash, media_type))
        else {
            continue;
        };
        match store.photos.read(&name) {
            Ok(bytes) => photo["data"] = photo::encode(&bytes),
            Err(lost @ StoreError::PictureLost { .. }) => loaded.damaged.push(lost.to_string()),
            Err(error) => return Err(error),
        }
    }
    Ok(loaded)
}

/// Every floor or snapshot of a car; one with a damaged description is named and left out.
fn all(
    connection: &Connection,
    sql: &str,
    car: i64,
    damaged: &mut Vec<String>,
    mut load: impl FnMut(Uuid) -> Result<Option<(Value, Vec<String>)>>,
) -> Result<Vec<Value>> {
    let mut statement = connection.prepare_cached(sql)?;
    let ids: Vec<Uuid> = statement.query_map([car], |row| car::uuid_at(row, 0))?.collect::<rusqlite::Result<_>>()?;
    let mut documents = Vec::with_capacity(ids.len());
    for id in ids {
        match load(id) {
            Ok(Some((document, set_aside))) => {
                documents.push(document);
                damaged.extend(set_aside);
            }
            Ok(None) => {}
            Err(StoreError::Damaged { what }) => damaged.push(what),
            Err(error) => return Err(error),
        }
    }
    Ok(documents)
}

impl crate::FloorRecord {
    /// The floor as it stands in the exchange file.
    pub fn file(&self) -> Value {
        floor_document(&self.document, &self.readings, self.id)
    }
}

fn floor_document(document: &Value, readings: &[Reading], id: Uuid) -> Value {
    let mut document = document.clone();
    let mut ids = ReadingIds::new(id);
    for reading in readings {
        let survey = &mut document["survey"];
        if survey.is_null() {
            *survey = json!({ "passes": [] });
        }
        if reading.taken.kind == ReadingKind::Straightedge {
            push(survey, "straightedge", to_file(reading, &mut ids, false));
            continue;
        }
        let pass = entry(survey, "passes", "pass_no", json!(reading.taken.pass_no));
        push(pass, "readings", to_file(reading, &mut ids, false));
    }
    document
}

/// A floor in the file of a car that another one marked it out for: under its id, with where its spots lie, and without what was
/// read under the other car's points.
fn guest_document(connection: &Connection, record: &floor::FloorRecord) -> Result<Value> {
    let mut document = floor_document(&record.document, &record.readings, record.id);
    document["id"] = json!(record.id.to_string());
    if !document["footprint"].is_object() {
        let owner = car::record(connection, record.car)?;
        let vehicle = owner.map(|owner| owner.document["vehicle"].clone()).unwrap_or_default();
        let mut footprint = Map::new();
        for measure in ["wheelbase_mm", "track_front_mm", "track_rear_mm"] {
            footprint.insert(measure.to_owned(), vehicle[measure].clone());
        }
        document["footprint"] = Value::Object(footprint);
        document["marked_out_for"] = vehicle["label"].clone();
    }
    for pass in document.pointer_mut("/survey/passes").and_then(Value::as_array_mut).into_iter().flatten() {
        if let Some(readings) = pass["readings"].as_array_mut() {
            readings.retain(|reading| !reading["point"].as_str().is_some_and(|point| point.starts_with("under:")));
        }
    }
    Ok(document)
}

fn snapshot_document(record: &SnapshotRecord) -> Value {
    let mut document = record.document.clone();
    let mut ids = ReadingIds::new(record.id);
    let corrected = touched_readings(&record.corrections);
    for reading in &record.readings {
        let named = corrected.contains(&reading.taken.id);
        let owner = match reading.taken.kind {
            ReadingKind::Tape => entry(&mut document, "bounces", "bounce_id", json!(reading.taken.bounce)),
            ReadingKind::Plane => entry(&mut document, "plane_on_car", "pass_no", json!(reading.taken.pass_no)),
            ReadingKind::Gauge | ReadingKind::Staff | ReadingKind::Straightedge => {
                push(&mut document, "angle_gauge", to_file(reading, &mut ids, named));
                continue;
            }
        };
        push(owner, "readings", to_file(reading, &mut ids, named));
    }
    if !record.corrections.is_empty() {
        document["corrections"] = json!(record.corrections);
    }
    document
}

/// What a correction says of a reading's value: its text, unit and number.
pub fn written_value(taken: &NewReading) -> Value {
    json!({ "text": taken.text, "unit": taken.unit, value_key(taken.kind): taken.value })
}

/// The element of an array that carries this name, made where it is missing.
fn entry<'a>(owner: &'a mut Value, array: &str, key: &str, name: Value) -> &'a mut Value {
    if !owner[array].is_array() {
        owner[array] = json!([]);
    }
    let Value::Array(items) = &mut owner[array] else { unreachable!("made an array just above") };
    let place = items.iter().position(|item| item[key] == name).unwrap_or_else(|| {
        let mut item = Map::new();
        item.insert(key.to_owned(), name);
        items.push(Value::Object(item));
        items.len() - 1
    });
    &mut items[place]
}

fn push(owner: &mut Value, array: &str, item: Value) {
    match &mut owner[array] {
        Value::Array(items) => items.push(item),
        other => *other = json!([item]),
    }
}

/// `named`: it says its id, which does not follow from what a correction changed.
fn to_file(reading: &Reading, ids: &mut ReadingIds, named: bool) -> Value {
    let taken = &reading.taken;
    let mut keys = Map::new();
    let mut set = |key: &str, value: Value| keys.insert(key.to_owned(), value);
    match taken.kind {
        ReadingKind::Tape => {
            set("ref", json!(taken.place));
            set("repeat", json!(taken.round));
        }
        ReadingKind::Gauge => {
            set("bounce_id", json!(taken.bounce));
            set("where", json!(taken.place));
            set("reversed", json!(taken.reversed));
        }
        ReadingKind::Plane | ReadingKind::Staff => {
            set("point", json!(taken.place));
        }
        ReadingKind::Straightedge => {
            let (from, to) = taken.place.split_once('/').unwrap_or((&taken.place, ""));
            set("from", json!(from));
            set("to", json!(to));
            set("reversed", json!(taken.reversed));
            if taken.pass_no != 1 {
                set("pass_no", json!(taken.pass_no));
            }
        }
    }
    if !taken.text.is_empty() {
        set("text", json!(taken.text));
    }
    if !taken.unit.is_empty() {
        set("unit", json!(taken.unit));
    }
    set(value_key(taken.kind), json!(taken.value));
    if let Some(at) = reading.at {
        set("taken_at", json!(at.iso()));
    }
    // One that was entered later says when it was read; then the record's own stamp is when it was entered.
    if let Some(at) = reading.at.filter(|_| taken.extra.contains_key("taken_at")) {
        set("entered_at", json!(at.iso()));
    }
    for (key, value) in &taken.extra {
        // One that came struck and was put back counts again.
        if key != "struck" || matches!(reading.standing, Standing::Struck { .. }) {
            set(key, value.clone());
        }
    }
    // The last strike stands in "struck"; a history is written where there was more.
    let struck = taken.extra.contains_key("struck") || reading.marks.iter().any(|mark| mark.what == Mark::Struck);
    let more = reading.marks.len() > usize::from(!taken.extra.contains_key("struck"));
    if (struck && more) || taken.extra.contains_key("history") {
        set("history", history(reading));
    }
    match &reading.standing {
        Standing::Kept => {}
        Standing::TakenBack { at } => {
            set("struck", json!({ "reason": "taken back", "at": at.iso() }));
        }
        Standing::Struck { reason, at } => {
            if !reading.marks.is_empty() || !taken.extra.contains_key("struck") {
                set("struck", json!({ "reason": reason, "at": at }));
            }
        }
    }
    if ids.made(taken) != taken.id || named {
        set("uuid", json!(taken.id.to_string()));
    }
    Value::Object(keys)
}

/// Everything that happened to a reading since it was taken, as far back as its file and this garage know.
fn history(reading: &Reading) -> Value {
    let mut all = reading.taken.extra.get("history").and_then(Value::as_array).cloned().unwrap_or_default();
    all.extend(reading.marks.iter().map(|mark| {
        let what = match mark.what {
            Mark::TakenBack => "taken back",
            Mark::PutBack => "put back",
            Mark::Struck => "struck",
        };
        let mut entry = json!({ "what": what, "at": mark.at.iso() });
        if !mark.reason.is_empty() {
            entry["reason"] = json!(mark.reason);
        }
        entry
    }));
    Value::Array(all)
}

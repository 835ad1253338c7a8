//! The exchange file: reading one in, all or nothing, and writing a car out as one.
//!
//! A file is taken apart into documents and readings and put together again, so that whatever it said and we do not know
//! comes back on export. Things are merged by id. Where a file names no id, one is made from its content, so that reading the
//! same file twice changes nothing.

use crate::reading::{self, NewReading, Parent, Reading, ReadingKind, Standing};
use crate::{Result, Stamp, Store, StoreError, car, floor, snapshot};
use rusqlite::Connection;
use serde_json::{Map, Value, json};
use std::collections::{HashMap, HashSet};
use trueground_core::capture::CarFile;
use uuid::Uuid;

/// What reading in a file did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Imported {
    /// The car.
    pub car: Uuid,
    /// False where the file brought nothing new.
    pub changed: bool,
    /// How many readings were new.
    pub new_readings: usize,
}

/// A car as one document.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The exchange file.
    pub document: Value,
    /// What was set aside because it is damaged, in words.
    pub damaged: Vec<String>,
}

/// Names in this space are made from the content of files.
const FILES: Uuid = Uuid::from_u128(0x7a0d_55c2_3c1f_5b8e_9d27_41f6_0e5b_a913);

/// The id of the car in an exchange file: the one it names, or one made from its label, wheelbase and tracks.
pub fn car_id(document: &Value) -> Uuid {
    document["uuid"].as_str().and_then(|text| Uuid::parse_str(text).ok()).unwrap_or_else(|| made_car_id(document))
}

/// The id of a floor or snapshot: its name where that is an id, else one made from the car's id and the name.
pub fn named_id(car: Uuid, sort: &str, name: &str) -> Uuid {
    Uuid::parse_str(name).unwrap_or_else(|_| Uuid::new_v5(&car, format!("{sort}\n{name}").as_bytes()))
}

impl Store {
    /// Reads in an exchange file (or a scenario with one under `input`) in one transaction.
    ///
    /// # Errors
    /// Not an exchange file, or it contradicts a finished snapshot; then nothing was read in.
    pub fn import(&mut self, text: &str, at: Stamp) -> Result<Imported> {
        let mut file: Value = serde_json::from_str(text).map_err(|error| StoreError::Unreadable {
            place: format!("line {}, column {}", error.line(), error.column()),
            what: "this is not JSON as an exchange file is".to_owned(),
        })?;
        if let Some(input) = file.get_mut("input").filter(|input| input.is_object()) {
            file = input.take();
        }
        self.import_document(file, at)
    }

    /// Reads in an exchange file that is parsed already.
    ///
    /// # Errors
    /// As [`Store::import`].
    pub fn import_document(&mut self, file: Value, at: Stamp) -> Result<Imported> {
        serde_path_to_error::deserialize::<_, CarFile>(&file).map_err(|error| StoreError::Unreadable {
            place: error.path().to_string(),
            what: error.inner().to_string(),
        })?;
        let transaction = self.write()?;
        let imported = merge(&transaction, file, at)?;
        transaction.commit()?;
        Ok(imported)
    }

    /// A car as an exchange file.
    ///
    /// # Errors
    /// Not there, or its description is damaged.
    pub fn car_file(&self, car: Uuid) -> Result<Loaded> {
        put_together(&self.connection, car)
    }
}

fn made_car_id(document: &Value) -> Uuid {
    let vehicle = &document["vehicle"];
    let number = |key: &str| vehicle[key].as_f64().unwrap_or_default();
    let label = vehicle["label"].as_str().unwrap_or_default();
    let name =
        format!("car\n{label}\n{}\n{}\n{}", number("wheelbase_mm"), number("track_front_mm"), number("track_rear_mm"));
    Uuid::new_v5(&FILES, name.as_bytes())
}

/// Gives each reading without an id one made from what it says, counting those that say the same.
struct ReadingIds {
    parent: Uuid,
    seen: HashMap<String, u32>,
}

impl ReadingIds {
    fn new(parent: Uuid) -> Self {
        Self { parent, seen: HashMap::new() }
    }

    fn made(&mut self, reading: &NewReading) -> Uuid {
        let says = format!(
            "{:?}\n{}\n{}\n{}\n{}\n{}\n{}\n{}",
            reading.kind,
            reading.bounce,
            reading.pass_no,
            reading.place,
            reading.round,
            reading.reversed,
            reading.text,
            reading.value
        );
        let count = self.seen.entry(says.clone()).and_modify(|count| *count += 1).or_insert(1);
        Uuid::new_v5(&self.parent, format!("{says}\n{count}").as_bytes())
    }
}

// ---- taking a file apart -------------------------------------------------------------------------------------------------

fn merge(connection: &Connection, mut file: Value, at: Stamp) -> Result<Imported> {
    let car_uuid = car_id(&file);
    let floors = taken_array(&mut file, "floors");
    let snapshots = taken_array(&mut file, "snapshots");
    if let Value::Object(keys) = &mut file {
        keys.shift_remove("uuid");
    }
    let mut result = Imported { car: car_uuid, changed: false, new_readings: 0 };
    let car_row = match car::record(connection, car_uuid)? {
        None => {
            result.changed = true;
            car::insert(connection, car_uuid, &file, at)?
        }
        Some(kept) => {
            if kept.document != file {
                result.changed = true;
                car::replace(connection, kept.row, car_uuid, &file)?;
            }
            kept.row
        }
    };
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
    let (row, kept) = match floor::record(connection, id)? {
        None => {
            result.changed = true;
            (floor::insert(connection, id, car_row, &document, at)?, Vec::new())
        }
        Some(kept) => {
            if kept.document != document {
                result.changed = true;
                floor::replace(connection, kept.row, id, &document)?;
            }
            (kept.row, kept.readings)
        }
    };
    for reading in only_new(&kept, readings) {
        reading::insert(connection, Parent::Floor(row), &reading, None)?;
        result.new_readings += 1;
        result.changed = true;
    }
    Ok(())
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
    let unfinished = document.as_object_mut().and_then(|keys| keys.shift_remove("unfinished"));
    let (row, kept, frozen) = match snapshot::record(connection, id)? {
        None => {
            result.changed = true;
            let plan = unfinished.clone().unwrap_or_default();
            (snapshot::insert(connection, id, car_row, &document, &plan, at)?, Vec::new(), false)
        }
        Some(kept) => {
            if kept.document != document {
                if kept.finished {
                    return Err(StoreError::Contradiction {
                        what: format!("Snapshot {name} is finished here, and the file describes it differently."),
                    });
                }
                result.changed = true;
                snapshot::replace(connection, kept.row, id, &document)?;
            }
            (kept.row, kept.readings, kept.finished)
        }
    };
    let new = only_new(&kept, readings);
    if frozen && !new.is_empty() {
        return Err(StoreError::Contradiction {
            what: format!("Snapshot {name} is finished here, and the file has {} more readings of it.", new.len()),
        });
    }
    for reading in new {
        reading::insert(connection, Parent::Snapshot(row), &reading, None)?;
        result.new_readings += 1;
        result.changed = true;
    }
    if unfinished.is_none() && !frozen {
        result.changed = true;
        snapshot::freeze(connection, row, at)?;
    }
    Ok(())
}

fn once(names: &mut HashSet<String>, name: String) -> Result<()> {
    if names.contains(&name) {
        return Err(StoreError::Contradiction { what: format!("The file names {name} twice.") });
    }
    names.insert(name);
    Ok(())
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

fn from_file(kind: ReadingKind, bounce: &str, pass_no: u32, value: Value, ids: &mut ReadingIds) -> NewReading {
    let Value::Object(mut keys) = value else { unreachable!("checked against the exchange file's types before") };
    let mut text = |key: &str| match keys.shift_remove(key) {
        Some(Value::String(text)) => text,
        _ => String::new(),
    };
    let place = text(match kind {
        ReadingKind::Tape => "ref",
        ReadingKind::Gauge => "where",
        ReadingKind::Plane | ReadingKind::Staff => "point",
    });
    let typed = text("text");
    let unit = text("unit");
    let given = Uuid::parse_str(&text("uuid")).ok();
    if kind == ReadingKind::Gauge {
        keys.shift_remove("bounce_id");
    }
    let round = if kind == ReadingKind::Tape { keys.shift_remove("repeat").map_or(1, |n| number(&n, 1)) } else { 1 };
    let reversed = kind == ReadingKind::Gauge
        && keys.shift_remove("reversed").and_then(|reversed| reversed.as_bool()).unwrap_or_default();
    let value_key = if kind == ReadingKind::Gauge { "angle_deg" } else { "value_mm" };
    let value = keys.shift_remove(value_key).and_then(|value| value.as_f64()).unwrap_or_default();
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

fn only_new(kept: &[Reading], readings: Vec<NewReading>) -> Vec<NewReading> {
    let mut known: HashSet<Uuid> = kept.iter().map(|reading| reading.taken.id).collect();
    readings.into_iter().filter(|reading| known.insert(reading.id)).collect()
}

// ---- putting it together again -------------------------------------------------------------------------------------------

fn put_together(connection: &Connection, id: Uuid) -> Result<Loaded> {
    let car = car::record(connection, id)?.ok_or_else(|| StoreError::NotFound { what: "car", id: id.to_string() })?;
    let mut damaged = Vec::new();
    let mut document = car.document;
    if car_id(&document) != id
        && let Value::Object(keys) = &mut document
    {
        keys.insert("uuid".to_owned(), json!(id.to_string()));
    }
    document["floors"] = Value::Array(all(connection, "floor", car.row, &mut damaged, |id| {
        Ok(floor::record(connection, id)?.map(|record| {
            let set_aside = record.damaged.iter().map(|what| format!("floor {}: {what}", record.name)).collect();
            (floor_document(&record.document, &record.readings, record.id), set_aside)
        }))
    })?);
    document["snapshots"] = Value::Array(all(connection, "snapshot", car.row, &mut damaged, |id| {
        Ok(snapshot::record(connection, id)?.map(|record| {
            let set_aside = record.damaged.iter().map(|what| format!("snapshot {}: {what}", record.name)).collect();
            let mut document = snapshot_document(&record.document, &record.readings, record.id);
            if !record.finished {
                document["unfinished"] = record.plan;
            }
            (document, set_aside)
        }))
    })?);
    Ok(Loaded { document, damaged })
}

/// Every floor or snapshot of a car; one with a damaged description is named and left out.
fn all(
    connection: &Connection,
    table: &str,
    car: i64,
    damaged: &mut Vec<String>,
    mut load: impl FnMut(Uuid) -> Result<Option<(Value, Vec<String>)>>,
) -> Result<Vec<Value>> {
    let mut statement = connection.prepare_cached(&format!("SELECT uuid FROM {table} WHERE car = ?1 ORDER BY id"))?;
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
        let pass = entry(survey, "passes", "pass_no", json!(reading.taken.pass_no));
        push(pass, "readings", to_file(reading, &mut ids));
    }
    document
}

fn snapshot_document(document: &Value, readings: &[Reading], id: Uuid) -> Value {
    let mut document = document.clone();
    let mut ids = ReadingIds::new(id);
    for reading in readings {
        let owner = match reading.taken.kind {
            ReadingKind::Tape => entry(&mut document, "bounces", "bounce_id", json!(reading.taken.bounce)),
            ReadingKind::Plane => entry(&mut document, "plane_on_car", "pass_no", json!(reading.taken.pass_no)),
            ReadingKind::Gauge | ReadingKind::Staff => {
                push(&mut document, "angle_gauge", to_file(reading, &mut ids));
                continue;
            }
        };
        push(owner, "readings", to_file(reading, &mut ids));
    }
    document
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

fn to_file(reading: &Reading, ids: &mut ReadingIds) -> Value {
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
    }
    if !taken.text.is_empty() {
        set("text", json!(taken.text));
    }
    if !taken.unit.is_empty() {
        set("unit", json!(taken.unit));
    }
    set(if taken.kind == ReadingKind::Gauge { "angle_deg" } else { "value_mm" }, json!(taken.value));
    if let Some(at) = reading.at {
        set("taken_at", json!(at.iso()));
    }
    for (key, value) in &taken.extra {
        set(key, value.clone());
    }
    match &reading.standing {
        Standing::Kept => {}
        Standing::TakenBack { at } => {
            set("struck", json!({ "reason": "taken back", "at": at.iso() }));
        }
        Standing::Struck { reason, at } => {
            if !taken.extra.contains_key("struck") {
                set("struck", json!({ "reason": reason, "at": at }));
            }
        }
    }
    if ids.made(taken) != taken.id {
        set("uuid", json!(taken.id.to_string()));
    }
    Value::Object(keys)
}

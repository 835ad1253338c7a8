//! The exchange file: reading one in, all or nothing, and writing a car out as one.
//!
//! A file is taken apart into documents and readings and put together again, so that whatever it said and we do not know
//! comes back on export. Things are merged by id. Where a file names no id, one is made from its content, so that reading the
//! same file twice changes nothing.

mod apart;
mod together;

pub(crate) use apart::added_reading;
pub use together::written_value;

use crate::photo;
use crate::reading::{NewReading, ReadingKind};
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, TransactionBehavior};
use serde_json::Value;
use std::collections::HashMap;
use trueground_core::capture::CarFile;
use trueground_core::misread::misread;
use trueground_core::validate::{self, Fault};
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
    /// How many corrections of finished snapshots were new.
    pub new_corrections: usize,
    /// How many entries of the history were new.
    pub new_events: usize,
    /// What was described differently here and is now as in the file: "its measures", "floor home driveway".
    pub replaced: Vec<String>,
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
    /// Not an exchange file, it contradicts a finished snapshot, or the car that is here would make no sense with it; then
    /// nothing was read in.
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
    pub fn import_document(&mut self, mut file: Value, at: Stamp) -> Result<Imported> {
        let alone: CarFile = serde_path_to_error::deserialize(&file).map_err(|error| StoreError::Unreadable {
            place: error.path().to_string(),
            what: misread(&error.inner().to_string()),
        })?;
        let pictures = photo::take_pictures(&mut file)?;
        let Self { connection, photos, .. } = self;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        // What is wrong with the file alone is for whoever hands it in to judge.
        let kept = if validate::faults(&alone).is_empty() { faults(&transaction, car_id(&file))? } else { None };
        let imported = apart::merge(&transaction, file, at).map_err(|error| match error {
            StoreError::Database(rusqlite::Error::SqliteFailure(failure, _))
                if failure.code == rusqlite::ErrorCode::ConstraintViolation =>
            {
                let what = "The file gives something an id or a name that something else here has.".to_owned();
                StoreError::Contradiction { what }
            }
            other => other,
        })?;
        if let Some(kept) = kept
            && let Some(fault) =
                faults(&transaction, imported.car)?.into_iter().flatten().find(|new| !kept.contains(new))
        {
            let what = format!("With what is kept of this car the file makes no sense: {fault}.");
            return Err(StoreError::Contradiction { what });
        }
        // Pictures first: what a sudden death leaves of them without rows is harmless.
        for (name, bytes) in &pictures {
            photos.write(name, bytes)?;
        }
        transaction.commit()?;
        Ok(imported)
    }

    /// A car as an exchange file, its photos with their pictures. A picture that is lost is said and only named.
    ///
    /// # Errors
    /// As [`Store::car_file`].
    pub fn car_file_with_pictures(&self, car: Uuid) -> Result<Loaded> {
        together::with_pictures(self, car)
    }

    /// A car as an exchange file; its photos are named, without their pictures.
    ///
    /// # Errors
    /// Not there, or its description is damaged.
    pub fn car_file(&self, car: Uuid) -> Result<Loaded> {
        together::put_together(&self.connection, car)
    }
}

/// What is wrong with a kept car as a whole; `None` where it is not here.
fn faults(connection: &Connection, car: Uuid) -> Result<Option<Vec<Fault>>> {
    if crate::car::record(connection, car)?.is_none() {
        return Ok(None);
    }
    let document = together::put_together(connection, car)?.document;
    let file: CarFile =
        serde_json::from_value(document).map_err(|error| StoreError::Damaged { what: error.to_string() })?;
    Ok(Some(validate::faults(&file)))
}

fn made_car_id(document: &Value) -> Uuid {
    let vehicle = &document["vehicle"];
    let number = |key: &str| vehicle[key].as_f64().unwrap_or_default();
    let label = vehicle["label"].as_str().unwrap_or_default();
    let name =
        format!("car\n{label}\n{}\n{}\n{}", number("wheelbase_mm"), number("track_front_mm"), number("track_rear_mm"));
    Uuid::new_v5(&FILES, name.as_bytes())
}

/// Where the number of a reading stands.
fn value_key(kind: ReadingKind) -> &'static str {
    match kind {
        ReadingKind::Gauge | ReadingKind::Straightedge => "angle_deg",
        ReadingKind::Tape | ReadingKind::Plane | ReadingKind::Staff => "value_mm",
    }
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

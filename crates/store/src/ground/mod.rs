//! The tables `ground`, `ground_station` and `ground_station_mark`: ground that the garage's cars drive over, and what was read under a
//! string along it.

mod merge;
mod take;

pub(crate) use merge::{merge, put_in};

use crate::checksum::Checksum;
use crate::readable::{fault, named};
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, Row, params};
use serde_json::{Map, Value, json};
use trueground_core::ground::{OwnGround, Station};
use trueground_core::wording::shown;
use uuid::Uuid;

/// A ground with its stations.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundRecord {
    /// Its `id` in the exchange file.
    pub name: String,
    /// As it stands in the exchange file, without its stations.
    pub document: Value,
    /// In the order of entry, taken-back ones too.
    pub stations: Vec<StationRecord>,
    /// Which stations were set aside because they are damaged, in words.
    pub damaged: Vec<String>,
}

/// One station under the string.
#[derive(Clone, Debug, PartialEq)]
pub struct StationRecord {
    pub(crate) row: i64,
    /// Id.
    pub id: Uuid,
    /// As it stands in the exchange file.
    pub document: Value,
    /// When it was taken or read in.
    pub at: Stamp,
    /// The last thing that happened to it since, if anything did.
    last: Option<Marked>,
}

#[derive(Clone, Debug, PartialEq)]
struct Marked {
    row: i64,
    taken_back: bool,
    after_station: i64,
    at: Stamp,
}

impl StationRecord {
    /// True where it counts.
    pub fn counts(&self) -> bool {
        self.last.as_ref().map_or_else(|| self.document["struck"].is_null(), |mark| !mark.taken_back)
    }
}

impl GroundRecord {
    /// The station that putting back would bring again: the one taken back last, as long as no other was taken.
    pub fn to_put_back(&self) -> Option<&StationRecord> {
        let newest = self.newest()?;
        let back = self.stations.iter().filter_map(|station| Some((station, station.last.as_ref()?)));
        let open = back.filter(|(_, mark)| mark.taken_back && mark.after_station >= newest);
        open.max_by_key(|(_, mark)| mark.row).map(|(station, _)| station)
    }

    /// The newest station that counts.
    pub fn to_take_back(&self) -> Option<&StationRecord> {
        self.stations.iter().rfind(|station| station.counts())
    }

    fn newest(&self) -> Option<i64> {
        self.stations.iter().map(|station| station.row).max()
    }

    /// The ground as it stands in the exchange file, its stations in the order they are driven over.
    pub fn file(&self) -> Value {
        let mut file = self.document.clone();
        if self.stations.is_empty() {
            return file;
        }
        let mut stations: Vec<&StationRecord> = self.stations.iter().collect();
        let along = |station: &StationRecord| station.document["along_mm"].as_f64().unwrap_or_default();
        stations.sort_by(|a, b| along(a).total_cmp(&along(b)));
        let mut ids = StationIds::new(&self.name);
        let written = stations.into_iter().map(|station| {
            let mut document = station.document.clone();
            if ids.made(&document) != station.id {
                document["uuid"] = json!(station.id.to_string());
            }
            if let Some(mark) = &station.last {
                match document.as_object_mut() {
                    Some(keys) if !mark.taken_back => drop(keys.shift_remove("struck")),
                    _ => document["struck"] = json!({"reason": "taken back", "at": mark.at.iso()}),
                }
            }
            document
        });
        let written: Vec<Value> = written.collect();
        if !file["string"].is_object() {
            file["string"] = Value::Object(Map::new());
        }
        file["string"]["stations"] = Value::Array(written);
        file
    }
}

/// Gives each station without an id one made from what it says, counting those that say the same.
struct StationIds {
    ground: Uuid,
    seen: Vec<String>,
}

/// Names in this space are made from the names of grounds.
const GROUNDS: Uuid = Uuid::from_u128(0x4f4d_86a1_0c5e_5f0b_8a61_7d2b_93cc_1e07);

impl StationIds {
    fn new(ground: &str) -> Self {
        Self { ground: Uuid::new_v5(&GROUNDS, ground.as_bytes()), seen: Vec::new() }
    }

    fn made(&mut self, station: &Value) -> Uuid {
        let says = format!("{}\n{}\n{}", station["along_mm"], station["down_mm"], station["text"]);
        let count = self.seen.iter().filter(|seen| **seen == says).count();
        let id = Uuid::new_v5(&self.ground, format!("{says}\n{count}").as_bytes());
        self.seen.push(says);
        id
    }
}

impl Store {
    /// Every ground of the garage in the order they were made, put away ones too. What is damaged is left out.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn grounds(&self) -> Result<Vec<GroundRecord>> {
        all(&self.connection, &mut Vec::new())
    }

    /// One ground by its name.
    ///
    /// # Errors
    /// Not there.
    pub fn ground(&self, name: &str) -> Result<GroundRecord> {
        let found = self.grounds()?.into_iter().find(|ground| ground.name == name);
        found.ok_or_else(|| StoreError::NotFound { what: "ground", id: name.to_owned() })
    }

    /// Grows with everything that happens to any ground.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn grounds_version(&self) -> Result<i64> {
        let sum = "SELECT (SELECT ifnull(max(id), 0) FROM ground) + (SELECT ifnull(max(id), 0) FROM ground_station)
                          + (SELECT ifnull(max(id), 0) FROM ground_station_mark)";
        Ok(self.connection.prepare_cached(sum)?.query_row([], |row| row.get(0))?)
    }

    /// Keeps a ground as it is described now; its `id` in the exchange file stands in `document`. When this returns it is on the disk.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn keep_ground(&mut self, document: &Value, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        insert(&transaction, document, at)?;
        Ok(transaction.commit()?)
    }
}

fn insert(connection: &Connection, document: &Value, at: Stamp) -> Result<()> {
    let (name, text) = (document["id"].as_str().unwrap_or_default(), document.to_string());
    connection.execute(
        "INSERT INTO ground (name, document, utc_ms, offset_minutes, checksum) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![name, text, at.utc_ms, at.offset_minutes, checksum(name, &text, at)],
    )?;
    Ok(())
}

fn checksum(name: &str, text: &str, at: Stamp) -> i64 {
    let row = Checksum::new("ground").text(name).text(text);
    row.integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

/// Every description of every name, oldest first; a damaged one is said and left out.
fn described(connection: &Connection, damaged: &mut Vec<String>) -> Result<Vec<(String, Value)>> {
    // What is brought over from a damaged garage may be of a layout that had none.
    if !connection.table_exists(None, "ground")? {
        return Ok(Vec::new());
    }
    let mut statement =
        connection.prepare_cached("SELECT name, document, utc_ms, offset_minutes, checksum FROM ground ORDER BY id")?;
    let mut rows = statement.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let read = || -> Option<(String, Value)> {
            let (name, text): (String, String) = (row.get(0).ok()?, row.get(1).ok()?);
            let sound = checksum(&name, &text, stamp(row, 2)?) == row.get::<_, i64>(4).ok()?;
            Some((name, sound.then(|| serde_json::from_str(&text).ok()).flatten()?))
        };
        match read() {
            Some(ground) => found.push(ground),
            None => damaged.push("a ground".to_owned()),
        }
    }
    Ok(found)
}

fn stamp(row: &Row<'_>, from: usize) -> Option<Stamp> {
    Some(Stamp { utc_ms: row.get(from).ok()?, offset_minutes: row.get(from + 1).ok()? })
}

/// Every ground as it is described last; a station, or a ground without its stations, that is not what it should be is said and left out.
fn all(connection: &Connection, damaged: &mut Vec<String>) -> Result<Vec<GroundRecord>> {
    let mut grounds: Vec<GroundRecord> = Vec::new();
    for (name, document) in described(connection, damaged)? {
        match grounds.iter_mut().find(|known| known.name == name) {
            Some(known) => known.document = document,
            None => grounds.push(GroundRecord { name, document, stations: Vec::new(), damaged: Vec::new() }),
        }
    }
    for ground in &mut grounds {
        (ground.stations, ground.damaged) = take::stations(connection, &ground.name)?;
        let (name, said) = (&ground.name, &mut ground.damaged);
        ground.stations.retain(|station| {
            let fault = fault::<Station>(&station.document);
            said.extend(fault.as_ref().map(|fault| format!("a station of the ground {} ({fault})", shown(name))));
            fault.is_none()
        });
    }
    grounds.retain(|ground| {
        let fault = fault::<OwnGround>(&ground.file());
        damaged.extend(fault.as_ref().map(|fault| named("a ground", &ground.document, fault)));
        fault.is_none()
    });
    Ok(grounds)
}

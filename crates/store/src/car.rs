//! The table `car`: the exchange file without its floors and snapshots.

use crate::checksum::of_document;
use crate::derived::Derived;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde_json::Value;
use uuid::Uuid;

/// A car in the list.
#[derive(Clone, Debug)]
pub struct CarHead {
    /// Id.
    pub id: Uuid,
    /// Changes with everything that is written about this car.
    pub version: i64,
    /// What the person calls it.
    pub label: String,
    /// Its outline's name; empty where it has none.
    pub outline: String,
    /// Results kept from last time, which may be of an older version.
    pub derived: Option<Derived>,
    /// The unfinished snapshot, newest first.
    pub unfinished: Option<Uuid>,
    /// True where a snapshot is finished.
    pub finished: bool,
}

/// A car.
#[derive(Clone, Debug)]
pub struct CarRecord {
    /// Id.
    pub id: Uuid,
    pub(crate) row: i64,
    /// Changes with everything that is written about this car.
    pub version: i64,
    /// `vehicle`, `instrument`, `events` and whatever else its file said.
    pub document: Value,
}

const HEADS: &str = "SELECT car.uuid, car.version, car.label, car.outline,
        derived.engine, derived.version, derived.row,
        (SELECT uuid FROM snapshot WHERE car = car.id AND id NOT IN (SELECT snapshot FROM finish)
         ORDER BY id DESC LIMIT 1),
        EXISTS (SELECT 1 FROM snapshot JOIN finish ON finish.snapshot = snapshot.id WHERE snapshot.car = car.id)
    FROM car LEFT JOIN derived ON derived.car = car.id";

impl Store {
    /// All cars, last used first.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn cars(&self) -> Result<Vec<CarHead>> {
        let mut statement = self.connection.prepare_cached(&format!("{HEADS} ORDER BY car.used DESC, car.id DESC"))?;
        Ok(statement.query_map([], head)?.collect::<rusqlite::Result<_>>()?)
    }

    /// One car as it stands in the list.
    ///
    /// # Errors
    /// Not there.
    pub fn car_head(&self, id: Uuid) -> Result<CarHead> {
        let mut statement = self.connection.prepare_cached(&format!("{HEADS} WHERE car.uuid = ?1"))?;
        let found = statement.query_row([id.as_bytes()], head).optional()?;
        found.ok_or_else(|| StoreError::NotFound { what: "car", id: id.to_string() })
    }

    /// One car.
    ///
    /// # Errors
    /// Not there, or its description is damaged.
    pub fn car(&self, id: Uuid) -> Result<CarRecord> {
        record(&self.connection, id)?.ok_or_else(|| StoreError::NotFound { what: "car", id: id.to_string() })
    }

    /// Adds a car.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn add_car(&mut self, id: Uuid, document: &Value, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        insert(&transaction, id, document, at)?;
        Ok(transaction.commit()?)
    }

    /// Replaces a car's description; the earlier one is kept.
    ///
    /// # Errors
    /// Not there, or it cannot be written.
    pub fn change_car(&mut self, id: Uuid, document: &Value) -> Result<()> {
        let transaction = self.write()?;
        let Some(car) = record(&transaction, id)? else {
            return Err(StoreError::NotFound { what: "car", id: id.to_string() });
        };
        replace(&transaction, car.row, id, document)?;
        touch(&transaction, car.row)?;
        touch_guests(&transaction, car.row)?;
        Ok(transaction.commit()?)
    }

    /// Puts a car first in the list.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn use_car(&mut self, id: Uuid) -> Result<()> {
        self.connection.execute(
            "UPDATE car SET used = 1 + (SELECT max(used) FROM car) WHERE uuid = ?1 AND used < (SELECT max(used) FROM car)",
            [id.as_bytes()],
        )?;
        Ok(())
    }
}

fn head(row: &Row<'_>) -> rusqlite::Result<CarHead> {
    let derived = match row.get::<_, Option<String>>(4)? {
        Some(engine) => Some(Derived { engine, version: row.get(5)?, row: row.get(6)? }),
        None => None,
    };
    Ok(CarHead {
        id: uuid_at(row, 0)?,
        version: row.get(1)?,
        label: row.get(2).unwrap_or_else(|_| "damaged".to_owned()),
        outline: row.get(3).unwrap_or_default(),
        derived,
        unfinished: row.get::<_, Option<Vec<u8>>>(7)?.and_then(|bytes| Uuid::from_slice(&bytes).ok()),
        finished: row.get(8)?,
    })
}

pub(crate) fn uuid_at(row: &Row<'_>, column: usize) -> rusqlite::Result<Uuid> {
    Ok(Uuid::from_bytes(row.get::<_, [u8; 16]>(column)?))
}

pub(crate) fn record(connection: &Connection, id: Uuid) -> Result<Option<CarRecord>> {
    let found = connection
        .prepare_cached("SELECT id, version, document, document_check, label, outline FROM car WHERE uuid = ?1")?
        .query_row([id.as_bytes()], |row| {
            let (label, outline): (String, String) = (row.get(4).unwrap_or_default(), row.get(5).unwrap_or_default());
            let document = verified(id, 0, &label, row.get(2).ok(), &outline, row.get(3)?);
            Ok((row.get(0)?, row.get(1)?, document))
        })
        .optional()?;
    let Some((row, version, document)) = found else { return Ok(None) };
    let document = document.ok_or_else(|| StoreError::Damaged {
        what: format!("the description of car {id} does not match its checksum"),
    })?;
    Ok(Some(CarRecord { id, row, version, document }))
}

/// The document, if it and its row are what was written.
pub(crate) fn verified(
    owner: Uuid,
    car: i64,
    name: &str,
    text: Option<String>,
    plan: &str,
    check: i64,
) -> Option<Value> {
    let text = text?;
    let written = of_document(owner.as_bytes(), car, name, &text, plan) == check;
    written.then(|| serde_json::from_str(&text).ok()).flatten()
}

pub(crate) fn insert(connection: &Connection, id: Uuid, document: &Value, at: Stamp) -> Result<i64> {
    let (text, label, outline) = (document.to_string(), said(document, "label"), said(document, "outline"));
    connection.execute(
        "INSERT INTO car (uuid, label, outline, document, document_check, version, used, utc_ms, offset_minutes)
         VALUES (?1, ?2, ?3, ?4, ?5, 1, 1 + ifnull((SELECT max(used) FROM car), 0), ?6, ?7)",
        params![
            id.as_bytes(),
            label,
            outline,
            text,
            of_document(id.as_bytes(), 0, label, &text, outline),
            at.utc_ms,
            at.offset_minutes
        ],
    )?;
    Ok(connection.last_insert_rowid())
}

pub(crate) fn replace(connection: &Connection, row: i64, id: Uuid, document: &Value) -> Result<()> {
    let (text, label, outline) = (document.to_string(), said(document, "label"), said(document, "outline"));
    connection.execute(
        "UPDATE car SET label = ?2, outline = ?3, document = ?4, document_check = ?5 WHERE id = ?1 AND document <> ?4",
        params![row, label, outline, text, of_document(id.as_bytes(), 0, label, &text, outline)],
    )?;
    Ok(())
}

/// What a document says about its vehicle; empty where it says nothing.
fn said<'a>(document: &'a Value, key: &str) -> &'a str {
    document["vehicle"][key].as_str().unwrap_or_default()
}

/// Says that something about this car changed.
pub(crate) fn touch(connection: &Connection, row: i64) -> Result<()> {
    connection.prepare_cached("UPDATE car SET version = version + 1 WHERE id = ?1")?.execute([row])?;
    Ok(())
}

/// Says that something about the cars that stand on this car's floors changed: where its spots lie follows from its measures.
pub(crate) fn touch_guests(connection: &Connection, row: i64) -> Result<()> {
    connection.execute(
        "UPDATE car SET version = version + 1 WHERE id IN
         (SELECT floor_use.car FROM floor_use JOIN floor ON floor.id = floor_use.floor WHERE floor.car = ?1)",
        [row],
    )?;
    Ok(())
}

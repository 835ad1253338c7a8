//! The table `floor`: a floor of the exchange file without its staff readings.

use crate::car::{touch, uuid_at, verified};
use crate::checksum::of_document;
use crate::reading::{self, Parent, Reading};
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use uuid::Uuid;

/// A floor with its readings.
#[derive(Clone, Debug)]
pub struct FloorRecord {
    /// Id.
    pub id: Uuid,
    pub(crate) row: i64,
    pub(crate) car_row: i64,
    /// The car whose spots it carries.
    pub car: Uuid,
    /// Its `id` in the exchange file.
    pub name: String,
    /// `label`, `survey` with empty passes, and whatever else its file said.
    pub document: Value,
    /// Staff readings in the order of entry, taken-back ones too.
    pub readings: Vec<Reading>,
    /// Which readings were set aside because they are damaged, in words.
    pub damaged: Vec<String>,
}

impl Store {
    /// One floor.
    ///
    /// # Errors
    /// Not there, or its description is damaged.
    pub fn floor(&self, id: Uuid) -> Result<FloorRecord> {
        record(&self.connection, id)?.ok_or_else(|| StoreError::NotFound { what: "floor", id: id.to_string() })
    }

    /// Id and name of a car's floors, in the order of entry.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn floors(&self, car: Uuid) -> Result<Vec<(Uuid, String)>> {
        let mut statement = self.connection.prepare_cached(
            "SELECT floor.uuid, floor.name FROM floor JOIN car ON car.id = floor.car WHERE car.uuid = ?1 ORDER BY floor.id",
        )?;
        let rows = statement.query_map([car.as_bytes()], |row| Ok((uuid_at(row, 0)?, row.get(1)?)))?;
        Ok(rows.collect::<rusqlite::Result<_>>()?)
    }

    /// Adds a floor; its `id` in the exchange file stands in `document`.
    ///
    /// # Errors
    /// No such car, the name is taken, or it cannot be written.
    pub fn add_floor(&mut self, id: Uuid, car: Uuid, document: &Value, at: Stamp) -> Result<()> {
        let car = self.car(car)?;
        let transaction = self.write()?;
        insert(&transaction, id, car.row, document, at)?;
        touch(&transaction, car.row)?;
        Ok(transaction.commit()?)
    }

    /// Replaces a floor's description; the earlier one is kept.
    ///
    /// # Errors
    /// Not there, or it cannot be written.
    pub fn change_floor(&mut self, id: Uuid, document: &Value) -> Result<()> {
        let floor = self.floor(id)?;
        let transaction = self.write()?;
        replace(&transaction, &floor, document)?;
        touch(&transaction, floor.car_row)?;
        Ok(transaction.commit()?)
    }
}

pub(crate) fn record(connection: &Connection, id: Uuid) -> Result<Option<FloorRecord>> {
    let found = connection
        .prepare_cached(
            "SELECT floor.id, floor.car, car.uuid, floor.name, floor.document, floor.document_check
             FROM floor JOIN car ON car.id = floor.car WHERE floor.uuid = ?1",
        )?
        .query_row([id.as_bytes()], |row| {
            let car: i64 = row.get(1)?;
            let name: String = row.get(3).unwrap_or_default();
            let document = verified(id, car, &name, row.get(4).ok(), "", row.get(5)?);
            Ok((row.get(0)?, car, uuid_at(row, 2)?, name, document))
        })
        .optional()?;
    let Some((row, car_row, car, name, document)) = found else { return Ok(None) };
    let document = document.ok_or_else(|| StoreError::Damaged {
        what: format!("the description of floor {name} does not match its checksum"),
    })?;
    let (readings, damaged) = reading::of(connection, Parent::Floor(row))?;
    Ok(Some(FloorRecord { id, row, car_row, car, name, document, readings, damaged }))
}

pub(crate) fn insert(connection: &Connection, id: Uuid, car: i64, document: &Value, at: Stamp) -> Result<i64> {
    let text = document.to_string();
    let name = document["id"].as_str().unwrap_or_default();
    connection.execute(
        "INSERT INTO floor (uuid, car, name, document, document_check, utc_ms, offset_minutes)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        params![
            id.as_bytes(),
            car,
            name,
            text,
            of_document(id.as_bytes(), car, name, &text, ""),
            at.utc_ms,
            at.offset_minutes
        ],
    )?;
    Ok(connection.last_insert_rowid())
}

/// Replaces a kept floor's description.
pub(crate) fn replace(connection: &Connection, kept: &FloorRecord, document: &Value) -> Result<()> {
    let text = document.to_string();
    let check = of_document(kept.id.as_bytes(), kept.car_row, &kept.name, &text, "");
    connection.execute(
        "UPDATE floor SET document = ?2, document_check = ?3 WHERE id = ?1 AND document <> ?2",
        params![kept.row, text, check],
    )?;
    Ok(())
}

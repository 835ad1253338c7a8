//! The tables `floor` and `floor_use`: a floor of the exchange file without its readings, and which other cars stand on it.

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
    /// The car that marked its spots out.
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

    /// Id and name of the floors of a car's file, in the order of entry: its own first, then those another car marked out, which
    /// are named by their id.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn floors(&self, car: Uuid) -> Result<Vec<(Uuid, String)>> {
        let mut statement = self.connection.prepare_cached(
            "SELECT floor.uuid, floor.name FROM floor JOIN car ON car.id = floor.car WHERE car.uuid = ?1 ORDER BY floor.id",
        )?;
        let rows = statement.query_map([car.as_bytes()], |row| Ok((uuid_at(row, 0)?, row.get(1)?)))?;
        let mut floors: Vec<(Uuid, String)> = rows.collect::<rusqlite::Result<_>>()?;
        let mut statement = self.connection.prepare_cached(
            "SELECT floor.uuid FROM floor_use JOIN floor ON floor.id = floor_use.floor JOIN car ON car.id = floor_use.car
             WHERE car.uuid = ?1 ORDER BY floor_use.rowid",
        )?;
        let rows = statement.query_map([car.as_bytes()], |row| uuid_at(row, 0))?;
        for id in rows {
            let id = id?;
            floors.push((id, id.to_string()));
        }
        Ok(floors)
    }

    /// Lets a car stand on a floor that another car marked out. Doing it twice, or for the floor's own car, changes nothing.
    ///
    /// # Errors
    /// No such car or floor, or it cannot be written.
    pub fn use_floor(&mut self, car: Uuid, floor: Uuid, at: Stamp) -> Result<()> {
        let (car, floor) = (self.car(car)?, self.floor(floor)?);
        let transaction = self.write()?;
        if share(&transaction, car.row, &floor, at)? {
            touch(&transaction, car.row)?;
        }
        Ok(transaction.commit()?)
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
        touch_all(&transaction, floor.row)?;
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

/// Whether this file's layout knows cars that stand on another's floor.
pub(crate) fn uses_are_kept(connection: &Connection) -> Result<bool> {
    let sql = "SELECT count(*) FROM sqlite_schema WHERE name = 'floor_use'";
    Ok(connection.prepare_cached(sql)?.query_row([], |row| row.get::<_, i64>(0))? > 0)
}

/// Notes that a car stands on a floor; false where that was known.
pub(crate) fn share(connection: &Connection, car: i64, floor: &FloorRecord, at: Stamp) -> Result<bool> {
    if floor.car_row == car {
        return Ok(false);
    }
    let written = connection.execute(
        "INSERT OR IGNORE INTO floor_use (car, floor, utc_ms, offset_minutes) VALUES (?1, ?2, ?3, ?4)",
        params![car, floor.row, at.utc_ms, at.offset_minutes],
    )?;
    Ok(written > 0)
}

/// Gives a floor to the car that marked its spots out; the car that had it until now goes on standing on it.
pub(crate) fn hand_over(
    connection: &Connection,
    kept: &FloorRecord,
    car: i64,
    name: &str,
    document: &Value,
    at: Stamp,
) -> Result<()> {
    let text = document.to_string();
    connection.execute("DELETE FROM floor_use WHERE car = ?1 AND floor = ?2", params![car, kept.row])?;
    connection.execute(
        "UPDATE floor SET car = ?2, name = ?3, document = ?4, document_check = ?5 WHERE id = ?1",
        params![kept.row, car, name, text, of_document(kept.id.as_bytes(), car, name, &text, "")],
    )?;
    connection.execute(
        "INSERT OR IGNORE INTO floor_use (car, floor, utc_ms, offset_minutes) VALUES (?1, ?2, ?3, ?4)",
        params![kept.car_row, kept.row, at.utc_ms, at.offset_minutes],
    )?;
    touch(connection, kept.car_row)
}

/// Says that something about every car that stands on this floor changed.
pub(crate) fn touch_all(connection: &Connection, floor: i64) -> Result<()> {
    connection
        .prepare_cached(
            "UPDATE car SET version = version + 1 WHERE id IN
             (SELECT car FROM floor WHERE id = ?1 UNION SELECT car FROM floor_use WHERE floor = ?1)",
        )?
        .execute([floor])?;
    Ok(())
}

//! The table `correction`: what was corrected of finished snapshots, each in its own transaction, none ever changed or deleted.

mod replay;

pub(crate) use replay::{before, replay, touched_fields, touched_readings};

use crate::car::{touch, uuid_at};
use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError, Taken, snapshot};
use rusqlite::{Connection, OptionalExtension, Row, params};
use trueground_core::capture::{Corrected, Correction};
use uuid::Uuid;

impl Store {
    /// True where this request brought a correction before.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn heard_correction(&self, request: &str) -> Result<bool> {
        let mut statement = self.connection.prepare_cached("SELECT 1 FROM correction WHERE request = ?1")?;
        Ok(statement.exists([request])?)
    }

    /// Keeps a correction of a finished snapshot. When this returns it is on the disk. The same `request` is stored once.
    ///
    /// # Errors
    /// No such snapshot, it is unfinished, it has no such reading or correction, or it cannot be written; then nothing was kept.
    pub fn correct(&mut self, snapshot: Uuid, correction: &Correction, request: &str, at: Stamp) -> Result<Taken> {
        let transaction = self.write()?;
        let record = snapshot::record(&transaction, snapshot)?
            .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: snapshot.to_string() })?;
        let heard = "SELECT document FROM correction WHERE request = ?1";
        let heard: Option<String> =
            transaction.prepare_cached(heard)?.query_row([request], |row| row.get(0)).optional()?;
        if let Some(heard) = &heard
            && same_content(heard, correction)
        {
            return Ok(Taken::Before);
        }
        if !record.finished {
            return Err(StoreError::Contradiction {
                what: format!("Snapshot {} is unfinished: it is changed in its walk, not corrected.", record.name),
            });
        }
        let known = |id: &str| record.readings.iter().any(|reading| reading.taken.id.to_string() == id);
        if let Some(reading) = correction.reading.as_deref().filter(|id| !known(id))
            && correction.what != Corrected::Added
        {
            return Err(StoreError::NotFound { what: "reading", id: reading.to_owned() });
        }
        if let Some(of) = &correction.of
            && !record.corrections.iter().any(|earlier| earlier.uuid == *of)
        {
            return Err(StoreError::NotFound { what: "correction", id: of.clone() });
        }
        // A number that was used before must not lose it.
        insert(&transaction, record.row, correction, heard.is_none().then_some(request), at)?;
        touch(&transaction, record.car_row)?;
        transaction.commit()?;
        Ok(Taken::Now)
    }
}

fn same_content(written: &str, correction: &Correction) -> bool {
    let Ok(written) = serde_json::from_str::<Correction>(written) else { return false };
    Correction { uuid: String::new(), at: None, ..written }
        == Correction { uuid: String::new(), at: None, ..correction.clone() }
}

/// Writes a correction.
pub(crate) fn insert(
    connection: &Connection,
    snapshot: i64,
    correction: &Correction,
    request: Option<&str>,
    at: Stamp,
) -> Result<()> {
    let id: i64 = connection.query_row("SELECT 1 + ifnull(max(id), 0) FROM correction", [], |row| row.get(0))?;
    let uuid = Uuid::parse_str(&correction.uuid).map_err(|_| StoreError::Contradiction {
        what: format!("{} is no id of a correction.", trueground_core::wording::shown(&correction.uuid)),
    })?;
    let document =
        serde_json::to_string(correction).map_err(|error| StoreError::Contradiction { what: error.to_string() })?;
    connection
        .prepare_cached(
            "INSERT INTO correction (id, uuid, snapshot, document, request, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?
        .execute(params![
            id,
            uuid.as_bytes(),
            snapshot,
            document,
            request,
            at.utc_ms,
            at.offset_minutes,
            checksum(id, uuid, snapshot, &document, request, at)
        ])?;
    Ok(())
}

/// Corrections of a snapshot in their order, and damaged ones in words.
pub(crate) fn of(connection: &Connection, snapshot: i64) -> Result<(Vec<Correction>, Vec<String>)> {
    let (mut corrections, mut damaged) = (Vec::new(), Vec::new());
    let mut statement = connection.prepare_cached(
        "SELECT id, uuid, document, request, utc_ms, offset_minutes, checksum FROM correction WHERE snapshot = ?1 ORDER BY id",
    )?;
    let mut rows = statement.query([snapshot])?;
    while let Some(row) = rows.next()? {
        match read(row, snapshot) {
            Some(correction) => corrections.push(correction),
            None => {
                let left: String = row.get(2).unwrap_or_else(|_| "?".to_owned());
                damaged.push(format!("a correction, of which \u{201c}{left}\u{201d} is left,"));
            }
        }
    }
    Ok((corrections, damaged))
}

fn read(row: &Row<'_>, snapshot: i64) -> Option<Correction> {
    let (id, uuid): (i64, Uuid) = (row.get(0).ok()?, uuid_at(row, 1).ok()?);
    let document: String = row.get(2).ok()?;
    let request: Option<String> = row.get(3).ok()?;
    let at = Stamp { utc_ms: row.get(4).ok()?, offset_minutes: row.get(5).ok()? };
    let check: i64 = row.get(6).ok()?;
    let written = check == checksum(id, uuid, snapshot, &document, request.as_deref(), at);
    written.then(|| serde_json::from_str(&document).ok()).flatten()
}

fn checksum(id: i64, uuid: Uuid, snapshot: i64, document: &str, request: Option<&str>, at: Stamp) -> i64 {
    Checksum::new("correction")
        .integer(id)
        .bytes(uuid.as_bytes())
        .integer(snapshot)
        .text(document)
        .optional(request.is_some().then_some(1))
        .text(request.unwrap_or_default())
        .integer(at.utc_ms)
        .integer(i64::from(at.offset_minutes))
        .finish()
}

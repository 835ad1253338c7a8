//! The tables `snapshot` and `finish`: a snapshot of the exchange file without its readings, and whether it is finished.

use crate::car::{touch, uuid_at, verified};
use crate::checksum::{Checksum, of_document};
use crate::correction;
use crate::draft::{self, Draft};
use crate::reading::{self, Parent, Reading};
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use trueground_core::capture::Correction;
use uuid::Uuid;

/// A snapshot with its readings.
#[derive(Clone, Debug)]
pub struct SnapshotRecord {
    /// Id.
    pub id: Uuid,
    pub(crate) row: i64,
    pub(crate) car_row: i64,
    /// The car.
    pub car: Uuid,
    /// Its `id` in the exchange file.
    pub name: String,
    /// `label`, `date`, `floor`, bounces without readings, and whatever else its file said; as corrected.
    pub document: Value,
    /// The same as it was finished.
    pub(crate) as_finished: Value,
    /// How it is walked, as the app wrote it; null for one that came from a file.
    pub plan: Value,
    /// Frozen.
    pub finished: bool,
    /// In the order of entry, taken-back and struck ones too; as corrected, those that were missed at the end.
    pub readings: Vec<Reading>,
    /// What was corrected since it was finished, oldest first.
    pub corrections: Vec<Correction>,
    /// Half-typed text and where it was.
    pub draft: Option<Draft>,
    /// Which readings, corrections, or half-typed text, were set aside because they are damaged, in words.
    pub damaged: Vec<String>,
}

impl Store {
    /// One snapshot.
    ///
    /// # Errors
    /// Not there, or its description is damaged.
    pub fn snapshot(&self, id: Uuid) -> Result<SnapshotRecord> {
        let mut record = record(&self.connection, id)?
            .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: id.to_string() })?;
        match draft::of(&self.connection, record.row)? {
            Ok(draft) => record.draft = draft,
            Err(what_is_left) => record.damaged.push(what_is_left),
        }
        Ok(record)
    }

    /// Id, name and whether it is finished, of a car's snapshots in the order of entry.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn snapshots(&self, car: Uuid) -> Result<Vec<(Uuid, String, bool)>> {
        let mut statement = self.connection.prepare_cached(
            "SELECT snapshot.uuid, snapshot.name, snapshot.id IN (SELECT snapshot FROM finish)
             FROM snapshot JOIN car ON car.id = snapshot.car WHERE car.uuid = ?1 ORDER BY snapshot.id",
        )?;
        let rows = statement.query_map([car.as_bytes()], |row| Ok((uuid_at(row, 0)?, row.get(1)?, row.get(2)?)))?;
        Ok(rows.collect::<rusqlite::Result<_>>()?)
    }

    /// Begins a snapshot; its `id` in the exchange file stands in `document`.
    ///
    /// # Errors
    /// No such car, the name is taken, or it cannot be written.
    pub fn begin_snapshot(&mut self, id: Uuid, car: Uuid, document: &Value, plan: &Value, at: Stamp) -> Result<()> {
        let car = self.car(car)?;
        let transaction = self.write()?;
        insert(&transaction, id, car.row, document, plan, at)?;
        touch(&transaction, car.row)?;
        Ok(transaction.commit()?)
    }

    /// Changes how an unfinished snapshot is walked; its readings stay as they are. In the same transaction the walk goes to
    /// `next_step`, if there is one, and a question about the reading taken last is answered with that.
    ///
    /// # Errors
    /// Not there, finished, or it cannot be written.
    pub fn change_plan(&mut self, id: Uuid, plan: &Value, next_step: Option<&str>, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let kept =
            record(&transaction, id)?.ok_or_else(|| StoreError::NotFound { what: "snapshot", id: id.to_string() })?;
        if kept.finished {
            return Err(StoreError::Finished { what: format!("Snapshot {}", kept.name) });
        }
        let (text, plan) = (kept.document.to_string(), plan.to_string());
        let check = of_document(kept.id.as_bytes(), kept.car_row, &kept.name, &text, &plan);
        transaction.execute(
            "UPDATE snapshot SET plan = ?2, document_check = ?3 WHERE id = ?1",
            params![kept.row, plan, check],
        )?;
        if let Some(step) = next_step {
            draft::keep(&transaction, kept.row, &Draft { settled: true, ..Draft::begun(step, at) })?;
        }
        Ok(transaction.commit()?)
    }

    /// Replaces an unfinished snapshot's description; the earlier one and all readings are kept.
    ///
    /// # Errors
    /// Not there, finished, or it cannot be written.
    pub fn change_snapshot(&mut self, id: Uuid, document: &Value) -> Result<()> {
        let transaction = self.write()?;
        let kept =
            record(&transaction, id)?.ok_or_else(|| StoreError::NotFound { what: "snapshot", id: id.to_string() })?;
        if kept.finished {
            return Err(StoreError::Finished { what: "This snapshot".to_owned() });
        }
        replace(&transaction, &kept, document)?;
        touch(&transaction, kept.car_row)?;
        Ok(transaction.commit()?)
    }

    /// Finishes and freezes a snapshot. Finishing it twice changes nothing.
    ///
    /// # Errors
    /// Not there, or it cannot be written.
    pub fn finish(&mut self, id: Uuid, at: Stamp) -> Result<()> {
        let snapshot = self.snapshot(id)?;
        let transaction = self.write()?;
        freeze(&transaction, snapshot.row, at)?;
        touch(&transaction, snapshot.car_row)?;
        Ok(transaction.commit()?)
    }
}

/// The row of a snapshot.
pub(crate) fn row_of(connection: &Connection, id: Uuid) -> Result<Option<i64>> {
    let mut statement = connection.prepare_cached("SELECT id FROM snapshot WHERE uuid = ?1")?;
    Ok(statement.query_row([id.as_bytes()], |row| row.get(0)).optional()?)
}

/// One snapshot without its half-typed text, which no exchange file holds.
pub(crate) fn record(connection: &Connection, id: Uuid) -> Result<Option<SnapshotRecord>> {
    let found = connection
        .prepare_cached(
            "SELECT snapshot.id, snapshot.car, car.uuid, snapshot.name, snapshot.document, snapshot.document_check,
                    snapshot.plan, snapshot.id IN (SELECT snapshot FROM finish)
             FROM snapshot JOIN car ON car.id = snapshot.car WHERE snapshot.uuid = ?1",
        )?
        .query_row([id.as_bytes()], |row| {
            let car: i64 = row.get(1)?;
            let name: String = row.get(3).unwrap_or_default();
            let plan: String = row.get(6).unwrap_or_default();
            let document = verified(id, car, &name, row.get(4).ok(), &plan, row.get(5)?);
            Ok((row.get(0)?, car, uuid_at(row, 2)?, name, document, plan, row.get(7)?))
        })
        .optional()?;
    let Some((row, car_row, car, name, document, plan, finished)) = found else { return Ok(None) };
    let mut document = document.ok_or_else(|| StoreError::Damaged {
        what: format!("the description of snapshot {name} does not match its checksum"),
    })?;
    let plan = serde_json::from_str(&plan).unwrap_or_default();
    let (mut readings, mut damaged) = reading::of(connection, Parent::Snapshot(row))?;
    let mut corrections = read_as_unknown(&mut document);
    let (made, set_aside) = correction::of(connection, row)?;
    corrections.extend(made);
    damaged.extend(set_aside);
    let as_finished = document.clone();
    correction::replay(&mut document, &mut readings, &corrections);
    Ok(Some(SnapshotRecord {
        id,
        row,
        car_row,
        car,
        name,
        document,
        as_finished,
        plan,
        finished,
        readings,
        corrections,
        draft: None,
        damaged,
    }))
}

/// Corrections that came in a file before this program knew any: they stayed in the document, and readings came corrected.
fn read_as_unknown(document: &mut Value) -> Vec<Correction> {
    let found = document.as_object_mut().and_then(|keys| keys.shift_remove("corrections"));
    found.and_then(|corrections| serde_json::from_value(corrections).ok()).unwrap_or_default()
}

pub(crate) fn insert(
    connection: &Connection,
    id: Uuid,
    car: i64,
    document: &Value,
    plan: &Value,
    at: Stamp,
) -> Result<i64> {
    let text = document.to_string();
    let name = document["id"].as_str().unwrap_or_default();
    let plan = plan.to_string();
    connection.execute(
        "INSERT INTO snapshot (uuid, car, name, document, document_check, plan, utc_ms, offset_minutes)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        params![
            id.as_bytes(),
            car,
            name,
            text,
            of_document(id.as_bytes(), car, name, &text, &plan),
            plan,
            at.utc_ms,
            at.offset_minutes
        ],
    )?;
    Ok(connection.last_insert_rowid())
}

/// Replaces an unfinished snapshot's description.
pub(crate) fn replace(connection: &Connection, kept: &SnapshotRecord, document: &Value) -> Result<()> {
    let text = document.to_string();
    let check = of_document(kept.id.as_bytes(), kept.car_row, &kept.name, &text, &kept.plan.to_string());
    connection.execute(
        "UPDATE snapshot SET document = ?2, document_check = ?3 WHERE id = ?1 AND document <> ?2",
        params![kept.row, text, check],
    )?;
    Ok(())
}

pub(crate) fn freeze(connection: &Connection, row: i64, at: Stamp) -> Result<()> {
    connection.execute(
        "INSERT INTO finish (snapshot, utc_ms, offset_minutes, checksum) SELECT ?1, ?2, ?3, ?4
         WHERE ?1 NOT IN (SELECT snapshot FROM finish)",
        params![row, at.utc_ms, at.offset_minutes, finish_checksum(row, at)],
    )?;
    connection.execute("DELETE FROM draft WHERE snapshot = ?1", [row])?;
    Ok(())
}

/// Whether every note that a snapshot is finished is as it was written; damaged ones in words.
pub(crate) fn check_finished(connection: &Connection) -> Result<Vec<String>> {
    let mut damaged = Vec::new();
    let mut statement = connection.prepare("SELECT snapshot, utc_ms, offset_minutes, checksum FROM finish")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let snapshot: i64 = row.get(0)?;
        let at = Stamp { utc_ms: row.get(1).unwrap_or_default(), offset_minutes: row.get(2).unwrap_or_default() };
        if row.get::<_, i64>(3).ok() != Some(finish_checksum(snapshot, at)) {
            damaged.push(format!("The note that snapshot {snapshot} is finished is damaged."));
        }
    }
    Ok(damaged)
}

fn finish_checksum(snapshot: i64, at: Stamp) -> i64 {
    Checksum::new("finish").integer(snapshot).integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

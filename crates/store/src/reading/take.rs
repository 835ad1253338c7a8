//! Taking a reading and marking one: each its own transaction.

use super::row::{insert, mark_checksum};
use super::{Mark, NewReading, Parent, Reading, Taken};
use crate::car::touch;
use crate::draft::{self, Draft};
use crate::floor::touch_all;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use uuid::Uuid;

impl Store {
    /// Keeps one tape or gauge reading and, in the same transaction, where the walk goes on. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such snapshot, finished, or it cannot be written; then nothing was kept.
    pub fn take(&mut self, snapshot: Uuid, reading: &NewReading, next_step: &str, at: Stamp) -> Result<Taken> {
        self.take_instead(snapshot, reading, None, next_step, at)
    }

    /// Keeps one reading and, in the same transaction, takes the one back that it stands in for: both or neither.
    ///
    /// # Errors
    /// As of [`Store::take`]; or there is no such reading to take back.
    pub fn take_instead(
        &mut self,
        snapshot: Uuid,
        reading: &NewReading,
        instead_of: Option<Uuid>,
        next_step: &str,
        at: Stamp,
    ) -> Result<Taken> {
        let transaction = self.write()?;
        let (row, car, name, finished) = transaction
            .prepare_cached("SELECT id, car, name, id IN (SELECT snapshot FROM finish) FROM snapshot WHERE uuid = ?1")?
            .query_row([snapshot.as_bytes()], |row| {
                Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?, row.get::<_, String>(2)?, row.get::<_, bool>(3)?))
            })
            .optional()?
            .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: snapshot.to_string() })?;
        let heard = heard(&transaction, Parent::Snapshot(row), reading)?;
        if matches!(heard, Heard::Again) {
            return Ok(Taken::Before);
        }
        if finished {
            return Err(StoreError::Finished { what: format!("Snapshot {name}") });
        }
        // Taken back first: what was undone before something new is taken does not come again.
        if let Some(old) = instead_of {
            let old_row = transaction
                .prepare_cached("SELECT id FROM reading WHERE uuid = ?1 AND snapshot = ?2")?
                .query_row(params![old.as_bytes(), row], |row| row.get(0))
                .optional()?
                .ok_or_else(|| StoreError::NotFound { what: "reading", id: old.to_string() })?;
            let newest = newest(&transaction, Parent::Snapshot(row))?;
            write_mark(&transaction, old_row, Mark::TakenBack, "", newest, at)?;
        }
        keep(&transaction, Parent::Snapshot(row), reading, &heard, at)?;
        draft::keep(&transaction, row, &Draft::begun(next_step, at))?;
        touch(&transaction, car)?;
        transaction.commit()?;
        Ok(Taken::Now)
    }

    /// Keeps one reading of a floor, staff or straightedge, and, in the same transaction, strikes those of that place, pass and
    /// sense that counted until now: two never count. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such floor, or it cannot be written; then nothing was kept.
    pub fn take_on_floor(&mut self, floor: Uuid, reading: &NewReading, at: Stamp) -> Result<Taken> {
        let transaction = self.write()?;
        let row = transaction
            .prepare_cached("SELECT id FROM floor WHERE uuid = ?1")?
            .query_row([floor.as_bytes()], |row| row.get::<_, i64>(0))
            .optional()?
            .ok_or_else(|| StoreError::NotFound { what: "floor", id: floor.to_string() })?;
        let heard = heard(&transaction, Parent::Floor(row), reading)?;
        if matches!(heard, Heard::Again) {
            return Ok(Taken::Before);
        }
        let (kept, _) = super::row::of(&transaction, Parent::Floor(row))?;
        keep(&transaction, Parent::Floor(row), reading, &heard, at)?;
        let newest = newest(&transaction, Parent::Floor(row))?;
        let same = |kept: &&Reading| {
            let kept = &kept.taken;
            kept.pass_no == reading.pass_no && kept.place == reading.place && kept.reversed == reading.reversed
        };
        for earlier in kept.iter().filter(|kept| kept.counts()).filter(same) {
            write_mark(&transaction, earlier.row, Mark::Struck, "read anew", newest, at)?;
        }
        touch_all(&transaction, row)?;
        transaction.commit()?;
        Ok(Taken::Now)
    }

    /// Takes a reading back, puts it back, or strikes it; the reading itself stays as it is. In the same transaction the walk
    /// goes to `next_step`, if there is one.
    ///
    /// # Errors
    /// No such reading, its snapshot is finished, or it cannot be written.
    pub fn mark(&mut self, reading: Uuid, what: Mark, reason: &str, next_step: Option<&str>, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let found = transaction
            .prepare_cached(
                "SELECT r.id, r.snapshot, r.floor, coalesce(s.car, f.car), r.snapshot IN (SELECT snapshot FROM finish)
                 FROM reading r LEFT JOIN snapshot s ON s.id = r.snapshot LEFT JOIN floor f ON f.id = r.floor
                 WHERE r.uuid = ?1",
            )?
            .query_row([reading.as_bytes()], |row| {
                Ok((
                    row.get::<_, i64>(0)?,
                    row.get::<_, Option<i64>>(1)?,
                    row.get::<_, Option<i64>>(2)?,
                    row.get::<_, i64>(3)?,
                    row.get::<_, Option<bool>>(4)?,
                ))
            })
            .optional()?;
        let Some((row, snapshot, floor, car, finished)) = found else {
            return Err(StoreError::NotFound { what: "reading", id: reading.to_string() });
        };
        if finished == Some(true) {
            return Err(StoreError::Finished { what: "This snapshot".to_owned() });
        }
        let parent = match (snapshot, floor) {
            (Some(snapshot), _) => Parent::Snapshot(snapshot),
            (None, floor) => Parent::Floor(floor.unwrap_or_default()),
        };
        write_mark(&transaction, row, what, reason, newest(&transaction, parent)?, at)?;
        if let (Some(snapshot), Some(step)) = (snapshot, next_step) {
            draft::keep(&transaction, snapshot, &Draft::begun(step, at))?;
        }
        match floor {
            Some(floor) => touch_all(&transaction, floor)?,
            None => touch(&transaction, car)?,
        }
        Ok(transaction.commit()?)
    }
}

/// Row of the reading that was taken last.
fn newest(connection: &Connection, parent: Parent) -> Result<i64> {
    let (column, key) = match parent {
        Parent::Snapshot(row) => ("snapshot", row),
        Parent::Floor(row) => ("floor", row),
    };
    let mut statement = connection.prepare_cached(&format!("SELECT max(id) FROM reading WHERE {column} = ?1"))?;
    Ok(statement.query_row([key], |row| row.get(0))?)
}

fn write_mark(connection: &Connection, reading: i64, what: Mark, reason: &str, newest: i64, at: Stamp) -> Result<()> {
    let id: i64 = connection.query_row("SELECT 1 + ifnull(max(id), 0) FROM mark", [], |row| row.get(0))?;
    let checksum = mark_checksum(id, reading, what.code(), reason, newest, at);
    connection
        .prepare_cached(
            "INSERT INTO mark (id, reading, what, reason, after_reading, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?
        .execute(params![id, reading, what.code(), reason, newest, at.utc_ms, at.offset_minutes, checksum])?;
    Ok(())
}

/// What a request that was heard before means now.
enum Heard {
    /// The same reading again.
    Again,
    /// Another reading under a number that was used before: a shell that counts from one again must not lose it.
    NumberUsed,
    Never,
}

fn heard(connection: &Connection, parent: Parent, reading: &NewReading) -> Result<Heard> {
    let Some(request) = &reading.request else { return Ok(Heard::Never) };
    let (snapshot, floor) = match parent {
        Parent::Snapshot(row) => (Some(row), None),
        Parent::Floor(row) => (None, Some(row)),
    };
    let same: Option<bool> = connection
        .prepare_cached(
            "SELECT snapshot IS ?2 AND floor IS ?3 AND bounce = ?4 AND pass_no = ?5 AND place = ?6 AND reversed = ?7
                    AND text = ?8
             FROM reading WHERE request = ?1",
        )?
        .query_row(
            params![
                request,
                snapshot,
                floor,
                reading.bounce,
                reading.pass_no,
                reading.place,
                reading.reversed,
                reading.text
            ],
            |row| row.get(0),
        )
        .optional()?;
    Ok(match same {
        Some(true) => Heard::Again,
        Some(false) => Heard::NumberUsed,
        None => Heard::Never,
    })
}

/// Writes the row, without the request's number where that is used already.
fn keep(connection: &Connection, parent: Parent, reading: &NewReading, heard: &Heard, at: Stamp) -> Result<()> {
    match heard {
        Heard::NumberUsed => insert(connection, parent, [&NewReading { request: None, ..reading.clone() }], Some(at)),
        Heard::Again | Heard::Never => insert(connection, parent, [reading], Some(at)),
    }
}

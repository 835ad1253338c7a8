//! Stations under a string: taken, taken back and put back, each its own transaction.

use super::{GroundRecord, Marked, StationRecord, stamp};
use crate::car::uuid_at;
use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError, Taken};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use uuid::Uuid;

impl Store {
    /// Keeps one station of a ground. When this returns it is on the disk. The same request is kept once.
    ///
    /// # Errors
    /// No such ground, or it cannot be written; then nothing was kept.
    pub fn take_station(&mut self, ground: &str, id: Uuid, station: &Value, request: &str, at: Stamp) -> Result<Taken> {
        self.ground(ground)?;
        let transaction = self.write()?;
        let heard = heard(&transaction, request)?;
        if heard.as_ref().is_some_and(|heard| heard.says(ground, station)) {
            return Ok(Taken::Before);
        }
        // Another station under a number that was used before: a shell that counts from one again must not lose it.
        insert(&transaction, ground, id, station, heard.is_none().then_some(request), at)?;
        transaction.commit()?;
        Ok(Taken::Now)
    }

    /// True where this request brought this station before.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn heard_station(&self, ground: &str, station: &Value, request: &str) -> Result<bool> {
        Ok(heard(&self.connection, request)?.is_some_and(|heard| heard.says(ground, station)))
    }

    /// Takes the newest station that counts back; it stays in the book.
    ///
    /// # Errors
    /// No such ground, nothing that counts, or it cannot be written.
    pub fn take_station_back(&mut self, ground: &str, at: Stamp) -> Result<()> {
        self.mark_station(ground, "taken_back", at, GroundRecord::to_take_back)
    }

    /// Puts the station back that was taken back last, as long as no other was taken.
    ///
    /// # Errors
    /// No such ground, nothing to put back, or it cannot be written.
    pub fn put_station_back(&mut self, ground: &str, at: Stamp) -> Result<()> {
        self.mark_station(ground, "put_back", at, GroundRecord::to_put_back)
    }

    fn mark_station(
        &mut self,
        ground: &str,
        what: &str,
        at: Stamp,
        which: impl Fn(&GroundRecord) -> Option<&StationRecord>,
    ) -> Result<()> {
        let record = self.ground(ground)?;
        let Some(station) = which(&record) else {
            return Err(StoreError::NotFound { what: "station", id: ground.to_owned() });
        };
        let newest = record.newest().unwrap_or_default();
        let transaction = self.write()?;
        let id: i64 =
            transaction.query_row("SELECT 1 + ifnull(max(id), 0) FROM ground_station_mark", [], |row| row.get(0))?;
        transaction.execute(
            "INSERT INTO ground_station_mark (id, station, what, after_station, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![
                id,
                station.row,
                what,
                newest,
                at.utc_ms,
                at.offset_minutes,
                mark_checksum(id, station.row, what, newest, at)
            ],
        )?;
        Ok(transaction.commit()?)
    }
}

/// What a request brought.
struct Heard {
    ground: String,
    station: String,
}

fn heard(connection: &Connection, request: &str) -> Result<Option<Heard>> {
    let mut statement = connection.prepare_cached("SELECT ground, document FROM ground_station WHERE request = ?1")?;
    let row = statement.query_row([request], |row| Ok(Heard { ground: row.get(0)?, station: row.get(1)? }));
    Ok(row.optional()?)
}

impl Heard {
    /// Whatever hour it was taken.
    fn says(&self, ground: &str, station: &Value) -> bool {
        let without_hour = |mut station: Value| {
            station.as_object_mut().and_then(|keys| keys.shift_remove("taken_at"));
            station
        };
        let kept = serde_json::from_str(&self.station).map(without_hour);
        self.ground == ground && kept.is_ok_and(|kept| kept == without_hour(station.clone()))
    }
}

pub(super) fn insert(
    connection: &Connection,
    ground: &str,
    id: Uuid,
    station: &Value,
    request: Option<&str>,
    at: Stamp,
) -> Result<()> {
    let text = station.to_string();
    connection.execute(
        "INSERT INTO ground_station (uuid, ground, document, request, utc_ms, offset_minutes, checksum)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        params![id.as_bytes(), ground, text, request, at.utc_ms, at.offset_minutes, checksum(id, ground, &text, at)],
    )?;
    Ok(())
}

fn checksum(id: Uuid, ground: &str, text: &str, at: Stamp) -> i64 {
    let row = Checksum::new("ground_station").bytes(id.as_bytes()).text(ground).text(text);
    row.integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

fn mark_checksum(id: i64, station: i64, what: &str, newest: i64, at: Stamp) -> i64 {
    let row = Checksum::new("ground_station_mark").integer(id).integer(station).text(what).integer(newest);
    row.integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

/// Stations of a ground in the order of entry, and what of them is damaged in words.
pub(super) fn stations(connection: &Connection, ground: &str) -> Result<(Vec<StationRecord>, Vec<String>)> {
    let mut statement = connection.prepare_cached(
        "SELECT id, uuid, document, utc_ms, offset_minutes, checksum FROM ground_station WHERE ground = ?1 ORDER BY id",
    )?;
    let mut rows = statement.query([ground])?;
    let (mut found, mut damaged) = (Vec::new(), Vec::new());
    while let Some(row) = rows.next()? {
        let read = || -> Option<StationRecord> {
            let (id, text): (Uuid, String) = (uuid_at(row, 1).ok()?, row.get(2).ok()?);
            let at = stamp(row, 3)?;
            let sound = checksum(id, ground, &text, at) == row.get::<_, i64>(5).ok()?;
            let document = sound.then(|| serde_json::from_str(&text).ok()).flatten()?;
            Some(StationRecord { row: row.get(0).ok()?, id, document, at, last: None })
        };
        match read() {
            Some(station) => found.push(station),
            None => damaged.push(format!("a station of ground {ground}")),
        }
    }
    for station in &mut found {
        station.last = last_mark(connection, station.row)?;
    }
    Ok((found, damaged))
}

/// The last sound mark of a station.
fn last_mark(connection: &Connection, station: i64) -> Result<Option<Marked>> {
    let mut statement = connection.prepare_cached(
        "SELECT id, what, after_station, utc_ms, offset_minutes, checksum FROM ground_station_mark
         WHERE station = ?1 ORDER BY id DESC",
    )?;
    let mut rows = statement.query([station])?;
    while let Some(row) = rows.next()? {
        let (id, what, after): (i64, String, i64) = (row.get(0)?, row.get(1)?, row.get(2)?);
        let at = Stamp { utc_ms: row.get(3)?, offset_minutes: row.get(4)? };
        if row.get::<_, i64>(5)? == mark_checksum(id, station, &what, after, at) {
            return Ok(Some(Marked { row: id, taken_back: what == "taken_back", after_station: after, at }));
        }
    }
    Ok(None)
}

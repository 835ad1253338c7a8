//! One row of an event's book: written with its checksum, read back, and rows put together as events.

use super::EventRecord;
use crate::checksum::Checksum;
use crate::exchange::named_id;
use crate::{Result, Stamp, StoreError, car::uuid_at};
use rusqlite::{Connection, Row, params};
use serde_json::Value;
use trueground_core::capture::EventChange;
use uuid::Uuid;

/// A row as it is read.
pub(super) struct Written {
    pub(super) event: Uuid,
    /// As it stands in the exchange file.
    pub(super) document: Value,
    pub(super) change: EventChange,
    pub(super) at: Stamp,
}

/// True where the garage has the table: a damaged one of an earlier layout is read too.
pub(super) fn kept(connection: &Connection) -> Result<bool> {
    let sql = "SELECT EXISTS (SELECT 1 FROM sqlite_schema WHERE name = 'event')";
    Ok(connection.prepare_cached(sql)?.query_row([], |row| row.get(0))?)
}

/// Rows of a car in their order, and damaged ones in words.
pub(super) fn all(connection: &Connection, car: i64) -> Result<(Vec<Written>, Vec<String>)> {
    let (mut written, mut damaged) = (Vec::new(), Vec::new());
    if !kept(connection)? {
        return Ok((written, damaged));
    }
    let mut statement = connection.prepare_cached(
        "SELECT id, uuid, event, document, request, utc_ms, offset_minutes, checksum FROM event WHERE car = ?1 ORDER BY id",
    )?;
    let mut rows = statement.query([car])?;
    while let Some(row) = rows.next()? {
        match read(row, car) {
            Some(row) => written.push(row),
            None => {
                let left: String = row.get(3).unwrap_or_else(|_| "?".to_owned());
                damaged.push(format!("an entry of the history, of which \u{201c}{left}\u{201d} is left,"));
            }
        }
    }
    Ok((written, damaged))
}

fn read(row: &Row<'_>, car: i64) -> Option<Written> {
    let (id, uuid, event): (i64, Uuid, Uuid) = (row.get(0).ok()?, uuid_at(row, 1).ok()?, uuid_at(row, 2).ok()?);
    let text: String = row.get(3).ok()?;
    let request: Option<String> = row.get(4).ok()?;
    let at = Stamp { utc_ms: row.get(5).ok()?, offset_minutes: row.get(6).ok()? };
    let check: i64 = row.get(7).ok()?;
    if check != checksum(id, uuid, car, event, &text, request.as_deref(), at) {
        return None;
    }
    let document: Value = serde_json::from_str(&text).ok()?;
    let change = serde_json::from_value(document.clone()).ok()?;
    Some(Written { event, document, change, at })
}

/// Events of a car in the order of entry, and damaged rows in words.
pub(super) fn events(connection: &Connection, car: i64) -> Result<(Vec<EventRecord>, Vec<String>)> {
    let (rows, damaged) = all(connection, car)?;
    let mut books: Vec<(Uuid, Stamp, Vec<EventChange>)> = Vec::new();
    let mut places = std::collections::BTreeMap::new();
    for row in rows {
        let place = *places.entry(row.event).or_insert_with(|| {
            books.push((row.event, row.at, Vec::new()));
            books.len() - 1
        });
        books[place].2.push(row.change);
    }
    let events = books.into_iter().filter_map(|(id, entered, rows)| {
        let (event, counts) = EventChange::replay(&rows).map(|(event, counts)| (event.clone(), counts))?;
        let name = rows.first()?.event.clone();
        Some(EventRecord { id, name, event, counts, rows, entered })
    });
    Ok((events.collect(), damaged))
}

/// Writes a row as it stands in the exchange file.
pub(super) fn insert(
    connection: &Connection,
    car: i64,
    car_id: Uuid,
    document: &Value,
    request: Option<&str>,
    at: Stamp,
) -> Result<()> {
    let said = |key: &str| document[key].as_str().unwrap_or_default();
    let uuid = named_id(car_id, "event row", said("uuid"));
    let event = named_id(car_id, "event", said("event"));
    let id: i64 = connection.query_row("SELECT 1 + ifnull(max(id), 0) FROM event", [], |row| row.get(0))?;
    let text = document.to_string();
    if said("uuid").is_empty() || said("event").is_empty() {
        return Err(StoreError::Contradiction { what: format!("An entry of the history has no id: {text}.") });
    }
    connection
        .prepare_cached(
            "INSERT INTO event (id, uuid, car, event, document, request, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
        )?
        .execute(params![
            id,
            uuid.as_bytes(),
            car,
            event.as_bytes(),
            text,
            request,
            at.utc_ms,
            at.offset_minutes,
            checksum(id, uuid, car, event, &text, request, at)
        ])?;
    Ok(())
}

fn checksum(id: i64, uuid: Uuid, car: i64, event: Uuid, document: &str, request: Option<&str>, at: Stamp) -> i64 {
    Checksum::new("event")
        .integer(id)
        .bytes(uuid.as_bytes())
        .integer(car)
        .bytes(event.as_bytes())
        .text(document)
        .optional(request.is_some().then_some(1))
        .text(request.unwrap_or_default())
        .integer(at.utc_ms)
        .integer(i64::from(at.offset_minutes))
        .finish()
}

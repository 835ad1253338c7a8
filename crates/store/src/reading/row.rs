//! Rows of the tables `reading` and `mark`: written with their checksums, verified when they are read.

use super::{Mark, Marked, NewReading, Parent, Reading, ReadingKind, Standing};
use crate::car::uuid_at;
use crate::checksum::Checksum;
use crate::{Result, Stamp};
use rusqlite::{Connection, Row, params};
use serde_json::{Map, Value};

/// Writes readings in this order; `at` is absent for those that came from a file.
pub(crate) fn insert<'a>(
    connection: &Connection,
    parent: Parent,
    readings: impl IntoIterator<Item = &'a NewReading>,
    at: Option<Stamp>,
) -> Result<()> {
    let (snapshot, floor) = match parent {
        Parent::Snapshot(row) => (Some(row), None),
        Parent::Floor(row) => (None, Some(row)),
    };
    let next: i64 =
        connection.prepare_cached("SELECT 1 + ifnull(max(id), 0) FROM reading")?.query_row([], |row| row.get(0))?;
    let mut statement = connection.prepare_cached(
        "INSERT INTO reading (id, uuid, kind, snapshot, floor, bounce, pass_no, place, round, reversed, text, unit,
                              value, as_written, request, utc_ms, offset_minutes, checksum)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18)",
    )?;
    for (id, new) in (next..).zip(readings) {
        let written = if new.extra.is_empty() { String::new() } else { Value::Object(new.extra.clone()).to_string() };
        statement.execute(params![
            id,
            new.id.as_bytes(),
            new.kind.code(),
            snapshot,
            floor,
            new.bounce,
            new.pass_no,
            new.place,
            new.round,
            new.reversed,
            new.text,
            new.unit,
            new.value,
            written,
            new.request,
            at.map(|at| at.utc_ms),
            at.map(|at| at.offset_minutes),
            checksum(id, parent, new, &written, at),
        ])?;
    }
    Ok(())
}

/// Readings of one snapshot or floor in the order of entry, and what was set aside as damaged.
pub(crate) fn of(connection: &Connection, parent: Parent) -> Result<(Vec<Reading>, Vec<String>)> {
    let (column, key) = match parent {
        Parent::Snapshot(row) => ("snapshot", row),
        Parent::Floor(row) => ("floor", row),
    };
    let mut damaged = Vec::new();
    let mut readings = Vec::new();
    let mut statement = connection.prepare_cached(&format!(
        "SELECT id, uuid, kind, bounce, pass_no, place, round, reversed, text, unit, value, as_written, request, utc_ms,
                offset_minutes, checksum FROM reading WHERE {column} = ?1 ORDER BY id"
    ))?;
    let mut rows = statement.query([key])?;
    while let Some(row) = rows.next()? {
        match read(row, parent) {
            Some(reading) => readings.push(reading),
            None => damaged.push(what_is_left(row)),
        }
    }
    let mut statement = connection.prepare_cached(&format!(
        "SELECT mark.id, mark.reading, what, reason, after_reading, mark.utc_ms, mark.offset_minutes, mark.checksum
         FROM mark JOIN reading ON reading.id = mark.reading WHERE reading.{column} = ?1 ORDER BY mark.id"
    ))?;
    let newest = readings.last().map_or(0, |reading| reading.row);
    let mut rows = statement.query([key])?;
    while let Some(row) = rows.next()? {
        let Some((of, mark)) = read_mark(row) else {
            damaged.push("a note that a reading was taken back, put back or struck".to_owned());
            continue;
        };
        let Some(reading) = readings.iter_mut().find(|reading| reading.row == of) else { continue };
        reading.marked = mark.row;
        reading.marked_last = mark.after_reading == newest;
        reading.standing = match mark.what {
            Mark::PutBack => Standing::Kept,
            Mark::TakenBack => Standing::TakenBack { at: mark.at },
            Mark::Struck => Standing::Struck { reason: mark.reason.clone(), at: Some(mark.at.iso()) },
        };
        reading.marks.push(mark);
    }
    Ok((readings, damaged))
}

fn read(row: &Row<'_>, parent: Parent) -> Option<Reading> {
    let id: i64 = row.get(0).ok()?;
    let written: String = row.get(11).ok()?;
    let taken = NewReading {
        id: uuid_at(row, 1).ok()?,
        kind: ReadingKind::from_code(&row.get::<_, String>(2).ok()?)?,
        bounce: row.get(3).ok()?,
        pass_no: row.get(4).ok()?,
        place: row.get(5).ok()?,
        round: row.get(6).ok()?,
        reversed: row.get(7).ok()?,
        text: row.get(8).ok()?,
        unit: row.get(9).ok()?,
        value: row.get(10).ok()?,
        extra: if written.is_empty() { Map::new() } else { serde_json::from_str(&written).ok()? },
        request: row.get(12).ok()?,
    };
    let at = match (row.get::<_, Option<i64>>(13).ok()?, row.get::<_, Option<i32>>(14).ok()?) {
        (Some(utc_ms), Some(offset_minutes)) => Some(Stamp { utc_ms, offset_minutes }),
        _ => None,
    };
    let check: i64 = row.get(15).ok()?;
    if check != checksum(id, parent, &taken, &written, at) {
        return None;
    }
    let standing = match taken.extra.get("struck") {
        Some(Value::Object(struck)) => Standing::Struck {
            reason: struck.get("reason").and_then(Value::as_str).unwrap_or_default().to_owned(),
            at: struck.get("at").and_then(Value::as_str).map(str::to_owned),
        },
        _ => Standing::Kept,
    };
    Some(Reading { row: id, taken, at, standing, marked: 0, marked_last: false, marks: Vec::new() })
}

/// Names a damaged row by whatever of it can still be read.
fn what_is_left(row: &Row<'_>) -> String {
    let text = |column| row.get::<_, String>(column).unwrap_or_else(|_| "?".to_owned());
    let number = row.get::<_, i64>(0).unwrap_or_default();
    let round = row.get::<_, i64>(6).unwrap_or_default();
    format!("reading {number} at {}, round {round}, typed \u{201c}{}\u{201d}", text(5), text(8))
}

fn checksum(id: i64, parent: Parent, new: &NewReading, written: &str, at: Option<Stamp>) -> i64 {
    let (table, row) = match parent {
        Parent::Snapshot(row) => ("snapshot", row),
        Parent::Floor(row) => ("floor", row),
    };
    Checksum::new("reading")
        .integer(id)
        .bytes(new.id.as_bytes())
        .text(new.kind.code())
        .text(table)
        .integer(row)
        .text(&new.bounce)
        .integer(i64::from(new.pass_no))
        .text(&new.place)
        .integer(i64::from(new.round))
        .integer(i64::from(new.reversed))
        .text(&new.text)
        .text(&new.unit)
        .real(new.value)
        .text(written)
        .optional(new.request.is_some().then_some(1))
        .text(new.request.as_deref().unwrap_or_default())
        .optional(at.map(|at| at.utc_ms))
        .optional(at.map(|at| i64::from(at.offset_minutes)))
        .finish()
}

/// Row of its reading, and the mark.
fn read_mark(row: &Row<'_>) -> Option<(i64, Marked)> {
    let code: String = row.get(2).ok()?;
    let reading = row.get(1).ok()?;
    let mark = Marked {
        row: row.get(0).ok()?,
        what: [Mark::TakenBack, Mark::PutBack, Mark::Struck].into_iter().find(|mark| mark.code() == code)?,
        reason: row.get(3).ok()?,
        after_reading: row.get(4).ok()?,
        at: Stamp { utc_ms: row.get(5).ok()?, offset_minutes: row.get(6).ok()? },
    };
    let check: i64 = row.get(7).ok()?;
    let written = mark_checksum(mark.row, reading, &code, &mark.reason, mark.after_reading, mark.at);
    (check == written).then_some((reading, mark))
}

pub(super) fn mark_checksum(id: i64, reading: i64, what: &str, reason: &str, after_reading: i64, at: Stamp) -> i64 {
    Checksum::new("mark")
        .integer(id)
        .integer(reading)
        .text(what)
        .text(reason)
        .integer(after_reading)
        .integer(at.utc_ms)
        .integer(i64::from(at.offset_minutes))
        .finish()
}

//! The tables `reading` and `mark`: what was read, for ever as it was typed, and what was taken back, put back or struck.

use crate::car::{touch, uuid_at};
use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError, draft};
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde_json::{Map, Value};
use uuid::Uuid;

/// What was read with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// Tape, height above the floor, mm.
    Tape,
    /// Angle gauge on the car, degrees.
    Gauge,
    /// From a level plane to a point of the car, mm.
    Plane,
    /// From a level plane down to the floor, mm.
    Staff,
}

impl ReadingKind {
    const fn code(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Gauge => "gauge",
            Self::Plane => "plane",
            Self::Staff => "staff",
        }
    }

    fn from_code(code: &str) -> Option<Self> {
        [Self::Tape, Self::Gauge, Self::Plane, Self::Staff].into_iter().find(|kind| kind.code() == code)
    }
}

/// Row of the snapshot or floor that a reading belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parent {
    /// A snapshot.
    Snapshot(i64),
    /// A floor.
    Floor(i64),
}

/// A reading to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct NewReading {
    /// Fresh id.
    pub id: Uuid,
    /// What with.
    pub kind: ReadingKind,
    /// The bounce's name; empty for a staff reading.
    pub bounce: String,
    /// The pass or set-up, 1, 2, …; 0 for tape and gauge.
    pub pass_no: u32,
    /// Point, rail or spot.
    pub place: String,
    /// Which round, 1, 2, …
    pub round: u32,
    /// Gauge turned end for end.
    pub reversed: bool,
    /// As typed.
    pub text: String,
    /// Unit of the text.
    pub unit: String,
    /// mm or degrees.
    pub value: f64,
    /// What else is to be said about it in the exchange file.
    pub extra: Map<String, Value>,
    /// Number of the request that brought it; the same number is stored once.
    pub request: Option<String>,
}

/// A kept reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub(crate) row: i64,
    /// As it was taken.
    pub taken: NewReading,
    /// When, where it was taken here and not read from a file.
    pub at: Option<Stamp>,
    /// Whether it counts.
    pub standing: Standing,
    /// Row of its last mark, 0 where it has none: larger is later.
    pub marked: i64,
    /// True where it was taken back and nothing was taken since.
    pub can_put_back: bool,
}

/// Whether a reading counts.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// It counts.
    Kept,
    /// Undone; it can be put back until another is taken.
    TakenBack {
        /// When.
        at: Stamp,
    },
    /// Struck with a reason, here or in the file it came from.
    Struck {
        /// The person's words.
        reason: String,
        /// When, local time.
        at: Option<String>,
    },
}

impl Reading {
    /// True where it counts.
    pub fn counts(&self) -> bool {
        self.standing == Standing::Kept
    }
}

/// What happens to a kept reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Undo.
    TakenBack,
    /// Undo of the undo.
    PutBack,
    /// Struck.
    Struck,
}

impl Mark {
    const fn code(self) -> &'static str {
        match self {
            Self::TakenBack => "taken_back",
            Self::PutBack => "put_back",
            Self::Struck => "struck",
        }
    }
}

/// What became of a reading that was handed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It is on the disk now.
    Now,
    /// It was already there: the same request came before.
    Before,
}

impl Store {
    /// Keeps one tape or gauge reading and, in the same transaction, where the walk goes on. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such snapshot, finished, or it cannot be written; then nothing was kept.
    pub fn take(&mut self, snapshot: Uuid, reading: &NewReading, next_step: &str, at: Stamp) -> Result<Taken> {
        let transaction = self.write()?;
        let (row, car, name, finished) = transaction
            .prepare_cached("SELECT id, car, name, id IN (SELECT snapshot FROM finish) FROM snapshot WHERE uuid = ?1")?
            .query_row([snapshot.as_bytes()], |row| {
                Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?, row.get::<_, String>(2)?, row.get::<_, bool>(3)?))
            })
            .optional()?
            .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: snapshot.to_string() })?;
        if came_before(&transaction, reading)? {
            return Ok(Taken::Before);
        }
        if finished {
            return Err(StoreError::Finished { what: format!("Snapshot {name}") });
        }
        insert(&transaction, Parent::Snapshot(row), reading, Some(at))?;
        draft::keep(&transaction, row, next_step, "", at)?;
        touch(&transaction, car)?;
        transaction.commit()?;
        Ok(Taken::Now)
    }

    /// Keeps one staff reading of a floor. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such floor, or it cannot be written; then nothing was kept.
    pub fn take_staff(&mut self, floor: Uuid, reading: &NewReading, at: Stamp) -> Result<Taken> {
        let transaction = self.write()?;
        let (row, car) = transaction
            .prepare_cached("SELECT id, car FROM floor WHERE uuid = ?1")?
            .query_row([floor.as_bytes()], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?)))
            .optional()?
            .ok_or_else(|| StoreError::NotFound { what: "floor", id: floor.to_string() })?;
        if came_before(&transaction, reading)? {
            return Ok(Taken::Before);
        }
        insert(&transaction, Parent::Floor(row), reading, Some(at))?;
        touch(&transaction, car)?;
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
        let newest: i64 = match (snapshot, floor) {
            (Some(snapshot), _) => transaction
                .prepare_cached("SELECT max(id) FROM reading WHERE snapshot = ?1")?
                .query_row([snapshot], |row| row.get(0))?,
            (None, floor) => transaction
                .prepare_cached("SELECT max(id) FROM reading WHERE floor = ?1")?
                .query_row([floor], |row| row.get(0))?,
        };
        let id: i64 = transaction.query_row("SELECT 1 + ifnull(max(id), 0) FROM mark", [], |row| row.get(0))?;
        let checksum = mark_checksum(id, row, what.code(), reason, newest, at);
        transaction
            .prepare_cached(
                "INSERT INTO mark (id, reading, what, reason, after_reading, utc_ms, offset_minutes, checksum)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            )?
            .execute(params![id, row, what.code(), reason, newest, at.utc_ms, at.offset_minutes, checksum])?;
        if let (Some(snapshot), Some(step)) = (snapshot, next_step) {
            draft::keep(&transaction, snapshot, step, "", at)?;
        }
        touch(&transaction, car)?;
        Ok(transaction.commit()?)
    }
}

fn came_before(connection: &Connection, reading: &NewReading) -> Result<bool> {
    let Some(request) = &reading.request else { return Ok(false) };
    Ok(connection.prepare_cached("SELECT 1 FROM reading WHERE request = ?1")?.exists([request])?)
}

/// Writes a reading's row; `at` is absent for one that came from a file.
pub(crate) fn insert(connection: &Connection, parent: Parent, new: &NewReading, at: Option<Stamp>) -> Result<()> {
    let id: i64 =
        connection.prepare_cached("SELECT 1 + ifnull(max(id), 0) FROM reading")?.query_row([], |row| row.get(0))?;
    let written = if new.extra.is_empty() { String::new() } else { Value::Object(new.extra.clone()).to_string() };
    let (snapshot, floor) = match parent {
        Parent::Snapshot(row) => (Some(row), None),
        Parent::Floor(row) => (None, Some(row)),
    };
    connection
        .prepare_cached(
            "INSERT INTO reading (id, uuid, kind, snapshot, floor, bounce, pass_no, place, round, reversed, text, unit,
                                  value, as_written, request, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18)",
        )?
        .execute(params![
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
        let Some(mark) = read_mark(row) else {
            damaged.push("a note that a reading was taken back, put back or struck".to_owned());
            continue;
        };
        let Some(reading) = readings.iter_mut().find(|reading| reading.row == mark.reading) else { continue };
        reading.marked = mark.row;
        reading.can_put_back = mark.what == Mark::TakenBack && mark.after_reading == newest;
        reading.standing = match mark.what {
            Mark::PutBack => Standing::Kept,
            Mark::TakenBack => Standing::TakenBack { at: mark.at },
            Mark::Struck => Standing::Struck { reason: mark.reason, at: Some(mark.at.iso()) },
        };
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
    Some(Reading { row: id, taken, at, standing, marked: 0, can_put_back: false })
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

struct MarkRow {
    row: i64,
    reading: i64,
    what: Mark,
    reason: String,
    after_reading: i64,
    at: Stamp,
}

fn read_mark(row: &Row<'_>) -> Option<MarkRow> {
    let code: String = row.get(2).ok()?;
    let mark = MarkRow {
        row: row.get(0).ok()?,
        reading: row.get(1).ok()?,
        what: [Mark::TakenBack, Mark::PutBack, Mark::Struck].into_iter().find(|mark| mark.code() == code)?,
        reason: row.get(3).ok()?,
        after_reading: row.get(4).ok()?,
        at: Stamp { utc_ms: row.get(5).ok()?, offset_minutes: row.get(6).ok()? },
    };
    let check: i64 = row.get(7).ok()?;
    (check == mark_checksum(mark.row, mark.reading, &code, &mark.reason, mark.after_reading, mark.at)).then_some(mark)
}

fn mark_checksum(id: i64, reading: i64, what: &str, reason: &str, after_reading: i64, at: Stamp) -> i64 {
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

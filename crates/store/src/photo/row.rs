//! Rows of the tables `photo` and `photo_mark`: written with their checksums, verified when they are read.

use super::{PhotoMark, PhotoRecord, Photos, PictureName};
use crate::car::uuid_at;
use crate::checksum::Checksum;
use crate::{Result, Stamp};
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde_json::{Map, Value};
use trueground_core::capture::PhotoSide;
use trueground_core::picture::PictureFormat;
use uuid::Uuid;

/// A photo to be kept; its picture is written already.
#[derive(Clone, Debug)]
pub(crate) struct NewPhoto {
    pub(crate) id: Uuid,
    pub(crate) side: PhotoSide,
    pub(crate) name: PictureName,
    pub(crate) width_px: u32,
    pub(crate) height_px: u32,
    pub(crate) size_bytes: u32,
    pub(crate) extra: Map<String, Value>,
}

/// The id of a photo, made from what it is, so that a file read in twice adds it once; `same` counts those that are alike.
pub(crate) fn made_id(snapshot: Uuid, side: PhotoSide, name: &PictureName, same: usize) -> Uuid {
    Uuid::new_v5(&snapshot, format!("photo\n{}\n{}\n{same}", side.code(), name.hex()).as_bytes())
}

/// Writes a photo's row; `at` is absent for one that came from a file.
pub(crate) fn insert(connection: &Connection, snapshot: i64, new: &NewPhoto, at: Option<Stamp>) -> Result<()> {
    let id: i64 =
        connection.prepare_cached("SELECT 1 + ifnull(max(id), 0) FROM photo")?.query_row([], |row| row.get(0))?;
    let written = if new.extra.is_empty() { String::new() } else { Value::Object(new.extra.clone()).to_string() };
    connection
        .prepare_cached(
            "INSERT INTO photo (id, uuid, snapshot, side, sha256, media_type, width_px, height_px, size_bytes, as_written,
                                utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)",
        )?
        .execute(params![
            id,
            new.id.as_bytes(),
            snapshot,
            new.side.code(),
            new.name.sha256,
            new.name.format.media_type(),
            new.width_px,
            new.height_px,
            new.size_bytes,
            written,
            at.map(|at| at.utc_ms),
            at.map(|at| at.offset_minutes),
            checksum(id, snapshot, new, &written, at),
        ])?;
    Ok(())
}

pub(super) fn insert_mark(connection: &Connection, photo: i64, off: bool, at: Stamp) -> Result<()> {
    let id: i64 = connection.query_row("SELECT 1 + ifnull(max(id), 0) FROM photo_mark", [], |row| row.get(0))?;
    let what = code(off);
    connection.execute(
        "INSERT INTO photo_mark (id, photo, what, utc_ms, offset_minutes, checksum) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        params![id, photo, what, at.utc_ms, at.offset_minutes, mark_checksum(id, photo, what, at)],
    )?;
    Ok(())
}

/// The photos of a snapshot's row, in the order they were added.
pub(crate) fn of(connection: &Connection, snapshot: i64) -> Result<Photos> {
    let mut photos = Photos::default();
    // What is brought over from a damaged garage may be of a layout that had none.
    if !connection.table_exists(None, "photo")? {
        return Ok(photos);
    }
    let mut statement = connection.prepare_cached(
        "SELECT id, uuid, side, sha256, media_type, width_px, height_px, size_bytes, as_written, utc_ms, offset_minutes,
                checksum FROM photo WHERE snapshot = ?1 ORDER BY id",
    )?;
    let mut rows = statement.query([snapshot])?;
    while let Some(row) = rows.next()? {
        match read(row, snapshot) {
            Some(photo) => photos.all.push(photo),
            None => photos.damaged.push("a photo".to_owned()),
        }
    }
    let mut statement = connection.prepare_cached(
        "SELECT photo_mark.id, photo, what, photo_mark.utc_ms, photo_mark.offset_minutes, photo_mark.checksum
         FROM photo_mark JOIN photo ON photo.id = photo WHERE photo.snapshot = ?1 ORDER BY photo_mark.id",
    )?;
    let mut rows = statement.query([snapshot])?;
    while let Some(row) = rows.next()? {
        let Some((photo, mark)) = read_mark(row) else {
            photos.damaged.push("a note that a photo was taken off or put back".to_owned());
            continue;
        };
        if let Some(photo) = photos.all.iter_mut().find(|known| known.row == photo) {
            photo.marked = Some(mark);
        }
    }
    Ok(photos)
}

/// The snapshot that a photo belongs to.
pub(super) fn snapshot_of(connection: &Connection, photo: Uuid) -> Result<Option<Uuid>> {
    let mut statement = connection.prepare_cached(
        "SELECT snapshot.uuid FROM photo JOIN snapshot ON snapshot.id = photo.snapshot WHERE photo.uuid = ?1",
    )?;
    Ok(statement.query_row([photo.as_bytes()], |row| uuid_at(row, 0)).optional()?)
}

/// Every picture that some photo shows, each once. Damaged rows are found where their snapshot is read.
pub(crate) fn all(connection: &Connection) -> Result<Vec<PictureName>> {
    let mut statement =
        connection.prepare("SELECT sha256, media_type FROM photo GROUP BY sha256, media_type ORDER BY min(id)")?;
    let rows = statement.query_map([], |row| Ok((row.get::<_, [u8; 32]>(0), row.get::<_, String>(1))))?;
    let mut names = Vec::new();
    for row in rows {
        if let (Ok(sha256), Ok(media_type)) = row?
            && let Some(format) = PictureFormat::from_media_type(&media_type)
        {
            names.push(PictureName { sha256, format });
        }
    }
    Ok(names)
}

/// Number and size of a car's photos, replaced and taken-off ones too.
pub(super) fn total(connection: &Connection, car: Uuid) -> Result<(i64, i64)> {
    let mut statement = connection.prepare_cached(
        "SELECT count(*), ifnull(sum(size_bytes), 0) FROM photo JOIN snapshot ON snapshot.id = photo.snapshot
         JOIN car ON car.id = snapshot.car WHERE car.uuid = ?1",
    )?;
    Ok(statement.query_row([car.as_bytes()], |row| Ok((row.get(0)?, row.get(1)?)))?)
}

fn read(row: &Row<'_>, snapshot: i64) -> Option<PhotoRecord> {
    let id: i64 = row.get(0).ok()?;
    let written: String = row.get(8).ok()?;
    let new = NewPhoto {
        id: uuid_at(row, 1).ok()?,
        side: PhotoSide::from_code(&row.get::<_, String>(2).ok()?)?,
        name: PictureName {
            sha256: row.get(3).ok()?,
            format: PictureFormat::from_media_type(&row.get::<_, String>(4).ok()?)?,
        },
        width_px: row.get(5).ok()?,
        height_px: row.get(6).ok()?,
        size_bytes: row.get(7).ok()?,
        extra: if written.is_empty() { Map::new() } else { serde_json::from_str(&written).ok()? },
    };
    let at = match (row.get::<_, Option<i64>>(9).ok()?, row.get::<_, Option<i32>>(10).ok()?) {
        (Some(utc_ms), Some(offset_minutes)) => Some(Stamp { utc_ms, offset_minutes }),
        _ => None,
    };
    let check: i64 = row.get(11).ok()?;
    (check == checksum(id, snapshot, &new, &written, at)).then_some(PhotoRecord {
        id: new.id,
        row: id,
        side: new.side,
        name: new.name,
        width_px: new.width_px,
        height_px: new.height_px,
        size_bytes: new.size_bytes,
        at,
        extra: new.extra,
        marked: None,
    })
}

/// Row of the photo, and the mark.
fn read_mark(row: &Row<'_>) -> Option<(i64, PhotoMark)> {
    let (id, photo): (i64, i64) = (row.get(0).ok()?, row.get(1).ok()?);
    let what: String = row.get(2).ok()?;
    let at = Stamp { utc_ms: row.get(3).ok()?, offset_minutes: row.get(4).ok()? };
    let check: i64 = row.get(5).ok()?;
    (check == mark_checksum(id, photo, &what, at)).then_some((photo, PhotoMark { off: what == code(true), at }))
}

const fn code(off: bool) -> &'static str {
    if off { "taken_off" } else { "put_back" }
}

fn checksum(id: i64, snapshot: i64, new: &NewPhoto, written: &str, at: Option<Stamp>) -> i64 {
    Checksum::new("photo")
        .integer(id)
        .bytes(new.id.as_bytes())
        .integer(snapshot)
        .text(new.side.code())
        .bytes(&new.name.sha256)
        .text(new.name.format.media_type())
        .integer(i64::from(new.width_px))
        .integer(i64::from(new.height_px))
        .integer(i64::from(new.size_bytes))
        .text(written)
        .optional(at.map(|at| at.utc_ms))
        .optional(at.map(|at| i64::from(at.offset_minutes)))
        .finish()
}

fn mark_checksum(id: i64, photo: i64, what: &str, at: Stamp) -> i64 {
    Checksum::new("photo_mark")
        .integer(id)
        .integer(photo)
        .text(what)
        .integer(at.utc_ms)
        .integer(i64::from(at.offset_minutes))
        .finish()
}

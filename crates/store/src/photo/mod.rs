//! Photos: the tables `photo` and `photo_mark`, and the files beside the database that hold the pictures.
//!
//! A photo counts as added when [`Store::add_photo`] has returned: by then its file has been written under another name,
//! flushed, renamed, its folder flushed, and only after that its row committed. A file without a row is harmless and stays.

mod carried;
mod files;
mod row;

pub(crate) use carried::{encode, merge, take_pictures, to_file};
pub(crate) use files::PhotoFiles;
pub(crate) use row::{NewPhoto, all, insert, made_id, of};

use crate::{Result, Stamp, Store, StoreError};
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use trueground_core::capture::PhotoSide;
use trueground_core::picture::{self, PictureFormat};
use uuid::Uuid;

/// Which picture: its content's hash, and how it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct PictureName {
    pub(crate) sha256: [u8; 32],
    pub(crate) format: PictureFormat,
}

impl PictureName {
    pub(crate) fn of(bytes: &[u8], format: PictureFormat) -> Self {
        Self { sha256: Sha256::digest(bytes).into(), format }
    }

    /// 64 small hexadecimal digits.
    pub(crate) fn hex(&self) -> String {
        self.sha256.iter().fold(String::with_capacity(64), |mut hex, byte| {
            // Writing into a text cannot fail.
            let _written = write!(hex, "{byte:02x}");
            hex
        })
    }

    /// The hash of 64 digits, and the format of a media type.
    pub(crate) fn parse(sha256: &str, media_type: &str) -> Option<Self> {
        let digits = (sha256.len() == 64).then(|| sha256.as_bytes().chunks_exact(2))?;
        let bytes: Vec<u8> =
            digits.map(|pair| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()).collect::<Option<_>>()?;
        Some(Self { sha256: bytes.try_into().ok()?, format: PictureFormat::from_media_type(media_type)? })
    }

    /// Name of its file.
    pub(crate) fn file_name(&self) -> String {
        format!("{}.{}", self.hex(), self.format.ending())
    }

    fn fits(&self, bytes: &[u8]) -> bool {
        Self::of(bytes, self.format) == *self
    }
}

/// A photo of a snapshot.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoRecord {
    /// Id.
    pub id: Uuid,
    pub(crate) row: i64,
    /// Which side of the car.
    pub side: PhotoSide,
    pub(crate) name: PictureName,
    /// Width as shown, px.
    pub width_px: u32,
    /// Height as shown, px.
    pub height_px: u32,
    /// Size of its file.
    pub size_bytes: u32,
    /// When it was added; absent for one that came from a file.
    pub at: Option<Stamp>,
    pub(crate) extra: Map<String, Value>,
    pub(crate) marked: Option<PhotoMark>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PhotoMark {
    pub(crate) off: bool,
    pub(crate) at: Stamp,
}

impl PhotoRecord {
    /// True where the person took it off.
    pub fn is_off(&self) -> bool {
        self.marked.map_or_else(|| self.extra.get("taken_off").is_some_and(|off| !off.is_null()), |mark| mark.off)
    }

    /// When it was added, `YYYY-MM-DDTHH:MM:SS+HH:MM`, as far as that is known.
    pub fn added_at(&self) -> Option<String> {
        self.at.map(Stamp::iso).or_else(|| self.extra.get("added_at")?.as_str().map(str::to_owned))
    }

    /// `image/jpeg`
    pub const fn media_type(&self) -> &'static str {
        self.name.format.media_type()
    }
}

/// The photos of one snapshot, in the order they were added.
#[derive(Clone, Debug, Default)]
pub struct Photos {
    /// All of them, replaced and taken-off ones too.
    pub all: Vec<PhotoRecord>,
    /// Those that were set aside because their rows are damaged, in words.
    pub damaged: Vec<String>,
}

impl Photos {
    /// The newest photo of a side, taken off or not.
    pub fn newest(&self, side: PhotoSide) -> Option<&PhotoRecord> {
        self.all.iter().rfind(|photo| photo.side == side)
    }

    /// The photo of a side that counts.
    pub fn shown(&self, side: PhotoSide) -> Option<&PhotoRecord> {
        self.newest(side).filter(|photo| !photo.is_off())
    }
}

impl Store {
    /// Adds a photo of one side to a snapshot, finished or not; an earlier one of that side stays in the book. Place, camera and
    /// comments are taken out of the picture first. The picture that is shown already is not added again.
    ///
    /// # Errors
    /// No such snapshot, not a picture that is kept (see [`trueground_core::picture`]), or it cannot be written; then none was added.
    pub fn add_photo(&mut self, snapshot: Uuid, side: PhotoSide, bytes: &[u8], at: Stamp) -> Result<Uuid> {
        let plain = picture::without_metadata(bytes).and_then(|plain| Ok((picture::recognise(&plain)?, plain)));
        let (seen, plain) = plain.map_err(|error| StoreError::NoPicture { error })?;
        let Some(row) = crate::snapshot::row_of(&self.connection, snapshot)? else {
            return Err(StoreError::NotFound { what: "snapshot", id: snapshot.to_string() });
        };
        let name = PictureName::of(&plain, seen.format);
        self.photos.write(&name, &plain)?;
        let there = of(&self.connection, row)?;
        if let Some(shown) = there.shown(side).filter(|shown| shown.name == name) {
            return Ok(shown.id);
        }
        let same = there.all.iter().filter(|photo| photo.side == side && photo.name == name).count();
        let new = NewPhoto {
            id: made_id(snapshot, side, &name, same),
            side,
            name,
            width_px: seen.width_px,
            height_px: seen.height_px,
            size_bytes: u32::try_from(plain.len()).unwrap_or(u32::MAX),
            extra: Map::new(),
        };
        let transaction = self.write()?;
        insert(&transaction, row, &new, Some(at))?;
        transaction.commit()?;
        Ok(new.id)
    }

    /// Takes a photo off its side, or puts it back; it stays in the book either way. Twice changes nothing.
    ///
    /// # Errors
    /// No such photo, or it cannot be written.
    pub fn mark_photo(&mut self, photo: Uuid, off: bool, at: Stamp) -> Result<()> {
        let (_, record) = self.photo(photo)?;
        if record.is_off() != off {
            let transaction = self.write()?;
            row::insert_mark(&transaction, record.row, off, at)?;
            transaction.commit()?;
        }
        Ok(())
    }

    /// The photos of a snapshot.
    ///
    /// # Errors
    /// No such snapshot.
    pub fn photos(&self, snapshot: Uuid) -> Result<Photos> {
        match crate::snapshot::row_of(&self.connection, snapshot)? {
            Some(row) => of(&self.connection, row),
            None => Err(StoreError::NotFound { what: "snapshot", id: snapshot.to_string() }),
        }
    }

    /// One photo and the snapshot it belongs to.
    ///
    /// # Errors
    /// Not there, or its row is damaged.
    pub fn photo(&self, id: Uuid) -> Result<(Uuid, PhotoRecord)> {
        let gone = || StoreError::NotFound { what: "photo", id: id.to_string() };
        let snapshot = row::snapshot_of(&self.connection, id)?.ok_or_else(gone)?;
        let found = self.photos(snapshot)?.all.into_iter().find(|photo| photo.id == id);
        let damaged = || StoreError::Damaged { what: format!("the row of photo {id} does not match its checksum") };
        Ok((snapshot, found.ok_or_else(damaged)?))
    }

    /// The picture, as it was when it was added. Where its file is missing or damaged and a backup has it, it is put back first.
    ///
    /// # Errors
    /// Missing or damaged, and there is no sound copy.
    pub fn picture(&self, photo: &PhotoRecord) -> Result<Vec<u8>> {
        self.photos.read(&photo.name)
    }

    /// How many pictures an exported file of this car carries, and their size before they are written as text, bytes.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn pictures_of(&self, car: Uuid) -> Result<(i64, i64)> {
        row::total(&self.connection, car)
    }
}

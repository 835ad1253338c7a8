//! Looking after the file: its check, and copies that take turns. Never before the first picture is on the screen.

use crate::photo::PictureName;
use crate::{Result, Store, StoreError};
use std::path::Path;
use uuid::Uuid;

/// What looking after the garage found, and what is still to be looked at.
#[derive(Clone, Debug, Default)]
pub struct Tending {
    /// What is damaged, whole sentences; empty where nothing is.
    pub damaged: Vec<String>,
    /// True where a copy was written.
    pub backed_up: bool,
    /// The database itself is damaged, and not a photo beside it only.
    unsound: bool,
    to_do: Option<Vec<Piece>>,
}

#[derive(Clone, Debug)]
enum Piece {
    Layout,
    Table(String),
    Owners,
    Finished,
    Drafts,
    Car(Uuid),
    Photo(PictureName),
    Copy,
}

impl Store {
    /// Checks the whole file and, where it is sound, writes a copy that takes the place of the oldest.
    ///
    /// # Errors
    /// If the database cannot be read at all, or the copy cannot be written.
    pub fn tend(&mut self) -> Result<Tending> {
        let mut tending = Tending::default();
        while self.tend_a_little(&mut tending)? {}
        Ok(tending)
    }

    /// The next piece of [`Store::tend`], so that a reading can be taken between two; false once all is done.
    ///
    /// # Errors
    /// As [`Store::tend`]; what was found so far stays in `tending`.
    pub fn tend_a_little(&mut self, tending: &mut Tending) -> Result<bool> {
        let to_do = match &mut tending.to_do {
            Some(to_do) => to_do,
            None => {
                let mut pieces = self.pieces()?;
                pieces.push(Piece::Copy);
                pieces.reverse();
                tending.to_do.insert(pieces)
            }
        };
        match to_do.pop() {
            // A copy of a damaged file would push out a sound one.
            Some(Piece::Copy) => tending.backed_up = !tending.unsound && self.back_up()?,
            Some(Piece::Photo(name)) => tending.damaged.extend(lost(self.photos.back_up(&name))?),
            Some(piece) => {
                let found = self.check_piece(&piece)?;
                tending.unsound |= !found.is_empty();
                tending.damaged.extend(found);
            }
            None => {}
        }
        Ok(!to_do.is_empty())
    }

    /// Everything that is damaged, in words: the database's own check, and the checksum of every row.
    ///
    /// # Errors
    /// If the database cannot be read at all.
    pub fn check(&self) -> Result<Vec<String>> {
        let mut found = Vec::new();
        for piece in self.pieces()? {
            found.extend(self.check_piece(&piece)?);
        }
        Ok(found)
    }

    fn pieces(&self) -> Result<Vec<Piece>> {
        let mut statement = self.connection.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")?;
        let tables: Vec<String> = statement.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
        let cars = self.cars()?.into_iter().map(|head| Piece::Car(head.id));
        let layout = std::iter::once(Piece::Layout).chain(tables.into_iter().map(Piece::Table));
        let photos = crate::photo::all(&self.connection)?.into_iter().map(Piece::Photo);
        Ok(layout.chain([Piece::Owners, Piece::Finished, Piece::Drafts]).chain(cars).chain(photos).collect())
    }

    fn check_piece(&self, piece: &Piece) -> Result<Vec<String>> {
        match piece {
            Piece::Layout if crate::migration::layout_is_sound(&self.connection)? => Ok(Vec::new()),
            Piece::Layout => Ok(vec!["The garage file is damaged: its tables are not as they were made.".to_owned()]),
            Piece::Table(table) => self.said(&format!("PRAGMA integrity_check('{table}')"), |line| {
                (line != "ok").then(|| format!("The garage file is damaged: {line}."))
            }),
            Piece::Owners => self.said("PRAGMA foreign_key_check", |table| {
                Some(format!("The garage file is damaged: a row of the table {table} has lost its owner."))
            }),
            Piece::Finished => crate::snapshot::check_finished(&self.connection),
            Piece::Drafts => {
                let mut damaged = crate::draft::check(&self.connection)?;
                damaged.extend(crate::form_draft::check(&self.connection)?);
                Ok(damaged)
            }
            Piece::Car(car) => Ok(match self.car_file(*car) {
                Ok(loaded) => {
                    let label = loaded.document["vehicle"]["label"].as_str().unwrap_or("a car").to_owned();
                    loaded.damaged.iter().map(|what| format!("{label}: {what} is damaged and was set aside.")).collect()
                }
                Err(error) => vec![error.to_string()],
            }),
            Piece::Photo(name) => lost(self.photos.read(name)),
            Piece::Copy => Ok(Vec::new()),
        }
    }

    /// The first column of what a check answers, in words.
    fn said(&self, check: &str, words: impl Fn(&str) -> Option<String>) -> Result<Vec<String>> {
        let mut statement = self.connection.prepare(check)?;
        let mut rows = statement.query([])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            found.extend(words(&row.get::<_, String>(0)?));
        }
        Ok(found)
    }

    fn back_up(&self) -> Result<bool> {
        match &self.path {
            Some(path) => self.copy_in_turn(path),
            None => Ok(false),
        }
    }

    pub(crate) fn back_up_before_migration(&self) -> Result<()> {
        let version = crate::migration::version(&self.connection)?;
        match &self.path {
            Some(path) if version > 0 => self.copy_before(path, version),
            _ => Ok(()),
        }
    }
}

/// A lost picture in words; it is no reason to stop.
fn lost<T>(picture: Result<T>) -> Result<Vec<String>> {
    match picture {
        Ok(_) => Ok(Vec::new()),
        Err(lost @ StoreError::PictureLost { .. }) => Ok(vec![lost.to_string()]),
        Err(error) => Err(error),
    }
}

/// Copies are files, where there are files.
#[cfg(not(target_arch = "wasm32"))]
impl Store {
    fn copy_in_turn(&self, path: &Path) -> Result<bool> {
        let copy = crate::disk::new_backup(path)?;
        self.copy_to(&copy)?;
        crate::disk::rotate_backups(path, &copy)?;
        Ok(true)
    }

    fn copy_before(&self, path: &Path, version: i64) -> Result<()> {
        let copy = crate::disk::new_backup(path)?;
        self.copy_to(&copy)?;
        crate::disk::keep_before_migration(path, &copy, version)
    }

    fn copy_to(&self, copy: &Path) -> Result<()> {
        let mut target = rusqlite::Connection::open(copy)?;
        let backup = rusqlite::backup::Backup::new(&self.connection, &mut target)?;
        // Positive: -1 would panic. No pause: this process alone writes.
        backup.run_to_completion(1000, std::time::Duration::ZERO, None)?;
        drop(backup);
        // One file, without a log beside it.
        target.pragma_update(None, "journal_mode", "DELETE")?;
        Ok(())
    }
}

/// In a browser the file is the browser's; an exported car is the copy.
#[cfg(target_arch = "wasm32")]
impl Store {
    fn copy_in_turn(&self, _path: &Path) -> Result<bool> {
        Ok(false)
    }

    fn copy_before(&self, _path: &Path, _version: i64) -> Result<()> {
        Ok(())
    }
}

//! Looking after the file: its check, and copies that take turns. Never before the first picture is on the screen.

use crate::{Result, Store};
use std::path::Path;

/// What looking after the garage found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tended {
    /// What is damaged, whole sentences; empty where nothing is.
    pub damaged: Vec<String>,
    /// True where a copy was written.
    pub backed_up: bool,
}

impl Store {
    /// Checks the whole file and, where it is sound, writes a copy that takes the place of the oldest.
    ///
    /// # Errors
    /// If the database cannot be read at all, or the copy cannot be written.
    pub fn tend(&mut self) -> Result<Tended> {
        let damaged = self.check()?;
        // A copy of a damaged file would push out a sound one.
        let backed_up = damaged.is_empty() && self.back_up()?;
        Ok(Tended { damaged, backed_up })
    }

    /// Everything that is damaged, in words: the database's own check, and the checksum of every row.
    ///
    /// # Errors
    /// If the database cannot be read at all.
    pub fn check(&self) -> Result<Vec<String>> {
        let mut found = Vec::new();
        let mut statement = self.connection.prepare("PRAGMA integrity_check(20)")?;
        for line in statement.query_map([], |row| row.get::<_, String>(0))? {
            let line = line?;
            if line != "ok" {
                found.push(format!("The garage file is damaged: {line}."));
            }
        }
        if !crate::migration::layout_is_sound(&self.connection)? {
            found.push("The garage file is damaged: its tables are not as they were made.".to_owned());
        }
        let mut statement = self.connection.prepare("PRAGMA foreign_key_check")?;
        for table in statement.query_map([], |row| row.get::<_, String>(0))? {
            found.push(format!("The garage file is damaged: a row of the table {} has lost its owner.", table?));
        }
        found.extend(crate::snapshot::check_finished(&self.connection)?);
        let cars: Vec<_> = self.cars()?.into_iter().map(|head| head.id).collect();
        for car in cars {
            match self.car_file(car) {
                Ok(loaded) => {
                    let label = loaded.document["vehicle"]["label"].as_str().unwrap_or("a car").to_owned();
                    found.extend(
                        loaded.damaged.iter().map(|what| format!("{label}: {what} is damaged and was set aside.")),
                    );
                }
                Err(error) => found.push(error.to_string()),
            }
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
        self.copy_to(&crate::disk::before_migration(path, version)?)
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

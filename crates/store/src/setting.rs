//! The table `setting`: how the app is set, by name.

use crate::{Result, Store};
use rusqlite::OptionalExtension;

impl Store {
    /// A setting, if it was ever set.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn setting(&self, name: &str) -> Result<Option<String>> {
        Ok(self
            .connection
            .prepare_cached("SELECT value FROM setting WHERE name = ?1")?
            .query_row([name], |row| row.get(0))
            .optional()?)
    }

    /// Sets it.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn set(&mut self, name: &str, value: &str) -> Result<()> {
        self.connection.execute(
            "INSERT INTO setting (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = ?2",
            [name, value],
        )?;
        Ok(())
    }
}

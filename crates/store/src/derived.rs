//! The table `derived`: what was worked out about a car, with the engine and the version of the car it was worked out from.

use crate::{Result, Store};
use rusqlite::params;
use uuid::Uuid;

/// A kept result; it can always be worked out again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Derived {
    /// Version of the engine that worked it out.
    pub engine: String,
    /// Version of the car it was worked out from.
    pub version: i64,
    /// In the app's own words.
    pub row: String,
}

impl Store {
    /// Keeps a result.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn keep_derived(&mut self, car: Uuid, derived: &Derived) -> Result<()> {
        self.connection.execute(
            "INSERT INTO derived (car, engine, version, row) SELECT id, ?2, ?3, ?4 FROM car WHERE uuid = ?1
             ON CONFLICT (car) DO UPDATE SET engine = ?2, version = ?3, row = ?4",
            params![car.as_bytes(), derived.engine, derived.version, derived.row],
        )?;
        Ok(())
    }
}

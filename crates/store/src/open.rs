//! Opening a garage: one process at a time, every commit flushed to the disk.

use crate::{Result, StoreError, migration};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// An open garage.
#[derive(Debug)]
pub struct Store {
    pub(crate) connection: Connection,
    pub(crate) path: Option<PathBuf>,
}

/// A garage that was opened, and what the person should know about it.
#[derive(Debug)]
pub struct Opened {
    /// The garage.
    pub store: Store,
    /// Whole sentences: an older copy opened, a damaged file set aside.
    pub notices: Vec<String>,
}

impl Store {
    /// A garage that is gone when it is closed, for tests and demonstrations.
    ///
    /// # Errors
    /// Only if the database cannot be had at all.
    pub fn in_memory() -> Result<Self> {
        let mut connection = Connection::open_in_memory()?;
        connection.pragma_update(None, "foreign_keys", true)?;
        migration::migrate(&mut connection)?;
        Ok(Self { connection, path: None })
    }

    /// Opens or makes the garage in this file.
    ///
    /// # Errors
    /// Open elsewhere, damaged, newer than this program, not a garage, or refused by the disk. The file is not changed then.
    pub fn open(path: &Path) -> Result<Self> {
        let what = path.display().to_string();
        let connection = Connection::open(path).map_err(|error| match error.sqlite_error_code() {
            Some(rusqlite::ErrorCode::CannotOpen) => StoreError::Disk { what: format!("{what} cannot be opened.") },
            _ => error.into(),
        })?;
        connection.busy_timeout(Duration::from_millis(300))?;
        // The lock is the operating system's, so it ends with the process, however that ends.
        connection.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
        let missing = migration::needs_migration(&connection, &what)?;
        let _mode: String = connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
        connection.pragma_update(None, "synchronous", "FULL")?;
        connection.pragma_update(None, "foreign_keys", true)?;
        // Takes the lock now: a second window is told at the door, not at its first reading.
        connection.execute_batch("BEGIN IMMEDIATE; COMMIT")?;
        let mut store = Self { connection, path: Some(path.to_owned()) };
        if missing {
            store.back_up_before_migration()?;
            migration::migrate(&mut store.connection)?;
        }
        Ok(store)
    }

    /// A transaction that will write.
    pub(crate) fn write(&mut self) -> Result<Transaction<'_>> {
        Ok(self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?)
    }
}

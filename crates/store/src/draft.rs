//! The table `draft`: half-typed text of a snapshot and the step it is for.

use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use uuid::Uuid;

/// Where the walk is, and what was half typed there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The step, in the app's own words.
    pub step: String,
    /// As typed so far.
    pub text: String,
    /// When.
    pub at: Stamp,
}

impl Store {
    /// Keeps half-typed text. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such snapshot, finished, or it cannot be written.
    pub fn keep_draft(&mut self, snapshot: Uuid, step: &str, text: &str, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let (row, finished) = transaction
            .prepare_cached("SELECT id, id IN (SELECT snapshot FROM finish) FROM snapshot WHERE uuid = ?1")?
            .query_row([snapshot.as_bytes()], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, bool>(1)?)))
            .optional()?
            .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: snapshot.to_string() })?;
        if finished {
            return Err(StoreError::Finished { what: "This snapshot".to_owned() });
        }
        keep(&transaction, row, step, text, at)?;
        Ok(transaction.commit()?)
    }
}

pub(crate) fn keep(connection: &Connection, snapshot: i64, step: &str, text: &str, at: Stamp) -> Result<()> {
    connection
        .prepare_cached(
            "INSERT INTO draft (snapshot, step, text, utc_ms, offset_minutes) VALUES (?1, ?2, ?3, ?4, ?5)
             ON CONFLICT (snapshot) DO UPDATE SET step = ?2, text = ?3, utc_ms = ?4, offset_minutes = ?5",
        )?
        .execute(params![snapshot, step, text, at.utc_ms, at.offset_minutes])?;
    Ok(())
}

pub(crate) fn of(connection: &Connection, snapshot: i64) -> Result<Option<Draft>> {
    Ok(connection
        .prepare_cached("SELECT step, text, utc_ms, offset_minutes FROM draft WHERE snapshot = ?1")?
        .query_row([snapshot], |row| {
            Ok(Draft {
                step: row.get(0).unwrap_or_default(),
                text: row.get(1).unwrap_or_default(),
                at: Stamp { utc_ms: row.get(2)?, offset_minutes: row.get(3)? },
            })
        })
        .optional()?)
}

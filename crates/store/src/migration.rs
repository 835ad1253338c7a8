//! The database's layout, as the list of steps that lead to it. **This list is never edited, only added to.**

use crate::{Result, StoreError};
use rusqlite::Connection;

/// `TGnd`: marks a file as a garage.
pub(crate) const APPLICATION_ID: i64 = 0x5447_6e64;

const MIGRATIONS: [&str; 1] = [include_str!("migration/001_book.sql")];

/// Number of the newest layout.
pub const fn latest_version() -> i64 {
    MIGRATIONS.len() as i64
}

/// A fingerprint of the list, for the test that guards it.
pub fn migrations_hash() -> String {
    let mut hasher = crc32fast::Hasher::new();
    for step in MIGRATIONS {
        hasher.update(&(step.len() as u64).to_le_bytes());
        hasher.update(step.as_bytes());
    }
    format!("{}-{:08x}", MIGRATIONS.len(), hasher.finalize())
}

/// Version of the open file; 0 is an empty one.
pub(crate) fn version(connection: &Connection) -> Result<i64> {
    Ok(connection.query_row("PRAGMA user_version", [], |row| row.get(0))?)
}

/// Refuses a file that is not ours or is newer; says whether steps are missing.
pub(crate) fn needs_migration(connection: &Connection, what: &str) -> Result<bool> {
    let found = version(connection)?;
    let application: i64 = connection.query_row("PRAGMA application_id", [], |row| row.get(0))?;
    let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application != APPLICATION_ID && (application != 0 || found != 0 || tables != 0) {
        return Err(StoreError::NotAGarage { what: what.to_owned() });
    }
    if found > latest_version() {
        return Err(StoreError::Newer { found, known: latest_version() });
    }
    Ok(found < latest_version())
}

/// Takes the missing steps, each in one transaction.
pub(crate) fn migrate(connection: &mut Connection) -> Result<()> {
    let from = version(connection)?;
    for (step, number) in MIGRATIONS.iter().zip(1_i64..).filter(|(_, number)| *number > from) {
        let transaction = connection.transaction()?;
        transaction.execute_batch(step)?;
        transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
        transaction.pragma_update(None, "user_version", number)?;
        transaction.commit()?;
    }
    Ok(())
}

/// Whether tables, indexes and triggers are as the list makes them.
pub(crate) fn layout_is_sound(connection: &Connection) -> Result<bool> {
    let mut fresh = Connection::open_in_memory()?;
    migrate(&mut fresh)?;
    Ok(layout(connection)? == layout(&fresh)?)
}

fn layout(connection: &Connection) -> Result<Vec<(String, String, Option<String>)>> {
    let mut statement = connection.prepare("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whoever has to change this number has edited a step that people's garages were made with: add one instead.
    #[test]
    fn no_step_was_edited() {
        assert_eq!(migrations_hash(), "1-a9762046");
    }

    #[test]
    fn a_step_is_taken_whole_or_not_at_all() {
        let mut connection = Connection::open_in_memory().unwrap();
        connection.execute_batch("CREATE TABLE mark (id INTEGER)").unwrap();
        assert!(migrate(&mut connection).is_err(), "the table mark is in the way");
        assert_eq!(version(&connection).unwrap(), 0);
        let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0)).unwrap();
        assert_eq!(tables, 1, "nothing of the step that broke off may stay");
    }
}

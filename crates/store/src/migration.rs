//! The database's layout, as the list of steps that lead to it. **This list is never edited, only added to.**

use crate::{Result, StoreError, car_event, draft};
use rusqlite::Connection;

/// `TGnd`: marks a file as a garage.
pub(crate) const APPLICATION_ID: i64 = 0x5447_6e64;

/// One step: what the database does, and what only the program can do about rows that are there already.
#[derive(Clone)]
pub(crate) struct Step {
    sql: &'static str,
    then: fn(&Connection) -> Result<()>,
}

#[cfg(test)]
impl Step {
    /// One that does something and then fails.
    pub(crate) fn failing() -> Self {
        Self { sql: "CREATE TABLE more (id INTEGER) STRICT; INSERT INTO nowhere VALUES (1);", then: |_| Ok(()) }
    }
}

pub(crate) const MIGRATIONS: &[Step] = &[
    Step { sql: include_str!("migration/001_book.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/002_draft.sql"), then: draft::sign_all },
    Step { sql: include_str!("migration/003_correction.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/004_straightedge.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/005_photo.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/006_instrument.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/007_form.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/008_event.sql"), then: car_event::take_over },
    Step { sql: include_str!("migration/009_target.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/010_plan.sql"), then: |_| Ok(()) },
    Step { sql: include_str!("migration/011_ground.sql"), then: |_| Ok(()) },
];

/// Number of the newest layout.
pub const fn latest_version() -> i64 {
    MIGRATIONS.len() as i64
}

/// A fingerprint of the list, for the test that guards it.
pub fn migrations_hash() -> String {
    let mut hasher = crc32fast::Hasher::new();
    for Step { sql, .. } in MIGRATIONS {
        hasher.update(&(sql.len() as u64).to_le_bytes());
        hasher.update(sql.as_bytes());
    }
    format!("{}-{:08x}", MIGRATIONS.len(), hasher.finalize())
}

/// Version of the open file; 0 is an empty one.
pub(crate) fn version(connection: &Connection) -> Result<i64> {
    Ok(connection.query_row("PRAGMA user_version", [], |row| row.get(0))?)
}

/// Refuses a file that is not ours or is newer than these steps; says whether steps are missing.
pub(crate) fn needs_migration(connection: &Connection, steps: &[Step], what: &str) -> Result<bool> {
    let (found, known) = (version(connection)?, steps.len() as i64);
    let application: i64 = connection.query_row("PRAGMA application_id", [], |row| row.get(0))?;
    let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application != APPLICATION_ID && (application != 0 || found != 0 || tables != 0) {
        return Err(StoreError::NotAGarage { what: what.to_owned() });
    }
    if found > known {
        return Err(StoreError::Newer { found, known });
    }
    Ok(found < known)
}

/// Takes the missing steps, all of them in one transaction: a file is at the newest layout or as it was.
pub(crate) fn migrate(connection: &mut Connection, steps: &[Step]) -> Result<()> {
    let found = version(connection)?;
    let known = steps.len() as i64;
    take_steps(connection, steps, found).map_err(|error| match error {
        StoreError::Database(error) => StoreError::NotBrought { found, known, what: error.to_string() },
        other => other,
    })
}

fn take_steps(connection: &mut Connection, steps: &[Step], from: i64) -> Result<()> {
    let transaction = connection.transaction()?;
    for (step, _) in steps.iter().zip(1_i64..).filter(|(_, number)| *number > from) {
        transaction.execute_batch(step.sql)?;
        (step.then)(&transaction)?;
    }
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    transaction.pragma_update(None, "user_version", steps.len() as i64)?;
    Ok(transaction.commit()?)
}

/// Whether tables, indexes and triggers are as the steps up to the file's own version make them.
pub(crate) fn layout_is_sound(connection: &Connection) -> Result<bool> {
    let taken = usize::try_from(version(connection)?).unwrap_or_default().min(MIGRATIONS.len());
    let mut fresh = Connection::open_in_memory()?;
    migrate(&mut fresh, &MIGRATIONS[..taken])?;
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

    /// Whoever has to change this number for another reason than a new step has edited one that people's garages were made
    /// with: add one instead.
    #[test]
    fn no_step_was_edited() {
        assert_eq!(migrations_hash(), "11-002d2506");
    }

    #[test]
    fn the_steps_are_taken_whole_or_not_at_all() {
        let mut connection = Connection::open_in_memory().unwrap();
        connection.execute_batch("CREATE TABLE mark (id INTEGER)").unwrap();
        let error = migrate(&mut connection, MIGRATIONS).unwrap_err();
        assert_eq!(error.code(), "garage_not_brought", "the table mark is in the way: {error}");
        assert_eq!(version(&connection).unwrap(), 0);
        let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0)).unwrap();
        assert_eq!(tables, 1, "nothing of the step that broke off may stay");
    }
}

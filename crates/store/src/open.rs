//! Opening a garage: one process at a time, every commit flushed to the disk.

use crate::migration::{self, MIGRATIONS, Step};
use crate::photo::PhotoFiles;
use crate::{Result, StoreError};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// An open garage.
#[derive(Debug)]
pub struct Store {
    pub(crate) connection: Connection,
    pub(crate) path: Option<PathBuf>,
    pub(crate) photos: PhotoFiles,
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
        migration::migrate(&mut connection, MIGRATIONS)?;
        Ok(Self { connection, path: None, photos: PhotoFiles::in_memory() })
    }

    /// Opens or makes the garage in this file.
    ///
    /// # Errors
    /// Open elsewhere, damaged, newer than this program, not a garage, or refused by the disk. The file is not changed then.
    pub fn open(path: &Path) -> Result<Self> {
        Self::open_at(path, MIGRATIONS)
    }

    pub(crate) fn open_at(path: &Path, steps: &[Step]) -> Result<Self> {
        let what = path.display().to_string();
        let connection = Connection::open(path).map_err(|error| match error.sqlite_error_code() {
            Some(rusqlite::ErrorCode::CannotOpen) => StoreError::Disk { what: format!("{what} cannot be opened.") },
            _ => error.into(),
        })?;
        connection.busy_timeout(Duration::from_millis(300))?;
        // The lock is the operating system's, so it ends with the process, however that ends.
        connection.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
        let missing = migration::needs_migration(&connection, steps, &what)?;
        let _mode: String = connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
        connection.pragma_update(None, "synchronous", "FULL")?;
        connection.pragma_update(None, "foreign_keys", true)?;
        // Takes the lock now: a second window is told at the door, not at its first reading.
        connection.execute_batch("BEGIN IMMEDIATE; COMMIT")?;
        let mut store = Self { connection, path: Some(path.to_owned()), photos: PhotoFiles::beside(path) };
        if missing {
            // Damage is dealt with as damage, and not as steps that cannot be taken.
            if !migration::layout_is_sound(&store.connection)? {
                return Err(StoreError::Damaged { what: "its tables are not as they were made".to_owned() });
            }
            store.back_up_before_migration()?;
            migration::migrate(&mut store.connection, steps)?;
        }
        Ok(store)
    }

    /// A transaction that will write.
    pub(crate) fn write(&mut self) -> Result<Transaction<'_>> {
        Ok(self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Mark, NewReading, Parent, ReadingKind, Stamp, reading};
    use serde_json::json;
    use uuid::Uuid;

    const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };
    const SNAPSHOT: Uuid = Uuid::from_u128(2);

    /// A garage as layout 1 left it: one reading taken and taken back, the next half typed.
    fn of_layout_1(path: &Path) {
        let mut store = Store::open_at(path, &MIGRATIONS[..1]).unwrap();
        let car = json!({"vehicle": {"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0}});
        store.add_car(Uuid::from_u128(1), &car, AT).unwrap();
        let document = json!({"id": "one", "bounces": [{"bounce_id": "b1"}]});
        store.begin_snapshot(SNAPSHOT, Uuid::from_u128(1), &document, &json!({}), AT).unwrap();
        let taken = NewReading {
            id: Uuid::from_u128(3),
            kind: ReadingKind::Tape,
            bounce: "b1".to_owned(),
            pass_no: 0,
            place: "rail.FL".to_owned(),
            round: 1,
            reversed: false,
            text: "10 7/16".to_owned(),
            unit: "in".to_owned(),
            value: 265.1125,
            extra: serde_json::Map::new(),
            request: None,
        };
        reading::insert(&store.connection, Parent::Snapshot(1), [&taken], Some(AT)).unwrap();
        store.mark(taken.id, Mark::TakenBack, "", None, AT).unwrap();
        let draft = "INSERT INTO draft (snapshot, step, text, utc_ms, offset_minutes) VALUES (1, 'b1/1/rail.FR', '10 1/', 5, 0)";
        store.connection.execute(draft, []).unwrap();
    }

    fn before_version_2(path: &Path) -> PathBuf {
        path.with_file_name("backups").join("before-version-2.db")
    }

    #[test]
    fn an_older_garage_is_copied_and_then_brought_to_the_newest_layout() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garage.db");
        of_layout_1(&path);
        let store = Store::open(&path).unwrap();
        assert_eq!(migration::version(&store.connection).unwrap(), migration::latest_version());
        let kept = store.snapshot(SNAPSHOT).unwrap();
        assert_eq!((kept.readings[0].taken.text.as_str(), &kept.damaged), ("10 7/16", &Vec::new()));
        assert!(kept.readings[0].can_put_back(), "and that it was taken back");
        let draft = kept.draft.unwrap();
        assert_eq!((draft.step.as_str(), draft.text.as_str()), ("b1/1/rail.FR", "10 1/"), "what was half typed too");
        assert_eq!(store.check().unwrap(), Vec::<String>::new());

        let copy = Store::open_at(&before_version_2(&path), &MIGRATIONS[..1]).unwrap();
        assert_eq!(migration::version(&copy.connection).unwrap(), 1, "the copy is from before");
        drop(copy);
        let copy = Store::open(&before_version_2(&path)).unwrap();
        assert_eq!(
            copy.car_file(Uuid::from_u128(1)).unwrap().document,
            store.car_file(Uuid::from_u128(1)).unwrap().document
        );
    }

    #[test]
    fn where_a_step_fails_the_garage_is_as_it_was_and_the_copy_is_there() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garage.db");
        of_layout_1(&path);
        let before = std::fs::read(&path).unwrap();
        for sound in 1..=MIGRATIONS.len() {
            let steps = [&MIGRATIONS[..sound], &[Step::failing()]].concat();
            let error = Store::open_at(&path, &steps).unwrap_err();
            let says = format!("This garage is of version 1 and could not be brought to version {}: ", steps.len());
            assert!(error.to_string().starts_with(&says), "{error}");
            assert_eq!(error.code(), "garage_not_brought", "and not as damage, which would be set aside");
            assert!(error.hint().contains("backups"));
            assert!(std::fs::read(&path).unwrap() == before, "not one byte is changed");
            let copy = folder.path().join("copy.db");
            std::fs::copy(before_version_2(&path), &copy).unwrap();
            let copy = Store::open(&copy).unwrap();
            assert_eq!(copy.car_file(Uuid::from_u128(1)).unwrap().damaged, Vec::<String>::new());
        }
        assert_eq!(Store::open(&path).unwrap().snapshot(SNAPSHOT).unwrap().readings.len(), 1, "a sound step later on");
    }

    #[test]
    fn without_a_copy_no_step_is_taken() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garage.db");
        of_layout_1(&path);
        std::fs::write(path.with_file_name("backups"), "in the way").unwrap();
        let error = Store::open(&path).unwrap_err();
        assert!(error.to_string().contains("backups could not be made"), "{error}");
        let store = Store::open_at(&path, &MIGRATIONS[..1]).unwrap();
        assert_eq!(migration::version(&store.connection).unwrap(), 1);
    }
}

//! Starting the child that enters readings, and what a garage holds afterwards.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;
use trueground_store::Store;
use uuid::Uuid;

pub(crate) const SNAPSHOT: Uuid = Uuid::from_u128(2);

/// A folder beside the build, so that it lies on a disk and not in memory.
pub(crate) fn folder() -> TempDir {
    tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap()
}

pub(crate) fn garage(folder: &TempDir) -> PathBuf {
    folder.path().join("garage.db")
}

pub(crate) fn program() -> &'static str {
    env!("CARGO_BIN_EXE_enter-readings")
}

pub(crate) fn enter(garage: &Path, what: &str) -> Command {
    let mut command = Command::new(program());
    command.arg(garage).arg(what).stdin(Stdio::piped()).stdout(Stdio::piped());
    command
}

/// `ack` lines as number and text.
pub(crate) fn acknowledged(lines: &str) -> BTreeMap<u32, String> {
    lines.lines().filter_map(|line| numbered(line, "ack ")).collect()
}

/// Number and text of a line that begins so and came whole.
pub(crate) fn numbered(line: &str, begin: &str) -> Option<(u32, String)> {
    let (number, text) = line.strip_prefix(begin)?.split_once(' ')?;
    Some((number.parse().ok()?, text.to_owned()))
}

/// What is kept, by number; every row as it was entered, and the whole file sound.
pub(crate) fn kept(store: &Store) -> BTreeMap<u32, String> {
    assert_eq!(store.check().unwrap(), Vec::<String>::new());
    let Ok(snapshot) = store.snapshot(SNAPSHOT) else { return BTreeMap::new() };
    assert_eq!(snapshot.damaged, Vec::<String>::new());
    snapshot
        .readings
        .iter()
        .map(|reading| {
            let taken = &reading.taken;
            assert_eq!(
                (taken.text.clone(), taken.value),
                (format!("{}.5", 300 + taken.round), 300.5 + f64::from(taken.round))
            );
            (taken.round, taken.text.clone())
        })
        .collect()
}

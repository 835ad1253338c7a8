//! The one place that touches files beside the database: copies that take turns, and damaged files set aside.

use crate::{Result, Stamp, StoreError};
use std::fs;
use std::path::{Path, PathBuf};

/// How many copies take turns.
const COPIES: usize = 5;

/// Where a new copy is written; it takes its place only when it is complete.
pub(crate) fn new_backup(garage: &Path) -> Result<PathBuf> {
    let copy = folder(garage)?.join("being-written.db");
    remove(&copy)?;
    Ok(copy)
}

/// Gives the complete copy from before a migration the name under which it stays.
pub(crate) fn keep_before_migration(garage: &Path, copy: &Path, version: i64) -> Result<()> {
    sync(copy)?;
    rename(copy, &folder(garage)?.join(format!("before-version-{}.db", version + 1)))
}

/// Makes the complete copy number 1; the others step back and the oldest goes.
pub(crate) fn rotate_backups(garage: &Path, copy: &Path) -> Result<()> {
    let folder = folder(garage)?;
    sync(copy)?;
    for number in (1..COPIES).rev() {
        let from = numbered(&folder, number);
        if from.exists() {
            rename(&from, &numbered(&folder, number + 1))?;
        }
    }
    rename(copy, &numbered(&folder, 1))
}

/// Copies that exist, newest first.
pub(crate) fn backups(garage: &Path) -> Vec<PathBuf> {
    let Some(parent) = garage.parent() else { return Vec::new() };
    let folder = parent.join("backups");
    (1..=COPIES).map(|number| numbered(&folder, number)).filter(|path| path.exists()).collect()
}

/// Renames a damaged garage and what stands beside it; nothing is deleted.
pub(crate) fn set_aside(garage: &Path, at: Stamp) -> Result<PathBuf> {
    let day = at.iso().replace([':', '+'], "");
    let stem = garage.file_stem().map_or_else(|| "garage".into(), |stem| stem.to_string_lossy().into_owned());
    let mut number = 1;
    let aside = loop {
        let aside = garage.with_file_name(format!("{stem}-damaged-{day}-{number}.db"));
        if !aside.exists() {
            break aside;
        }
        number += 1;
    };
    for ending in ["", "-wal", "-shm"] {
        let from = with_ending(garage, ending);
        if from.exists() {
            rename(&from, &with_ending(&aside, ending))?;
        }
    }
    Ok(aside)
}

/// Copies a file and flushes the copy.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::copy(from, to).map_err(|error| refused("copied", from, &error))?;
    sync(to)
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

fn numbered(folder: &Path, number: usize) -> PathBuf {
    folder.join(format!("garage-{number}.db"))
}

fn folder(garage: &Path) -> Result<PathBuf> {
    let folder = garage.parent().unwrap_or_else(|| Path::new(".")).join("backups");
    fs::create_dir_all(&folder).map_err(|error| refused("made", &folder, &error))?;
    Ok(folder)
}

fn sync(path: &Path) -> Result<()> {
    fs::File::open(path).and_then(|file| file.sync_all()).map_err(|error| refused("flushed", path, &error))
}

fn rename(from: &Path, to: &Path) -> Result<()> {
    fs::rename(from, to).map_err(|error| refused("renamed", from, &error))
}

fn remove(path: &Path) -> Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(refused("replaced", path, &error)),
        _ => Ok(()),
    }
}

fn refused(what: &str, path: &Path, error: &std::io::Error) -> StoreError {
    match error.kind() {
        std::io::ErrorKind::StorageFull => StoreError::DiskFull,
        _ => StoreError::Disk { what: format!("{} could not be {what}: {error}.", path.display()) },
    }
}

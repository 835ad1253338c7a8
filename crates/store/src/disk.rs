//! The one place that touches files beside the database: copies that take turns, damaged files set aside, and photos.

use crate::{Result, Stamp, StoreError};
use std::fs;
use std::io::Write as _;
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

/// What is in a photo's file, if it is there.
pub(crate) fn photo(garage: &Path, name: &str) -> Option<Vec<u8>> {
    fs::read(photos(garage).join(name)).ok()
}

/// The same in the backups.
pub(crate) fn photo_in_backup(garage: &Path, name: &str) -> Option<Vec<u8>> {
    fs::read(beside(garage).join("backups/photos").join(name)).ok()
}

/// Writes a photo's file: under another name, flushed, renamed, and the folder flushed. After a sudden death it is there whole
/// or not at all.
pub(crate) fn write_photo(garage: &Path, name: &str, bytes: &[u8]) -> Result<()> {
    write_whole(&photos(garage), name, bytes)
}

/// Flushes the folder of the photos, for one whose file was there already.
pub(crate) fn flush_photos(garage: &Path) -> Result<()> {
    sync_folder(&photos(garage))
}

/// Copies a photo to the backups, unless it is there already. A copy and not a second name for the same bytes: those would be
/// damaged together.
pub(crate) fn back_up_photo(garage: &Path, name: &str, bytes: &[u8]) -> Result<()> {
    let folder = folder(garage)?.join("photos");
    match fs::metadata(folder.join(name)) {
        Ok(there) if there.len() == bytes.len() as u64 => Ok(()),
        _ => write_whole(&folder, name, bytes),
    }
}

fn write_whole(folder: &Path, name: &str, bytes: &[u8]) -> Result<()> {
    fs::create_dir_all(folder).map_err(|error| refused("made", folder, &error))?;
    // One name for whatever is being written, so that what a sudden death leaves is overwritten by the next.
    let unfinished = folder.join("being-written");
    let written = fs::File::create(&unfinished).and_then(|mut file| {
        file.write_all(bytes)?;
        file.sync_all()
    });
    written.map_err(|error| refused("written", &folder.join(name), &error))?;
    rename(&unfinished, &folder.join(name))?;
    sync_folder(folder)?;
    // The folder itself may be new.
    folder.parent().map_or(Ok(()), sync_folder)
}

#[cfg(unix)]
fn sync_folder(folder: &Path) -> Result<()> {
    sync(folder)
}

/// Where a folder cannot be opened, its names are flushed with the files.
#[cfg(not(unix))]
fn sync_folder(_folder: &Path) -> Result<()> {
    Ok(())
}

fn photos(garage: &Path) -> PathBuf {
    beside(garage).join("photos")
}

/// The folder a garage lies in.
fn beside(garage: &Path) -> &Path {
    garage.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
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
    let folder = beside(garage).join("backups");
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

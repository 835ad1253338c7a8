//! A file that is not for us now: newer, something else, open elsewhere.

use crate::child::{acknowledged, enter, folder, garage, kept};
use std::io::{BufRead, BufReader};
use trueground_store::{Store, StoreError, latest_version};

/// Where the database's header holds the layout's version and the application's mark, big-endian (SQLite file format, 1.3).
const USER_VERSION_AT: usize = 60;
const APPLICATION_AT: usize = 68;

#[test]
fn a_newer_file_is_refused_and_not_touched() {
    let folder = folder();
    let garage = garage(&folder);
    enter(&garage, "3").output().unwrap();
    let mut bytes = std::fs::read(&garage).unwrap();
    let newer = u32::try_from(latest_version()).unwrap() + 1;
    bytes[USER_VERSION_AT..USER_VERSION_AT + 4].copy_from_slice(&newer.to_be_bytes());
    std::fs::write(&garage, &bytes).unwrap();
    let error = Store::open(&garage).unwrap_err();
    assert!(matches!(error, StoreError::Newer { .. }), "{error}");
    assert!(error.to_string().contains(&format!("its version is {newer}")), "{error}");
    assert_eq!(std::fs::read(&garage).unwrap(), bytes);
}

#[test]
fn another_program_s_database_is_refused_and_not_touched() {
    let folder = folder();
    let garage = garage(&folder);
    enter(&garage, "3").output().unwrap();
    let mut bytes = std::fs::read(&garage).unwrap();
    bytes[APPLICATION_AT..APPLICATION_AT + 4].copy_from_slice(b"else");
    std::fs::write(&garage, &bytes).unwrap();
    assert_eq!(Store::open(&garage).unwrap_err().code(), "not_a_garage");
    assert_eq!(std::fs::read(&garage).unwrap(), bytes);
}

#[test]
fn the_second_of_two_processes_is_told_at_the_door() {
    let folder = folder();
    let garage = garage(&folder);
    enter(&garage, "3").output().unwrap();
    let mut holder = enter(&garage, "hold").spawn().unwrap();
    let mut line = String::new();
    BufReader::new(holder.stdout.take().unwrap()).read_line(&mut line).unwrap();
    assert_eq!(line, "open\n");
    let error = Store::open(&garage).unwrap_err();
    assert_eq!(error.code(), "garage_in_use", "{error}");
    let second = enter(&garage, "3").output().unwrap();
    let said = String::from_utf8(second.stdout).unwrap();
    assert!(said.starts_with("refused garage_in_use: This garage is already open"), "{said}");

    // Its lock ends with it, however it ends.
    holder.kill().unwrap();
    holder.wait().unwrap();
    let store = Store::open(&garage).unwrap();
    assert_eq!(kept(&store).len(), 3);
    drop(store);
    assert_eq!(acknowledged(&String::from_utf8(enter(&garage, "2").output().unwrap().stdout).unwrap()).len(), 2);
}

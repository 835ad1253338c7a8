//! A disk that takes no more: what was acknowledged stays, what was not is refused in words, and it goes on when there is room.

#![cfg(unix)]

use crate::child::{acknowledged, enter, folder, garage, kept, program};
use crate::model::seen;
use crate::thousand_kills::two_cars;
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;
use trueground_store::Store;

#[test]
fn a_disk_without_room_refuses_in_words_and_keeps_what_it_has() {
    let folder = folder();
    let garage = garage(&folder);
    let begun = enter(&garage, "5").output().unwrap();
    assert_eq!(acknowledged(&String::from_utf8(begun.stdout).unwrap()).len(), 5);

    // No file may grow beyond 4,000 blocks of 512 bytes; the signal that would end the program is put aside, so that it sees the
    // refusal as it would see a full disk.
    let limited = "trap '' XFSZ; ulimit -f 4000; exec \"$0\" \"$1\" 1000000";
    let full = Command::new("sh").args(["-c", limited, program()]).arg(&garage).stdin(Stdio::null()).output().unwrap();
    let said = String::from_utf8(full.stdout).unwrap();
    assert_eq!(full.status.code(), Some(1), "{said}");
    let acks = acknowledged(&said);
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("refused disk_"), "{last}");
    assert!(last.contains("What was taken before is kept"), "{last}");
    assert!(acks.len() > 10, "the limit hit too early: {said}");

    let store = Store::open(&garage).unwrap();
    let after = kept(&store);
    for (number, text) in &acks {
        assert_eq!(after.get(number), Some(text));
    }
    let unsaid = after.len() - 5 - acks.len();
    assert!(unsaid <= 1, "{unsaid} readings more than were said to be taken");
    drop(store);
    let later = enter(&garage, "5").output().unwrap();
    assert_eq!(acknowledged(&String::from_utf8(later.stdout).unwrap()).len(), 5, "with room again it goes on");
}

/// What lies in the folder of photos under the name of a whole one.
fn pictures(garage: &Path) -> Vec<u64> {
    let Ok(folder) = fs::read_dir(garage.with_file_name("photos")) else { return Vec::new() };
    let files = folder.flatten().filter(|file| file.path().extension().is_some_and(|ending| ending == "png"));
    files.map(|file| file.metadata().unwrap().len()).collect()
}

#[test]
fn a_photo_for_which_there_is_no_room_is_refused_in_words_and_nothing_of_it_is_kept() {
    let folder = folder();
    let (_, cars) = two_cars(&folder.path().join("begun"));
    let garage = folder.path().join("begun").join("garage.db");
    let before = seen(&garage, &cars);
    // No file may grow beyond 1 MiB: the garage may go on, a photo of 3 MB may not.
    let limited = "trap '' XFSZ; ulimit -f 2048; exec \"$0\" \"$1\" 1 3000000";
    let walker = env!("CARGO_BIN_EXE_walk-the-car");
    let full = Command::new("sh").args(["-c", limited, walker]).arg(&garage).stdin(Stdio::null()).output().unwrap();
    let said = String::from_utf8(full.stdout).unwrap();
    assert_eq!(full.status.code(), Some(1), "{said}");
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("refused disk_"), "{last}");
    assert_eq!(pictures(&garage), Vec::<u64>::new(), "nothing half");
    assert_eq!(seen(&garage, &cars), before);
    assert!(before.keys().all(|name| !name.contains(" photo ")));
}

#[test]
fn kills_while_a_large_photo_is_written_leave_whole_ones_only() {
    let folder = folder();
    two_cars(&folder.path().join("begun"));
    let garage = folder.path().join("begun").join("garage.db");
    let mut chance = StdRng::seed_from_u64(0x0070_686f);
    let (mut added, mut size) = (0, None);
    for kill in 1..=40_u32 {
        let mut child = Command::new(env!("CARGO_BIN_EXE_walk-the-car"))
            .args([garage.as_os_str(), kill.to_string().as_ref(), "600000".as_ref()])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_micros(chance.random_range(20_000..150_000)));
        child.kill().unwrap();
        let said = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
        // The first act opens the car.
        added += said.matches("ack ").count().saturating_sub(1);
        for found in pictures(&garage) {
            assert_eq!(found, *size.get_or_insert(found), "kill {kill}: a half photo has the name of a whole one");
        }
        let store = Store::open(&garage).unwrap();
        assert_eq!(store.check().unwrap(), Vec::<String>::new(), "kill {kill}");
        let rows: usize = store.cars().unwrap().iter().map(|car| store.pictures_of(car.id).unwrap().0 as usize).sum();
        assert!(
            rows >= added && rows <= added + kill as usize,
            "kill {kill}: {rows} photos, {added} were acknowledged"
        );
    }
    assert!(added > 0, "the kills came too early");
    assert!(size.is_some_and(|size| size > 600_000), "{size:?}");
}

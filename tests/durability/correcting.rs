//! Corrections of a finished snapshot: SIGKILL between and within them, a flipped bit, a damaged file.

use crate::child::{SNAPSHOT, enter, folder, garage};
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;
use trueground_store::{Stamp, Store};

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };

/// Corrects until at least `least` corrections were said to be kept, and a little longer; how many were said.
fn correct_and_kill(garage: &Path, least: usize, longer: Duration) -> usize {
    let mut child = enter(garage, "correct").spawn().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap());
    let mut said = String::new();
    while said.matches("corrected ").count() < least && lines.read_line(&mut said).unwrap() > 0 {}
    sleep(longer);
    child.kill().unwrap();
    lines.read_to_string(&mut said).unwrap();
    child.wait().unwrap();
    said.lines().filter_map(|line| line.strip_prefix("corrected ")?.parse().ok()).max().unwrap_or(0)
}

#[test]
fn fifty_kills_lose_no_acknowledged_correction() {
    let folder = folder();
    let garage = garage(&folder);
    enter(&garage, "2").output().unwrap();
    let mut chance = StdRng::seed_from_u64(0x636f_7272);
    let mut before = 0;
    for kill in 0..50 {
        let said = correct_and_kill(&garage, 1, Duration::from_micros(chance.random_range(0..20_000)));
        let store = Store::open(&garage).unwrap();
        assert_eq!(store.check().unwrap(), Vec::<String>::new(), "kill {kill}");
        let kept = store.snapshot(SNAPSHOT).unwrap();
        let number = kept.corrections.len();
        assert!(number >= said.max(before), "kill {kill}: {said} were said, {number} are kept");
        assert!(number <= said.max(before) + 1, "kill {kill}: at most one was kept and not said");
        assert_eq!(kept.readings[0].taken.text, number.to_string(), "kill {kill}: the newest counts");
        assert_eq!(kept.readings[1].taken.text, "302.5", "kill {kill}: nothing else changed");
        before = number;
    }
}

/// Two readings, finished, and the first corrected to 1.
fn corrected(garage: &Path) {
    enter(garage, "2").output().unwrap();
    correct_and_kill(garage, 1, Duration::ZERO);
    // What the log holds comes into the file itself.
    let mut store = Store::open(garage).unwrap();
    store.tend().unwrap();
}

fn overwrite(garage: &Path, old: &[u8], new: &[u8]) {
    let mut bytes = std::fs::read(garage).unwrap();
    let places: Vec<usize> = (0..bytes.len() - old.len()).filter(|at| &bytes[*at..*at + old.len()] == old).collect();
    assert!(!places.is_empty());
    for at in places {
        bytes[at..at + new.len()].copy_from_slice(new);
    }
    std::fs::write(garage, &bytes).unwrap();
}

#[test]
fn a_damaged_correction_is_said_and_never_changes_a_reading() {
    let folder = folder();
    let garage = garage(&folder);
    corrected(&garage);
    let made = Store::open(&garage).unwrap().snapshot(SNAPSHOT).unwrap().corrections.len();
    // One bit of the first: `correction 1` reads `borrection 1`.
    overwrite(&garage, b"\"reason\":\"correction 1\"", b"\"reason\":\"borrection 1\"");
    let mut store = Store::open(&garage).unwrap();
    let kept = store.snapshot(SNAPSHOT).unwrap();
    assert_eq!(kept.corrections.len(), made - 1);
    let expected = if made == 1 { "301.5".to_owned() } else { made.to_string() };
    assert_eq!(kept.readings[0].taken.text, expected, "what it said no longer counts, the others do");
    assert!(kept.damaged[0].starts_with("a correction, of which \u{201c}{"), "{:?}", kept.damaged);
    let found = store.check().unwrap();
    assert!(found.len() == 1 && found[0].contains("borrection 1"), "{found:?}");
    assert!(!store.tend().unwrap().backed_up, "a copy of it would push out a sound one");
}

#[test]
fn corrections_newer_than_the_copy_are_brought_over_from_a_damaged_file() {
    let folder = folder();
    let garage = garage(&folder);
    corrected(&garage);
    let before = Store::open(&garage).unwrap().snapshot(SNAPSHOT).unwrap().corrections.len();
    correct_and_kill(&garage, 2, Duration::ZERO);
    drop(Store::open(&garage).unwrap());
    let after = Store::open(&garage).unwrap().snapshot(SNAPSHOT).unwrap().corrections.len();
    overwrite(&garage, b"a reading is never deleted", b"A reading is never deleted");
    let opened = Store::open_or_recover(&garage, AT).unwrap();
    let says = format!("So were {} newer corrections of finished snapshots.", after - before);
    assert_eq!(opened.notices.last(), Some(&says), "{:?}", opened.notices);
    let kept = opened.store.snapshot(SNAPSHOT).unwrap();
    assert_eq!((kept.corrections.len(), kept.readings[0].taken.text.clone()), (after, after.to_string()));
}

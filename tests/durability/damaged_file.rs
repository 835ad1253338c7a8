//! Damaged bits: found and said, or harmless; never a reading silently changed.

use crate::child::{SNAPSHOT, enter, folder, kept};
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use trueground_store::{Stamp, Store, Tending, car_id};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };
const FLIPS: u32 = 400;

fn sample() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-data/show-roadster.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn sound(path: &Path) -> Vec<u8> {
    let mut store = Store::open(path).unwrap();
    store.import(&sample().to_string(), AT).unwrap();
    drop(store);
    std::fs::read(path).unwrap()
}

/// Every reading by id: its text and value.
fn readings(store: &Store) -> BTreeMap<Uuid, (String, f64)> {
    let mut all = BTreeMap::new();
    for head in store.cars().unwrap_or_default() {
        for (id, ..) in store.snapshots(head.id).unwrap_or_default() {
            if let Ok(snapshot) = store.snapshot(id) {
                all.extend(snapshot.readings.into_iter().map(|r| (r.taken.id, (r.taken.text, r.taken.value))));
            }
        }
        for (id, _) in store.floors(head.id).unwrap_or_default() {
            if let Ok(floor) = store.floor(id) {
                all.extend(floor.readings.into_iter().map(|r| (r.taken.id, (r.taken.text, r.taken.value))));
            }
        }
    }
    all
}

#[test]
fn a_flipped_bit_is_found_or_harmless() {
    let folder = folder();
    let path = folder.path().join("sound.db");
    let bytes = sound(&path);
    let store = Store::open(&path).unwrap();
    let (before, document) = (readings(&store), store.car_file(car_id(&sample())).unwrap().document);
    drop(store);
    assert!(before.len() > 100, "{} readings", before.len());

    let mut chance = StdRng::seed_from_u64(0x6269_7473);
    let (mut found, mut harmless) = (0, 0);
    for flip in 0..FLIPS {
        let mut damaged = bytes.clone();
        let (at, bit) = (chance.random_range(0..damaged.len()), chance.random_range(0..8));
        damaged[at] ^= 1 << bit;
        let home = folder.path().join(format!("flip-{flip}"));
        std::fs::create_dir(&home).unwrap();
        let path = home.join("garage.db");
        std::fs::write(&path, &damaged).unwrap();
        let what = format!("flip {flip}: bit {bit} of byte {at}");
        let opened = match Store::open_or_recover(&path, AT) {
            Ok(opened) => opened,
            // Newer, not ours: said, and the file left alone.
            Err(error) => {
                assert!(!error.to_string().is_empty());
                assert_eq!(std::fs::read(&path).unwrap(), damaged, "{what}: refused and yet changed: {error}");
                found += 1;
                continue;
            }
        };
        for (id, reading) in readings(&opened.store) {
            assert_eq!(before.get(&id), Some(&reading), "{what}: a reading was silently changed");
        }
        let said = !opened.notices.is_empty() || opened.store.check().map_or(true, |found| !found.is_empty());
        if said {
            found += 1;
        } else {
            let after = opened.store.car_file(car_id(&sample())).map(|loaded| loaded.document);
            assert_eq!(after.ok().as_ref(), Some(&document), "{what}: something changed and nothing was said");
            harmless += 1;
        }
        drop(opened);
        std::fs::remove_dir_all(&home).unwrap();
    }
    // Every table and index has a page of its own, and most of those pages are empty in a young garage.
    assert!(found > FLIPS / 10, "{found} found, {harmless} harmless: the rest of the file is readings and documents");
}

#[test]
fn a_destroyed_file_is_set_aside_and_the_last_copy_opened_with_nothing_deleted() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.import(&sample().to_string(), AT).unwrap();
    let all = readings(&store);
    assert!(store.tend().unwrap().backed_up);
    drop(store);
    let rubbish = vec![0x5a; 20_000];
    std::fs::write(&path, &rubbish).unwrap();

    let opened = Store::open_or_recover(&path, AT).unwrap();
    assert_eq!(readings(&opened.store), all);
    assert!(opened.notices[0].contains("set aside as garage-damaged-"), "{:?}", opened.notices);
    assert_eq!(opened.notices[1], "The last sound copy was opened in its place.");
    let aside = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .find(|path| path.file_name().is_some_and(|name| name.to_string_lossy().contains("damaged")))
        .unwrap();
    assert_eq!(std::fs::read(aside).unwrap(), rubbish, "nothing is deleted");
}

#[test]
fn copies_take_turns_and_a_damaged_garage_does_not_push_out_a_sound_one() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.import(&sample().to_string(), AT).unwrap();
    for _ in 0..7 {
        assert!(store.tend().unwrap().backed_up);
    }
    drop(store);
    let copies = || {
        let entries = std::fs::read_dir(folder.path().join("backups")).unwrap();
        let mut names: Vec<_> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    };
    assert_eq!(copies(), ["garage-1.db", "garage-2.db", "garage-3.db", "garage-4.db", "garage-5.db"]);

    // A typed text, wherever it stands in the file: rows that moved leave their bytes behind in unused room.
    let mut bytes = std::fs::read(&path).unwrap();
    let typed = b"23 1/16";
    let places: Vec<usize> =
        (0..bytes.len() - typed.len()).filter(|at| &bytes[*at..*at + typed.len()] == typed).collect();
    for at in places {
        bytes[at + 1] = b'4';
    }
    std::fs::write(&path, &bytes).unwrap();
    let mut store = Store::open(&path).unwrap();
    let tended = store.tend().unwrap();
    assert!(!tended.backed_up);
    assert!(
        tended.damaged[0].contains("typed \u{201c}24 1/16\u{201d} is damaged and was set aside."),
        "{:?}",
        tended.damaged
    );
}

#[test]
fn damaged_half_typed_text_is_said_and_never_shown_as_typed() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    enter(&path, "3").output().unwrap();
    let mut store = Store::open(&path).unwrap();
    store.keep_draft(SNAPSHOT, "4", "23 1/16", AT).unwrap();
    assert_eq!(store.check().unwrap(), Vec::<String>::new());
    drop(store);
    let mut bytes = std::fs::read(&path).unwrap();
    let typed = b"23 1/16";
    let places: Vec<usize> =
        (0..bytes.len() - typed.len()).filter(|at| &bytes[*at..*at + typed.len()] == typed).collect();
    assert!(!places.is_empty());
    for at in places {
        bytes[at + 1] = b'4';
    }
    std::fs::write(&path, &bytes).unwrap();

    let mut store = Store::open_or_recover(&path, AT).unwrap().store;
    let snapshot = store.snapshot(SNAPSHOT).unwrap();
    assert_eq!((&snapshot.draft, snapshot.readings.len()), (&None, 3));
    let left = "the half-typed text, of which \u{201c}24 1/16\u{201d} is left,";
    assert_eq!(snapshot.damaged, [left]);
    let found = store.check().unwrap();
    assert!(found.len() == 1 && found[0].contains(left), "{found:?}");
    assert!(!store.tend().unwrap().backed_up, "a copy of it would push out a sound one");
    store.keep_draft(SNAPSHOT, "4", "23", AT).unwrap();
    assert_eq!(store.snapshot(SNAPSHOT).unwrap().draft.unwrap().text, "23");
    assert_eq!(store.check().unwrap(), Vec::<String>::new(), "typing goes on");
}

#[test]
fn a_damaged_description_spoils_one_car_only() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.import(&sample().to_string(), AT).unwrap();
    let mut other = sample();
    other["vehicle"]["label"] = "Another".into();
    store.import(&other.to_string(), AT).unwrap();
    drop(store);
    let mut bytes = std::fs::read(&path).unwrap();
    let label = b"{\"label\":\"Another\"";
    let places: Vec<usize> =
        (0..bytes.len() - label.len()).filter(|at| &bytes[*at..*at + label.len()] == label).collect();
    for at in places {
        bytes[at] = b'x';
    }
    std::fs::write(&path, &bytes).unwrap();
    let opened = Store::open_or_recover(&path, AT).unwrap();
    let labels: Vec<_> = opened.store.cars().unwrap().into_iter().map(|head| head.label).collect();
    assert_eq!(labels, ["Another", "Sample roadster"]);
    assert_eq!(opened.store.car(car_id(&other)).unwrap_err().code(), "garage_damaged");
    assert_eq!(opened.store.car_file(car_id(&sample())).unwrap().damaged, Vec::<String>::new());
    assert!(opened.store.check().unwrap().iter().any(|what| what.contains("does not match its checksum")));
}

#[test]
fn readings_newer_than_the_copy_are_brought_over_from_the_damaged_file() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    enter(&path, "5").output().unwrap();
    let mut store = Store::open(&path).unwrap();
    assert!(store.tend().unwrap().backed_up);
    drop(store);
    enter(&path, "7").output().unwrap();
    // One of the rules that keep readings, spoilt: the file cannot be trusted any more, though its rows can be read.
    let mut bytes = std::fs::read(&path).unwrap();
    let rule = b"a reading is never deleted";
    let places: Vec<usize> = (0..bytes.len() - rule.len()).filter(|at| &bytes[*at..*at + rule.len()] == rule).collect();
    assert!(!places.is_empty());
    for at in places {
        bytes[at] = b'A';
    }
    std::fs::write(&path, &bytes).unwrap();

    let opened = Store::open_or_recover(&path, AT).unwrap();
    assert_eq!(opened.notices.len(), 3, "{:?}", opened.notices);
    assert!(opened.notices[2].starts_with("7 newer readings could still be read"), "{}", opened.notices[2]);
    assert_eq!(kept(&opened.store).len(), 12);
    assert!(!opened.store.snapshot(SNAPSHOT).unwrap().finished, "it can be gone on with");
}

#[test]
fn readings_are_taken_between_two_pieces_of_the_check() {
    let folder = folder();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.import(&sample().to_string(), AT).unwrap();
    let mut tending = Tending::default();
    let mut pieces: usize = 1;
    while store.tend_a_little(&mut tending).unwrap() {
        pieces += 1;
        // Any write will do: the check must neither miss it nor be put off by it.
        store.set("theme", &pieces.to_string()).unwrap();
    }
    assert!(pieces > 10, "{pieces} pieces: each is short");
    assert!(tending.backed_up && tending.damaged.is_empty());
}

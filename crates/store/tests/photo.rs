//! Photos: what was added comes back, whatever becomes of files, and an exchange file carries them.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use trueground_core::capture::PhotoSide;
use trueground_store::{Stamp, Store, StoreError};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 120 };
const LATER: Stamp = Stamp { utc_ms: 1_934_100_000_000, offset_minutes: 120 };
const CAR: Uuid = Uuid::from_u128(1);
const SNAPSHOT: Uuid = Uuid::from_u128(2);

/// A PNG's frame (ISO/IEC 15948): head, one chunk of data, end. Its chunk checksums are not looked at.
fn png(width: u32, height: u32, data: &[u8]) -> Vec<u8> {
    let chunk = |kind: &[u8], content: &[u8]| {
        [&u32::try_from(content.len()).unwrap().to_be_bytes()[..], kind, content, &[0; 4]].concat()
    };
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &head), chunk(b"IDAT", data), chunk(b"IEND", &[])].concat()
}

fn begin(store: &mut Store) {
    let vehicle = json!({"vehicle": {"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0}, "floors": [], "snapshots": []});
    store.add_car(CAR, &vehicle, AT).unwrap();
    let document = json!({"id": SNAPSHOT.to_string(), "date": "2031-04-15", "bounces": [{"bounce_id": "b1"}]});
    store.begin_snapshot(SNAPSHOT, CAR, &document, &json!({}), AT).unwrap();
}

fn on_disk() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let garage = folder.path().join("garage.db");
    begin(&mut Store::open(&garage).unwrap());
    (folder, garage)
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn picture(store: &Store, side: PhotoSide) -> Vec<u8> {
    store.picture(store.photos(SNAPSHOT).unwrap().shown(side).unwrap()).unwrap()
}

#[test]
fn a_photo_is_a_file_named_by_its_content_and_comes_back_after_a_restart() {
    let (folder, garage) = on_disk();
    let mut store = Store::open(&garage).unwrap();
    store.add_photo(SNAPSHOT, PhotoSide::Left, &png(40, 30, b"left"), AT).unwrap();
    drop(store);
    let store = Store::open(&garage).unwrap();
    let photos = store.photos(SNAPSHOT).unwrap();
    let shown = photos.shown(PhotoSide::Left).unwrap();
    assert_eq!((shown.width_px, shown.height_px, shown.media_type()), (40, 30, "image/png"));
    assert_eq!(shown.added_at().as_deref(), Some(AT.iso().as_str()));
    assert_eq!(store.picture(shown).unwrap(), png(40, 30, b"left"));
    // sha256sum of the same bytes, by Python's hashlib.
    let names: Vec<_> =
        files(&folder.path().join("photos")).iter().map(|path| path.file_name().unwrap().to_owned()).collect();
    assert_eq!(names, ["4f06e5b16cdacb6cd9003403c3725074e0ad04c302c0384684297aede4399e4a.png"]);
    assert!(photos.shown(PhotoSide::Right).is_none());
}

#[test]
fn one_that_is_replaced_or_taken_off_stays_in_the_book_and_a_finished_snapshot_takes_photos() {
    let mut store = Store::in_memory().unwrap();
    begin(&mut store);
    let version = store.car(CAR).unwrap().version;
    let first = store.add_photo(SNAPSHOT, PhotoSide::Front, &png(4, 3, b"one"), AT).unwrap();
    assert_eq!(store.add_photo(SNAPSHOT, PhotoSide::Front, &png(4, 3, b"one"), LATER).unwrap(), first, "twice is once");
    store.finish(SNAPSHOT, AT).unwrap();
    let finished = store.car(CAR).unwrap().version;
    let second = store.add_photo(SNAPSHOT, PhotoSide::Front, &png(4, 3, b"two"), LATER).unwrap();
    assert_eq!(picture(&store, PhotoSide::Front), png(4, 3, b"two"));
    store.mark_photo(second, true, LATER).unwrap();
    store.mark_photo(second, true, LATER).unwrap();
    assert!(store.photos(SNAPSHOT).unwrap().shown(PhotoSide::Front).is_none(), "the one before does not come back");
    store.mark_photo(second, false, LATER).unwrap();
    assert_eq!(picture(&store, PhotoSide::Front), png(4, 3, b"two"));
    let third = store.add_photo(SNAPSHOT, PhotoSide::Front, &png(4, 3, b"one"), LATER).unwrap();
    assert_ne!(third, first, "chosen again after another is a photo of its own");
    let all = store.photos(SNAPSHOT).unwrap().all;
    assert_eq!(all.iter().map(|photo| photo.id).collect::<Vec<_>>(), [first, second, third]);
    assert_eq!(store.picture(&all[0]).unwrap(), png(4, 3, b"one"));
    assert_eq!(version + 1, finished);
    assert_eq!(store.car(CAR).unwrap().version, finished, "no number hangs on a photo, so nothing is worked out again");
    assert_eq!(store.check().unwrap(), Vec::<String>::new());
}

#[test]
fn what_is_no_picture_is_refused_and_nothing_is_kept() {
    let (folder, garage) = on_disk();
    let mut store = Store::open(&garage).unwrap();
    for (bytes, says) in [
        (Vec::new(), "0 bytes"),
        (b"not a picture".to_vec(), "not a JPEG, PNG or WebP"),
        (png(40_000, 40_000, b"bomb"), "40000 × 40000 px"),
        (png(4, 3, &[0; 26 << 20]), "at most 25 MB"),
        (png(4, 3, b"half")[..40].to_vec(), "breaks off"),
    ] {
        let error = store.add_photo(SNAPSHOT, PhotoSide::Rear, &bytes, AT).unwrap_err();
        assert_eq!(error.code(), "no_picture");
        assert!(error.to_string().contains(says), "{error}");
    }
    let error = store.add_photo(Uuid::nil(), PhotoSide::Rear, &png(4, 3, b"x"), AT).unwrap_err();
    assert!(matches!(error, StoreError::NotFound { .. }));
    assert!(store.photos(SNAPSHOT).unwrap().all.is_empty());
    assert!(!folder.path().join("photos").exists());
}

#[test]
fn a_damaged_or_missing_picture_is_said_and_put_back_from_the_backup() {
    let (folder, garage) = on_disk();
    let mut store = Store::open(&garage).unwrap();
    store.add_photo(SNAPSHOT, PhotoSide::Left, &png(40, 30, b"left"), AT).unwrap();
    let [file] = &files(&folder.path().join("photos"))[..] else { panic!("one file") };
    let sound = std::fs::read(file).unwrap();
    let record = store.photos(SNAPSHOT).unwrap().all.remove(0);
    let mut flips = 0;
    for at in 0..sound.len() {
        let mut damaged = sound.clone();
        damaged[at] ^= 1 << (at % 8);
        std::fs::write(file, &damaged).unwrap();
        let error = store.picture(&record).unwrap_err();
        assert!(error.to_string().contains("is damaged"), "{error}");
        flips += 1;
    }
    assert_eq!(flips, sound.len());
    assert_eq!(store.check().unwrap().len(), 1);
    let tended = store.tend().unwrap();
    assert!(tended.damaged[0].contains("is damaged"), "{:?}", tended.damaged);
    assert!(tended.backed_up, "the database is sound, so it is copied all the same");
    std::fs::remove_file(file).unwrap();
    assert!(store.picture(&record).unwrap_err().to_string().contains("is missing"));

    // Chosen again, it is written again; then the backups have it.
    store.add_photo(SNAPSHOT, PhotoSide::Left, &png(40, 30, b"left"), AT).unwrap();
    assert_eq!(store.photos(SNAPSHOT).unwrap().all.len(), 1);
    assert!(store.tend().unwrap().damaged.is_empty());
    for broken in [Some(&b"nonsense"[..]), None] {
        match broken {
            Some(bytes) => std::fs::write(file, bytes).unwrap(),
            None => std::fs::remove_file(file).unwrap(),
        }
        assert_eq!(store.picture(&record).unwrap(), sound);
        assert_eq!(std::fs::read(file).unwrap(), sound, "put back");
    }
}

#[test]
fn a_garage_recovered_from_its_backup_has_its_photos() {
    let (folder, garage) = on_disk();
    let mut store = Store::open(&garage).unwrap();
    store.add_photo(SNAPSHOT, PhotoSide::Rear, &png(40, 30, b"rear"), AT).unwrap();
    assert!(store.tend().unwrap().backed_up);
    // Added after the copy was written.
    store.add_photo(SNAPSHOT, PhotoSide::Left, &png(40, 30, b"left"), AT).unwrap();
    drop(store);
    let mut bytes = std::fs::read(&garage).unwrap();
    bytes[..100].fill(0);
    std::fs::write(&garage, bytes).unwrap();
    std::fs::remove_dir_all(folder.path().join("photos")).unwrap();
    let opened = Store::open_or_recover(&garage, AT).unwrap();
    assert_eq!(picture(&opened.store, PhotoSide::Rear), png(40, 30, b"rear"));
}

fn exported(store: &Store) -> Value {
    let loaded = store.car_file_with_pictures(CAR).unwrap();
    assert_eq!(loaded.damaged, Vec::<String>::new());
    loaded.document
}

#[test]
fn an_exchange_file_carries_photos_there_and_back() {
    let mut store = Store::in_memory().unwrap();
    begin(&mut store);
    for (side, data) in
        [(PhotoSide::Front, b"one"), (PhotoSide::Front, b"two"), (PhotoSide::Front, b"one"), (PhotoSide::Left, b"off")]
    {
        store.add_photo(SNAPSHOT, side, &png(4, 3, data), AT).unwrap();
    }
    let off = store.photos(SNAPSHOT).unwrap().all[3].id;
    store.mark_photo(off, true, LATER).unwrap();
    assert_eq!(store.pictures_of(CAR).unwrap(), (4, 4 * png(4, 3, b"one").len() as i64));
    let mut file = exported(&store);
    let named = store.car_file(CAR).unwrap().document;
    assert!(named["snapshots"][0]["photos"][0].get("data").is_none(), "the short file only names them");

    let again = store.import(&file.to_string(), AT).unwrap();
    assert!(!again.changed, "the same file changes nothing: {again:?}");
    file["snapshots"][0]["photos"][1]["lens"] = json!("wide");
    let mut other = Store::in_memory().unwrap();
    assert!(other.import(&file.to_string(), LATER).unwrap().changed);
    assert_eq!(exported(&other), file, "and what it does not know comes back too");
    assert!(!other.import(&file.to_string(), LATER).unwrap().changed);
    let photos = other.photos(SNAPSHOT).unwrap();
    assert_eq!(other.picture(photos.shown(PhotoSide::Front).unwrap()).unwrap(), png(4, 3, b"one"));
    assert!(photos.shown(PhotoSide::Left).is_none());
    let ids = |store: &Store| store.photos(SNAPSHOT).unwrap().all.iter().map(|photo| photo.id).collect::<Vec<_>>();
    assert_eq!(ids(&other), ids(&store));
    other.mark_photo(off, false, LATER).unwrap();
    assert!(other.photos(SNAPSHOT).unwrap().shown(PhotoSide::Left).is_some());
    assert!(exported(&other)["snapshots"][0]["photos"][3].get("taken_off").is_none());

    // The short file brings the names; the long one the pictures later.
    let mut third = Store::in_memory().unwrap();
    third.import(&named.to_string(), AT).unwrap();
    let record = third.photos(SNAPSHOT).unwrap().all.remove(0);
    assert!(third.picture(&record).unwrap_err().to_string().contains("is missing"));
    third.import(&file.to_string(), AT).unwrap();
    assert_eq!(third.picture(&record).unwrap(), png(4, 3, b"one"));
}

#[test]
fn a_file_with_a_wrong_picture_is_refused_with_its_place() {
    let mut store = Store::in_memory().unwrap();
    begin(&mut store);
    store.add_photo(SNAPSHOT, PhotoSide::Front, &png(4, 3, b"one"), AT).unwrap();
    let sound = exported(&store);
    let mut other = Store::in_memory().unwrap();
    for (key, value, says) in [
        ("data", json!("AAAA"), "snapshots[0].photos[0].data: this is not the picture that sha256 names"),
        ("data", json!("%%%"), "snapshots[0].photos[0].data: this is not Base64"),
        ("data", json!(""), "not the picture"),
        ("sha256", json!("../../etc"), "snapshots[0].photos[0].sha256"),
        ("media_type", json!("text/html"), "snapshots[0].photos[0].sha256"),
        ("media_type", json!("image/webp"), "the picture is image/png of 4 × 3 px"),
        ("width_px", json!(5), "4 × 3 px"),
        ("size_bytes", json!(5), "not as said beside it"),
        ("side", json!("top"), "top"),
        ("data", json!("A".repeat(40 << 20)), "at most 25 MB"),
    ] {
        let mut file = sound.clone();
        file["snapshots"][0]["photos"][0][key] = value;
        let error = other.import(&file.to_string(), AT).unwrap_err();
        assert_eq!(error.code(), "file_unreadable", "{error}");
        assert!(error.to_string().contains(says), "{error}");
        assert!(other.cars().unwrap().is_empty());
    }
}

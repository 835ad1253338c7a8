//! Targets in the garage: kept, replaced, put away and brought back, and through an exchange file and back.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use serde_json::{Value, json};
use trueground_core::target::TargetMarkKind::{BroughtBack, PutAway};
use trueground_store::{Imported, Stamp, Store};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: -330 };

fn file() -> Value {
    json!({"vehicle": {"label": "Low one", "wheelbase_mm": 2565, "track_front_mm": 1400, "track_rear_mm": 1420},
        "target": {"label": "low and forward", "heights_mm": {"rail.FL": 246.0}, "tolerance_mm": 6.0, "tires": {"front": "5.00-16"}},
        "targets": [{"id": "show", "label": "for the show", "heights_mm": {"rail.FL": 240.0}, "later": {"kept": true}}]})
}

fn import(store: &mut Store, file: &Value) -> Imported {
    store.import(&file.to_string(), AT).unwrap()
}

fn labels(store: &Store, car: Uuid) -> Vec<String> {
    store.targets(car).unwrap().into_iter().map(|target| target.label).collect()
}

#[test]
fn targets_come_back_as_they_went_in_and_a_file_read_twice_changes_nothing() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    assert_eq!(labels(&store, car), ["low and forward", "for the show"]);
    let written = store.car_file(car).unwrap().document;
    assert_eq!((&written["target"], &written["targets"]), (&file()["target"], &file()["targets"]));
    assert!(!import(&mut store, &file()).changed && !import(&mut store, &written).changed);
}

#[test]
fn a_target_that_a_file_describes_anew_replaces_the_kept_one_once() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    let mut lower = file();
    lower["targets"][0]["heights_mm"]["rail.FL"] = json!(235.0);
    assert!(import(&mut store, &lower).changed);
    assert_eq!(store.targets(car).unwrap()[1].heights_mm["rail.FL"], 235.0);
    // Neither the newer file again nor the older one changes anything back.
    assert!(!import(&mut store, &lower).changed && !import(&mut store, &file()).changed);
    assert_eq!(store.targets(car).unwrap()[1].heights_mm["rail.FL"], 235.0);
    let all = store.car_file(car).unwrap().document["targets"].clone();
    assert_eq!((all.as_array().unwrap().len(), &all[1]["replaces"]), (2, &json!("show")));
}

#[test]
fn what_is_put_away_is_no_longer_offered_until_it_is_brought_back_here_and_elsewhere() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    for target in ["target", "show"] {
        store.mark_target(car, Uuid::new_v5(&car, target.as_bytes()), target, PutAway, AT).unwrap();
    }
    assert_eq!(labels(&store, car), [""; 0]);
    let away = store.car_file(car).unwrap().document;
    store.mark_target(car, Uuid::new_v5(&car, b"back"), "show", BroughtBack, AT).unwrap();
    assert_eq!(labels(&store, car), ["for the show"]);
    let back = store.car_file(car).unwrap().document;

    let mut other = Store::in_memory().unwrap();
    import(&mut other, &away);
    assert_eq!(labels(&other, car), [""; 0]);
    import(&mut other, &back);
    // The older file once more brings no mark again.
    assert!(!import(&mut other, &away).changed);
    assert_eq!(labels(&other, car), ["for the show"]);
}

#[test]
fn a_name_is_given_once_a_car_and_nothing_is_changed_in_place() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    let version = store.car(car).unwrap().version;
    store.add_target(car, &json!({"id": "second", "label": "second", "heights_mm": {"rail.FL": 250.0}}), AT).unwrap();
    assert!(store.car(car).unwrap().version > version, "what was worked out of the car is out of date");
    assert!(store.add_target(car, &json!({"id": "second", "label": "again"}), AT).is_err());
    assert_eq!(labels(&store, car), ["low and forward", "for the show", "second"]);
}

#[test]
fn a_target_that_makes_no_sense_is_refused_with_its_place() {
    let mut store = Store::in_memory().unwrap();
    for (bad, place) in [
        (json!([{"id": "a", "heights_mm": {"rail.FL": "low"}}]), "targets[0].heights_mm"),
        (json!({"id": "a"}), "targets"),
        (json!([7]), "targets[0]"),
    ] {
        let mut file = file();
        file["targets"] = bad;
        let error = store.import(&file.to_string(), AT).unwrap_err().to_string();
        assert!(error.starts_with(place), "{error}");
    }
    assert!(store.cars().unwrap().is_empty());
}

//! The book: what goes in comes out, what was read stays, and a finished snapshot is frozen.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use serde_json::{Value, json};
use std::path::Path;
use trueground_store::{Mark, NewReading, ReadingKind, Stamp, Standing, Store, StoreError, Taken, car_id, named_id};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 120 };

fn sample(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Every key of `small` is in `large` with the same content; 600 and 600.0 are the same number.
fn assert_holds(large: &Value, small: &Value, place: &str) {
    match (large, small) {
        (Value::Object(large), Value::Object(small)) => {
            for (key, value) in small {
                let found = large.get(key).unwrap_or_else(|| panic!("{place}.{key} is lost"));
                assert_holds(found, value, &format!("{place}.{key}"));
            }
        }
        (Value::Array(large), Value::Array(small)) => {
            assert_eq!(large.len(), small.len(), "{place}");
            for (number, (large, small)) in large.iter().zip(small).enumerate() {
                assert_holds(large, small, &format!("{place}[{number}]"));
            }
        }
        (Value::Number(large), Value::Number(small)) => assert_eq!(large.as_f64(), small.as_f64(), "{place}"),
        _ => assert_eq!(large, small, "{place}"),
    }
}

fn tape(place: &str, text: &str, value: f64, request: &str) -> NewReading {
    NewReading {
        id: Uuid::new_v5(&Uuid::nil(), request.as_bytes()),
        kind: ReadingKind::Tape,
        bounce: "b1".to_owned(),
        pass_no: 0,
        place: place.to_owned(),
        round: 1,
        reversed: false,
        text: text.to_owned(),
        unit: "in".to_owned(),
        value,
        extra: serde_json::Map::new(),
        request: Some(request.to_owned()),
    }
}

fn begun(store: &mut Store) -> (Uuid, Uuid) {
    let (car, snapshot) = (Uuid::from_u128(1), Uuid::from_u128(2));
    let vehicle =
        json!({"vehicle": {"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0}});
    store.add_car(car, &vehicle, AT).unwrap();
    let document = json!({"id": snapshot.to_string(), "date": "2031-04-15", "bounces": [{"bounce_id": "b1"}]});
    store.begin_snapshot(snapshot, car, &document, &json!({"rounds": 2}), AT).unwrap();
    (car, snapshot)
}

#[test]
fn a_file_comes_back_as_it_was_unknown_keys_and_typed_text_too() {
    for name in ["sloping-drive.json", "settling-coupe.json", "show-roadster.json"] {
        let mut file = sample(name);
        file["vehicle"]["colour"] = json!("primer");
        file["later"] = json!({"nested": [1, {"deep": null}]});
        file["snapshots"][0]["bounces"][0]["readings"][0]["thumb"] = json!("cold");
        file["snapshots"][0]["bounces"][0]["readings"][1]["struck"] = json!({"reason": "wrong edge", "by": "me"});
        file["floors"][0]["survey"]["passes"][0]["hose"] = json!("blue");
        let mut store = Store::in_memory().unwrap();
        let first = store.import(&file.to_string(), AT).unwrap();
        assert!(first.changed);
        let out = store.car_file(first.car).unwrap();
        assert_eq!(out.damaged, Vec::<String>::new());
        assert_holds(&out.document, &file, name);
        assert!(out.document.get("uuid").is_none(), "the id follows from the content, so it is not written");

        let again = store.import(&file.to_string(), AT).unwrap();
        assert_eq!((again.changed, again.new_readings), (false, 0), "{name} read in twice");
        let version = store.car(first.car).unwrap().version;
        let third = store.import(&json!({"format": "scenario", "input": out.document}).to_string(), AT).unwrap();
        assert!(!third.changed, "{name} written out and read in");
        assert_eq!(store.car(first.car).unwrap().version, version);
    }
}

#[test]
fn ids_of_a_file_without_ids_are_made_from_its_content() {
    let file = sample("sloping-drive.json");
    let (car, again) = (car_id(&file), car_id(&sample("sloping-drive.json")));
    assert_eq!((car, car.get_version_num()), (again, 5));
    assert_ne!(named_id(car, "floor", "drive"), named_id(car, "snapshot", "drive"));
    let given = Uuid::from_u128(77);
    assert_eq!(named_id(car, "snapshot", &given.to_string()), given);
}

#[test]
fn a_file_that_is_wrong_anywhere_changes_nothing() {
    let mut store = Store::in_memory().unwrap();
    let mut file = sample("sloping-drive.json");
    file["snapshots"][1]["bounces"][1]["readings"][3]["value_mm"] = json!("twelve");
    let error = store.import(&file.to_string(), AT).unwrap_err();
    assert!(error.to_string().starts_with("snapshots[1].bounces[1].readings[3].value_mm: "), "{error}");
    file = sample("sloping-drive.json");
    file["snapshots"][1]["id"] = json!("d1a");
    let error = store.import(&file.to_string(), AT).unwrap_err();
    assert_eq!(error.to_string(), "The file names snapshot d1a twice.");
    assert!(store.cars().unwrap().is_empty());
    let error = store.import("{\"vehicle\": ", AT).unwrap_err();
    assert!(error.to_string().starts_with("line 1, column "), "{error}");
}

#[test]
fn an_unfinished_snapshot_from_elsewhere_grows_and_a_finished_one_refuses() {
    let mut store = Store::in_memory().unwrap();
    let (car, snapshot) = begun(&mut store);
    store.take(snapshot, &tape("rail.FL", "10 7/16", 265.1125, "r1"), "1", AT).unwrap();
    let early = store.car_file(car).unwrap().document;
    store.take(snapshot, &tape("rail.FR", "10 1/2", 266.7, "r2"), "2", AT).unwrap();
    let late = store.car_file(car).unwrap().document;

    let mut other = Store::in_memory().unwrap();
    assert_eq!(other.import(&early.to_string(), AT).unwrap().new_readings, 1);
    assert!(!other.snapshot(snapshot).unwrap().finished);
    assert_eq!(other.snapshot(snapshot).unwrap().plan, json!({"rounds": 2}));
    assert_eq!(other.import(&late.to_string(), AT).unwrap().new_readings, 1);
    assert_eq!(other.import(&early.to_string(), AT).unwrap().new_readings, 0, "an older file takes nothing away");
    assert_eq!(other.snapshot(snapshot).unwrap().readings.len(), 2);

    let mut third = Store::in_memory().unwrap();
    third.import(&early.to_string(), AT).unwrap();
    third.finish(snapshot, AT).unwrap();
    let error = third.import(&late.to_string(), AT).unwrap_err();
    assert_eq!(error.code(), "file_contradicts");
    assert!(error.to_string().contains("1 more readings"), "{error}");
    assert_eq!(third.snapshot(snapshot).unwrap().readings.len(), 1);
}

#[test]
fn a_repeated_request_is_stored_once() {
    let mut store = Store::in_memory().unwrap();
    let (_, snapshot) = begun(&mut store);
    let reading = tape("rail.FL", "10 7/16", 265.1125, "same");
    assert_eq!(store.take(snapshot, &reading, "1", AT).unwrap(), Taken::Now);
    let again = NewReading { id: Uuid::from_u128(9), ..reading };
    assert_eq!(store.take(snapshot, &again, "1", AT).unwrap(), Taken::Before);
    let other = NewReading { id: Uuid::from_u128(10), place: "rail.FR".to_owned(), ..again.clone() };
    assert_eq!(store.take(snapshot, &other, "2", AT).unwrap(), Taken::Now, "a number used twice loses no reading");
    store.finish(snapshot, AT).unwrap();
    assert_eq!(store.take(snapshot, &again, "1", AT).unwrap(), Taken::Before, "its answer was lost, not its reading");
    assert_eq!(store.snapshot(snapshot).unwrap().readings.len(), 2);
}

#[test]
fn taking_back_and_putting_back_keep_the_reading_and_say_so() {
    let mut store = Store::in_memory().unwrap();
    let (car, snapshot) = begun(&mut store);
    let first = tape("rail.FL", "10 7/16", 265.1125, "r1");
    store.take(snapshot, &first, "1", AT).unwrap();
    store.mark(first.id, Mark::TakenBack, "", None, AT).unwrap();
    let kept = &store.snapshot(snapshot).unwrap().readings[0];
    assert_eq!((&kept.standing, kept.can_put_back()), (&Standing::TakenBack { at: AT }, true));
    let file = store.car_file(car).unwrap().document;
    assert_eq!(file["snapshots"][0]["bounces"][0]["readings"][0]["struck"]["reason"], "taken back");
    store.mark(first.id, Mark::PutBack, "", None, AT).unwrap();
    assert!(store.snapshot(snapshot).unwrap().readings[0].counts());
    store.mark(first.id, Mark::TakenBack, "", None, AT).unwrap();
    store.take(snapshot, &tape("rail.FL", "10 1/2", 266.7, "r2"), "1", AT).unwrap();
    assert!(!store.snapshot(snapshot).unwrap().readings[0].can_put_back(), "another was taken since");
    store.finish(snapshot, AT).unwrap();
    assert_eq!(store.mark(first.id, Mark::PutBack, "", None, AT).unwrap_err().code(), "snapshot_finished");
    let error = store.take(snapshot, &tape("rail.RL", "12", 304.8, "r3"), "1", AT).unwrap_err();
    assert!(matches!(error, StoreError::Finished { .. }), "{error}");
}

#[test]
fn half_typed_text_is_kept_until_the_reading_is_taken() {
    let mut store = Store::in_memory().unwrap();
    let (_, snapshot) = begun(&mut store);
    store.keep_draft(snapshot, "b1/1/rail.FL", "10 7/", AT).unwrap();
    assert_eq!(store.snapshot(snapshot).unwrap().draft.unwrap().text, "10 7/");
    store.take(snapshot, &tape("rail.FL", "10 7/16", 265.1125, "r1"), "b1/1/rail.FR", AT).unwrap();
    let draft = store.snapshot(snapshot).unwrap().draft.unwrap();
    assert_eq!((draft.step.as_str(), draft.text.as_str()), ("b1/1/rail.FR", ""));
}

#[test]
fn a_spot_read_anew_is_one_transaction_so_two_never_count() {
    let mut store = Store::in_memory().unwrap();
    let (car, floor) = (begun(&mut store).0, Uuid::from_u128(7));
    store.add_floor(floor, car, &json!({"id": "drive"}), AT).unwrap();
    let staff = |pass_no: u32, place: &str, text: &str| NewReading {
        kind: ReadingKind::Staff,
        bounce: String::new(),
        pass_no,
        unit: "mm".to_owned(),
        ..tape(place, text, text.parse().unwrap(), &format!("{pass_no} {place} {text}"))
    };
    for (pass_no, place, text) in [(1, "S1", "980"), (1, "S2", "1016"), (2, "S1", "981"), (1, "S1", "985")] {
        store.take_on_floor(floor, &staff(pass_no, place, text), AT).unwrap();
    }
    // No other call came: nothing that could be missing after a sudden death.
    let readings = store.floor(floor).unwrap().readings;
    let counts: Vec<_> = readings.iter().filter(|reading| reading.counts()).map(|r| r.taken.text.as_str()).collect();
    assert_eq!(counts, ["1016", "981", "985"]);
    let reason = "read anew".to_owned();
    assert_eq!(readings[0].standing, Standing::Struck { reason, at: Some(AT.iso()) });
    assert_eq!(store.take_on_floor(floor, &staff(1, "S1", "985"), AT).unwrap(), Taken::Before);
}

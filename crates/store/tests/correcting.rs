//! Corrections of finished snapshots: what counts, what is kept, and that a file carries both.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use proptest::prelude::*;
use serde_json::{Map, Value, json};
use trueground_core::capture::{Corrected, Correction};
use trueground_store::{NewReading, ReadingKind, Stamp, Standing, Store, StoreError, Taken};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 120 };
const CAR: Uuid = Uuid::from_u128(1);
const SNAPSHOT: Uuid = Uuid::from_u128(2);

fn tape(number: u128, place: &str, text: &str, value: f64) -> NewReading {
    NewReading {
        id: Uuid::from_u128(100 + number),
        kind: ReadingKind::Tape,
        bounce: "b1".to_owned(),
        pass_no: 0,
        place: place.to_owned(),
        round: 1,
        reversed: false,
        text: text.to_owned(),
        unit: "in".to_owned(),
        value,
        extra: Map::new(),
        request: None,
    }
}

/// Two hubs read, 24 5/8 and 24 in, and finished.
fn finished(store: &mut Store) {
    let vehicle = json!({"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0});
    store.add_car(CAR, &json!({"vehicle": vehicle, "floors": [], "snapshots": []}), AT).unwrap();
    let document = json!({"id": SNAPSHOT.to_string(), "date": "2031-04-15", "odometer_km": 5.0, "bounces": [{"bounce_id": "b1", "readings": []}]});
    store.begin_snapshot(SNAPSHOT, CAR, &document, &json!({}), AT).unwrap();
    store.take(SNAPSHOT, &tape(1, "hub.FL", "24 5/8", 625.475), "1", AT).unwrap();
    store.take(SNAPSHOT, &tape(2, "hub.FR", "24", 609.6), "2", AT).unwrap();
    store.finish(SNAPSHOT, AT).unwrap();
}

fn correction(number: u128, what: Corrected) -> Correction {
    Correction {
        uuid: Uuid::from_u128(1000 + number).to_string(),
        at: Some("2031-05-03T10:00:00+02:00".to_owned()),
        what,
        reason: "wrong edge".to_owned(),
        reading: None,
        field: None,
        of: None,
        old: None,
        new: None,
        text: None,
        extra: Map::new(),
    }
}

fn about(number: u128, what: Corrected, reading: u128) -> Correction {
    Correction { reading: Some(Uuid::from_u128(100 + reading).to_string()), ..correction(number, what) }
}

fn value(number: u128, old: (&str, f64), new: (&str, f64)) -> Correction {
    let written = |(text, mm): (&str, f64)| Some(json!({"text": text, "unit": "in", "value_mm": mm}));
    Correction { old: written(old), new: written(new), ..about(number, Corrected::Value, 1) }
}

fn condition(number: u128, field: &str, old: Value, new: Value) -> Correction {
    let some = |value: Value| (!value.is_null()).then_some(value);
    Correction {
        field: Some(field.to_owned()),
        old: some(old),
        new: some(new),
        ..correction(number, Corrected::Condition)
    }
}

fn taking_back(number: u128, of: u128) -> Correction {
    Correction { of: Some(Uuid::from_u128(1000 + of).to_string()), ..correction(number, Corrected::TakenBack) }
}

fn correct(store: &mut Store, correction: &Correction) {
    assert_eq!(store.correct(SNAPSHOT, correction, &correction.uuid, AT).unwrap(), Taken::Now);
}

fn added(number: u128) -> Correction {
    let new = json!({"bounce_id": "b1", "ref": "hub.RL", "repeat": 1, "text": "25", "unit": "in", "value_mm": 635.0,
        "taken_at": "2031-04-15T09:30:00+02:00"});
    Correction { new: Some(new), ..about(number, Corrected::Added, 3) }
}

fn file(store: &Store) -> Value {
    store.car_file(CAR).unwrap().document["snapshots"][0].clone()
}

#[test]
fn what_counts_is_corrected_and_what_was_read_stays() {
    let mut store = Store::in_memory().unwrap();
    finished(&mut store);
    let version = store.car(CAR).unwrap().version;
    correct(&mut store, &value(1, ("24 5/8", 625.475), ("23 5/8", 600.075)));
    assert!(store.car(CAR).unwrap().version > version, "what was worked out before no longer holds");
    correct(&mut store, &about(2, Corrected::Struck, 2));
    correct(&mut store, &added(3));
    correct(&mut store, &condition(4, "odometer_km", json!(5.0), json!(50.0)));
    correct(&mut store, &condition(5, "facing", Value::Null, json!("B")));
    let kept = store.snapshot(SNAPSHOT).unwrap();
    let says: Vec<_> =
        kept.readings.iter().map(|each| (each.taken.text.as_str(), each.taken.value, each.counts())).collect();
    assert_eq!(says, [("23 5/8", 600.075, true), ("24", 609.6, false), ("25", 635.0, true)]);
    assert_eq!((&kept.document["odometer_km"], &kept.document["facing"]), (&json!(50.0), &json!("B")));

    let snapshot = file(&store);
    let readings = &snapshot["bounces"][0]["readings"];
    assert_eq!(readings[0]["value_mm"], 600.075, "whoever knows no corrections reads what counts");
    assert_eq!(readings[1]["struck"]["reason"], "wrong edge");
    assert_eq!(
        (&readings[2]["ref"], &readings[2]["taken_at"]),
        (&json!("hub.RL"), &json!("2031-04-15T09:30:00+02:00"))
    );
    assert_eq!(snapshot["corrections"][0]["old"]["text"], "24 5/8", "and the correction keeps what it corrects");

    correct(&mut store, &about(6, Corrected::BroughtBack, 2));
    correct(&mut store, &taking_back(7, 1));
    correct(&mut store, &taking_back(8, 3));
    let kept = store.snapshot(SNAPSHOT).unwrap();
    let says: Vec<_> = kept.readings.iter().map(|each| (each.taken.text.as_str(), each.standing.clone())).collect();
    assert_eq!(says, [("24 5/8", Standing::Kept), ("24", Standing::Kept)]);
    assert_eq!(kept.corrections.len(), 8, "the history only grows");
}

#[test]
fn a_correction_asked_for_twice_is_stored_once_and_an_unfinished_snapshot_takes_none() {
    let mut store = Store::in_memory().unwrap();
    finished(&mut store);
    let first = value(1, ("24 5/8", 625.475), ("23 5/8", 600.075));
    correct(&mut store, &first);
    let again = Correction { uuid: Uuid::from_u128(9).to_string(), ..first.clone() };
    assert_eq!(store.correct(SNAPSHOT, &again, &first.uuid, AT).unwrap(), Taken::Before);
    let other = Correction { uuid: Uuid::from_u128(9).to_string(), reason: "misread".to_owned(), ..first.clone() };
    assert_eq!(store.correct(SNAPSHOT, &other, &first.uuid, AT).unwrap(), Taken::Now, "another one is not lost");

    let refused = store.correct(SNAPSHOT, &about(5, Corrected::Struck, 77), "x", AT).unwrap_err();
    assert!(matches!(refused, StoreError::NotFound { what: "reading", .. }), "{refused}");
    let refused = store.correct(SNAPSHOT, &taking_back(5, 77), "x", AT).unwrap_err();
    assert!(matches!(refused, StoreError::NotFound { what: "correction", .. }), "{refused}");
    let open = Uuid::from_u128(3);
    store.begin_snapshot(open, CAR, &json!({"id": open.to_string(), "bounces": []}), &json!({}), AT).unwrap();
    let refused = store.correct(open, &condition(5, "label", Value::Null, json!("x")), "x", AT).unwrap_err();
    assert_eq!(
        refused.to_string(),
        format!("Snapshot {open} is unfinished: it is changed in its walk, not corrected.")
    );
    assert_eq!(store.snapshot(SNAPSHOT).unwrap().corrections.len(), 2);
}

#[test]
fn a_corrected_car_goes_out_and_comes_in_as_it_was_and_an_older_file_reverts_nothing() {
    let mut store = Store::in_memory().unwrap();
    finished(&mut store);
    let uncorrected = store.car_file(CAR).unwrap().document;
    correct(&mut store, &value(1, ("24 5/8", 625.475), ("23 5/8", 600.075)));
    correct(&mut store, &condition(2, "odometer_km", json!(5.0), Value::Null));
    correct(&mut store, &added(3));
    correct(&mut store, &about(4, Corrected::Struck, 2));
    let out = store.car_file(CAR).unwrap().document;

    let again = store.import_document(out.clone(), AT).unwrap();
    assert!(!again.changed, "its own file brings nothing new");
    let older = store.import_document(uncorrected.clone(), AT).unwrap();
    assert!(!older.changed, "a file from before the corrections reverts nothing");
    assert_eq!(store.car_file(CAR).unwrap().document, out);

    let mut elsewhere = Store::in_memory().unwrap();
    let imported = elsewhere.import_document(out.clone(), AT).unwrap();
    assert_eq!((imported.new_readings, imported.new_corrections), (2, 4));
    assert_eq!(elsewhere.car_file(CAR).unwrap().document, out);
    let as_finished = elsewhere.snapshot(SNAPSHOT).unwrap();
    assert_eq!(as_finished.readings.len(), 3);
    correct(&mut elsewhere, &taking_back(5, 1));
    assert_eq!(elsewhere.snapshot(SNAPSHOT).unwrap().readings[0].taken.text, "24 5/8", "what was read came along");

    let mut behind = Store::in_memory().unwrap();
    behind.import_document(uncorrected, AT).unwrap();
    let caught_up = behind.import_document(out, AT).unwrap();
    assert_eq!((caught_up.new_readings, caught_up.new_corrections), (0, 4));
    assert_eq!(behind.snapshot(SNAPSHOT).unwrap().readings[0].taken.text, "23 5/8");
}

#[test]
fn a_file_with_a_correction_of_nothing_is_refused() {
    let mut store = Store::in_memory().unwrap();
    finished(&mut store);
    let mut out = store.car_file(CAR).unwrap().document;
    out["snapshots"][0]["corrections"] = json!([{"uuid": "none", "what": "struck", "reading": "x"}]);
    assert!(store.import_document(out.clone(), AT).is_err());
    out["snapshots"][0]["corrections"] = json!([{"uuid": "none", "what": "improved"}]);
    let refused = store.import_document(out, AT).unwrap_err().to_string();
    assert!(refused.starts_with("snapshots[0].corrections[0]"), "{refused}");
    assert_eq!(store.snapshot(SNAPSHOT).unwrap().corrections.len(), 0);
}

proptest! {
    /// The history of one value and one condition, with taking back at random: what counts is the newest correction that
    /// stands, wherever the history is replayed: here, or in a garage it came to as a file.
    #[test]
    fn a_history_replays_to_the_same_values(steps in prop::collection::vec((0..4_u8, 0..8_usize), 1..12)) {
        let mut store = Store::in_memory().unwrap();
        finished(&mut store);
        let mut history: Vec<(u128, Option<u128>, f64)> = Vec::new();
        for (number, (sort, which)) in (1_u128..).zip(&steps) {
            let mm = 600.0 + number as f64;
            if *sort == 0 && !history.is_empty() {
                let of = history[which % history.len()].0;
                correct(&mut store, &taking_back(number, of));
                history.push((number, Some(of), 0.0));
            } else {
                let text = mm.to_string();
                correct(&mut store, &value(number, ("24 5/8", 625.475), (&text, mm)));
                history.push((number, None, mm));
            }
        }
        // By hand: from the newest to the oldest, one that stands and takes another back fells it.
        let mut felled = Vec::new();
        let mut expected = None;
        for (number, of, mm) in history.iter().rev() {
            if felled.contains(number) { continue }
            match of {
                Some(of) => felled.push(*of),
                None => { expected.get_or_insert(*mm); }
            }
        }
        let expected = expected.unwrap_or(625.475);
        prop_assert_eq!(store.snapshot(SNAPSHOT).unwrap().readings[0].taken.value, expected);
        let mut elsewhere = Store::in_memory().unwrap();
        elsewhere.import_document(store.car_file(CAR).unwrap().document, AT).unwrap();
        prop_assert_eq!(elsewhere.snapshot(SNAPSHOT).unwrap().readings[0].taken.value, expected);
        prop_assert_eq!(elsewhere.car_file(CAR).unwrap().document, store.car_file(CAR).unwrap().document);
    }
}

//! Dated work on a car: what counts, what is kept, and that a file carries both.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use serde_json::{Value, json};
use trueground_core::capture::{Event, EventChange, EventChanged};
use trueground_store::{Stamp, Store, Taken};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 120 };
const CAR: Uuid = Uuid::from_u128(1);

fn with_a_car() -> Store {
    let mut store = Store::in_memory().unwrap();
    let vehicle = json!({"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0});
    store.add_car(CAR, &json!({"vehicle": vehicle}), AT).unwrap();
    store
}

fn row(number: u128, what: EventChanged, says: Option<&str>) -> EventChange {
    let says = says.map(|what| Event { date: "2031-05-03".to_owned(), what: what.to_owned(), ..Event::default() });
    EventChange {
        uuid: Uuid::from_u128(1000 + number).to_string(),
        event: Uuid::from_u128(7).to_string(),
        at: Some("2031-05-03T18:20:00+02:00".to_owned()),
        what,
        reason: String::new(),
        says,
        extra: serde_json::Map::new(),
    }
}

/// One leaf out, then two, withdrawn and brought back.
fn four_rows(store: &mut Store) {
    let rows = [
        row(1, EventChanged::Kept, Some("one leaf out")),
        row(2, EventChanged::Changed, Some("two leaves out")),
        row(3, EventChanged::Withdrawn, None),
        row(4, EventChanged::BroughtBack, None),
    ];
    for (number, row) in rows.iter().enumerate() {
        assert_eq!(store.write_event(CAR, row, Some(&number.to_string()), AT).unwrap(), Taken::Now);
        assert_eq!(store.write_event(CAR, row, Some(&number.to_string()), AT).unwrap(), Taken::Before, "asked twice");
    }
}

fn counting(store: &Store, car: Uuid) -> Vec<String> {
    let file = store.car_file(car).unwrap();
    assert_eq!(file.damaged, Vec::<String>::new());
    let events = file.document["events"].as_array().cloned().unwrap_or_default();
    events.iter().map(|event| event["what"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn the_last_row_counts_and_none_is_lost() {
    let mut store = with_a_car();
    four_rows(&mut store);
    let (events, damaged) = store.car_events(CAR).unwrap();
    assert_eq!((events.len(), damaged.len()), (1, 0));
    assert_eq!((events[0].event.what.as_str(), events[0].counts, events[0].rows.len()), ("two leaves out", true, 4));
    assert_eq!(counting(&store, CAR), ["two leaves out"]);
    let gone = EventChange { event: Uuid::from_u128(8).to_string(), ..row(5, EventChanged::Withdrawn, None) };
    assert_eq!(store.write_event(CAR, &gone, None, AT).unwrap_err().code(), "not_found");
    store.write_event(CAR, &row(6, EventChanged::Withdrawn, None), None, AT).unwrap();
    assert_eq!(counting(&store, CAR), Vec::<String>::new(), "but it stays in the book");
    assert!(!store.car_events(CAR).unwrap().0[0].counts);
}

#[test]
fn the_database_itself_refuses_to_change_or_delete_a_row() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.add_car(CAR, &with_a_car().car(CAR).unwrap().document, AT).unwrap();
    four_rows(&mut store);
    drop(store);
    let connection = rusqlite::Connection::open(&path).unwrap();
    for sql in ["UPDATE event SET document = '{}'", "DELETE FROM event"] {
        let refused = connection.execute(sql, []).unwrap_err().to_string();
        assert!(refused.contains("never"), "{sql}: {refused}");
    }
    drop(connection);
    assert_eq!(counting(&Store::open(&path).unwrap(), CAR), ["two leaves out"], "after a restart");
}

#[test]
fn a_damaged_row_is_said_and_left_out() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    store.add_car(CAR, &with_a_car().car(CAR).unwrap().document, AT).unwrap();
    four_rows(&mut store);
    drop(store);
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection
        .execute_batch(
            "DROP TRIGGER event_is_kept;
             UPDATE event SET document = replace(document, 'two leaves', 'six leaves');
             CREATE TRIGGER event_is_kept BEFORE UPDATE ON event
BEGIN SELECT raise(ABORT, 'an event is never changed, only followed by another row'); END;",
        )
        .unwrap();
    drop(connection);
    let store = Store::open(&path).unwrap();
    let file = store.car_file(CAR).unwrap();
    assert_eq!(file.document["events"][0]["what"], "one leaf out", "what was kept before still stands");
    assert!(file.damaged[0].contains("six leaves"), "{:?}", file.damaged);
    assert!(store.check().unwrap().iter().any(|what| what.contains("history")));
}

#[test]
fn a_file_carries_what_counts_and_what_happened_and_is_read_twice_without_change() {
    let mut store = with_a_car();
    four_rows(&mut store);
    store.write_event(CAR, &row(5, EventChanged::Withdrawn, None), None, AT).unwrap();
    let file = store.car_file(CAR).unwrap().document;
    assert_eq!(file["event_changes"].as_array().unwrap().len(), 5);
    let mut other = Store::in_memory().unwrap();
    let brought = other.import_document(file.clone(), AT).unwrap();
    assert_eq!(brought.new_events, 5);
    assert_eq!(other.car_file(brought.car).unwrap().document, file);
    let again = other.import_document(file, AT).unwrap();
    assert!(!again.changed && again.new_events == 0);
    assert!(!other.car_events(brought.car).unwrap().0[0].counts);
}

fn file(events: Value) -> Value {
    json!({"vehicle": {"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0, "ref_points": []},
        "floors": [], "snapshots": [], "events": events})
}

#[test]
fn a_file_of_version_1_comes_back_as_it_went_in() {
    let same =
        json!({"date": "2031-05-03", "odometer_km": 48215, "what": "leaves out", "resets_settling": true, "by": "me"});
    let named = json!({"id": "e1", "date": "2031-06-01", "what": "tires", "kind": "tires"});
    let file = file(json!([same, same, named, {"date": "2031-07-01", "what": "washed"}]));
    let mut store = Store::in_memory().unwrap();
    let brought = store.import_document(file.clone(), AT).unwrap();
    assert_eq!(brought.new_events, 4);
    assert_eq!(store.car_file(brought.car).unwrap().document, file);
    assert!(!store.import_document(file, AT).unwrap().changed);
}

#[test]
fn an_older_file_reverts_nothing_and_another_hand_is_a_change() {
    let before = file(json!([{"date": "2031-05-03", "what": "leaves out", "resets_settling": true}]));
    let mut store = Store::in_memory().unwrap();
    let car = store.import_document(before.clone(), AT).unwrap().car;
    let kept = store.car_events(car).unwrap().0.remove(0);
    let says = Event { note: Some("two of eight".to_owned()), ..kept.event.clone() };
    let changed = EventChange { event: kept.name, says: Some(says), ..row(1, EventChanged::Changed, None) };
    store.write_event(car, &changed, None, AT).unwrap();
    assert!(!store.import_document(before, AT).unwrap().changed, "an older file");
    let after = store.car_file(car).unwrap().document;
    assert_eq!(after["events"][0]["note"], "two of eight");
    assert_eq!(after["event_changes"].as_array().unwrap().len(), 2);
    let mut by_hand = after.clone();
    by_hand["events"][0]["odometer_km"] = json!(48_215.0);
    assert_eq!(store.import_document(by_hand.clone(), AT).unwrap().new_events, 1);
    assert_eq!(store.import_document(by_hand, AT).unwrap().new_events, 0);
    let event = store.car_events(car).unwrap().0.remove(0);
    assert_eq!((event.event.odometer_km, event.rows.len()), (Some(48_215.0), 3));
    assert!(!store.import_document(after, AT).unwrap().changed, "and what stood there before is older");
}

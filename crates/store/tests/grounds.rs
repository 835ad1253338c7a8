//! Grounds in the garage: kept, changed, put away, and through an exchange file and back; stations taken, taken back and put back.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use serde_json::{Value, json};
use trueground_store::{Imported, Stamp, Store, Taken};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: -330 };

fn file() -> Value {
    json!({"vehicle": {"label": "Low one", "wheelbase_mm": 2565, "track_front_mm": 1400, "track_rear_mm": 1420},
        "grounds": [
            {"id": "drive", "label": "home", "kind": "driveway", "later": {"kept": true}, "string": {"slope_deg": 0.5, "stations": [
                {"along_mm": 0, "down_mm": 300, "text": "300", "unit": "mm", "wet": true},
                {"along_mm": 400, "down_mm": 300},
                {"along_mm": 400, "down_mm": 265, "struck": {"reason": "misread"}}]}},
            {"id": "trailer", "kind": "trailer_ramp", "shape": {"kind": "ramp", "angle_deg": 11, "rise_mm": 600}}]})
}

fn import(store: &mut Store, file: &Value) -> Imported {
    store.import(&file.to_string(), AT).unwrap()
}

fn station(along: u32, down: u32) -> Value {
    json!({"along_mm": along, "down_mm": down, "along_text": along.to_string(), "text": down.to_string(), "unit": "mm"})
}

fn heights(store: &Store) -> Vec<f64> {
    let ground = store.ground("drive").unwrap();
    let counting = ground.stations.iter().filter(|station| station.counts());
    counting.map(|station| station.document["down_mm"].as_f64().unwrap()).collect()
}

#[test]
fn grounds_come_back_as_they_went_in_and_a_file_read_twice_changes_nothing() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    let written = store.car_file(car).unwrap().document;
    assert_eq!(written["grounds"], file()["grounds"]);
    assert!(!import(&mut store, &file()).changed && !import(&mut store, &written).changed);
}

#[test]
fn what_is_described_anew_counts_and_an_older_file_reverts_nothing() {
    let mut store = Store::in_memory().unwrap();
    let car = import(&mut store, &file()).car;
    let mut later = file();
    later["grounds"][1]["put_away"] = json!(true);
    assert!(import(&mut store, &later).changed);
    assert!(!import(&mut store, &file()).changed);
    assert_eq!(store.ground("trailer").unwrap().document["put_away"], true);
    // Every car of the garage has them.
    let other =
        json!({"vehicle": {"label": "Other", "wheelbase_mm": 2400, "track_front_mm": 1300, "track_rear_mm": 1300}});
    let other = import(&mut store, &other).car;
    assert_eq!(store.car_file(other).unwrap().document["grounds"], store.car_file(car).unwrap().document["grounds"]);
}

#[test]
fn stations_are_taken_once_taken_back_and_put_back_until_another_is_taken() {
    let mut store = Store::in_memory().unwrap();
    store.keep_ground(&json!({"id": "drive", "label": "home", "kind": "driveway", "string": {}}), AT).unwrap();
    let before = store.grounds_version().unwrap();
    let take = |store: &mut Store, number: u128, along, down| {
        let request = format!("request {number}");
        store.take_station("drive", Uuid::from_u128(number), &station(along, down), &request, AT).unwrap()
    };
    assert_eq!(take(&mut store, 1, 0, 300), Taken::Now);
    assert_eq!(take(&mut store, 1, 0, 300), Taken::Before, "the same request again");
    take(&mut store, 2, 400, 310);
    take(&mut store, 3, 800, 320);
    assert_eq!(heights(&store), [300.0, 310.0, 320.0]);
    store.take_station_back("drive", AT).unwrap();
    store.take_station_back("drive", AT).unwrap();
    assert_eq!(heights(&store), [300.0]);
    store.put_station_back("drive", AT).unwrap();
    assert_eq!(heights(&store), [300.0, 310.0]);
    take(&mut store, 4, 200, 305);
    assert_eq!(heights(&store), [300.0, 310.0, 305.0]);
    assert!(store.put_station_back("drive", AT).is_err(), "another was taken since");
    assert!(store.grounds_version().unwrap() > before);
    // In the file they stand as they are driven over, the one that was taken back among them, and each with its id.
    let written = store.ground("drive").unwrap().file();
    let along: Vec<f64> =
        written["string"]["stations"].as_array().unwrap().iter().map(|s| s["along_mm"].as_f64().unwrap()).collect();
    assert_eq!(along, [0.0, 200.0, 400.0, 800.0]);
    assert_eq!(written["string"]["stations"][3]["struck"]["reason"], "taken back");
    assert_eq!(written["string"]["stations"][1]["uuid"], Uuid::from_u128(4).to_string());
    // Read in elsewhere it is the same ground.
    let mut file = file();
    file["grounds"] = json!([written]);
    let mut elsewhere = Store::in_memory().unwrap();
    let car = import(&mut elsewhere, &file).car;
    assert_eq!(elsewhere.car_file(car).unwrap().document["grounds"], file["grounds"]);
    assert_eq!(heights(&elsewhere), [300.0, 305.0, 310.0]);
}

#[test]
fn nothing_of_a_ground_is_changed_or_deleted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garage.db");
    let mut store = Store::open(&path).unwrap();
    let car = import(&mut store, &file()).car;
    drop(store);
    let connection = rusqlite::Connection::open(&path).unwrap();
    for sql in [
        "UPDATE ground SET document = ''",
        "DELETE FROM ground",
        "UPDATE ground_station SET document = ''",
        "DELETE FROM ground_station",
    ] {
        assert!(connection.execute(sql, []).is_err(), "{sql}");
    }
    // One bit of a station turned over behind the program's back: it is set aside and said, the rest stays.
    connection.execute_batch("DROP TRIGGER ground_station_is_kept").unwrap();
    connection.execute("UPDATE ground_station SET document = replace(document, '265', '365')", []).unwrap();
    connection
        .execute_batch(
            "CREATE TRIGGER ground_station_is_kept BEFORE UPDATE ON ground_station
BEGIN SELECT raise(ABORT, 'a reading is never changed, only superseded'); END;",
        )
        .unwrap();
    drop(connection);
    let store = Store::open(&path).unwrap();
    assert_eq!(heights(&store), [300.0, 300.0]);
    assert_eq!(store.car_file(car).unwrap().damaged, ["a station of ground drive"]);
}

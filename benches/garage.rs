//! A garage of fifty cars, two hundred snapshots each, forty readings each, listed through the app, against the bare query.

use criterion::Criterion;
use rusqlite::Connection;
use serde_json::{Value, json};
use std::path::Path;
use trueground_app::{Garage, Now, dispatch};
use trueground_benches::{Ratio, criterion, print};
use trueground_store::{Derived, Stamp, Store};
use uuid::Uuid;

const GROUP: &str = "garage of 50 cars x 200 snapshots x 40 readings";
const JOB: &str = "listed through the app";
const YARDSTICK: &str = "bare query";
const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };
const CARS: usize = 50;
const SNAPSHOTS: usize = 200;
const ROUNDS: usize = 5;

/// The same facts about every car, and nothing else.
const BARE: &str = "SELECT car.uuid, car.label, derived.row,
        (SELECT uuid FROM snapshot WHERE car = car.id AND id NOT IN (SELECT snapshot FROM finish) ORDER BY id DESC LIMIT 1),
        EXISTS (SELECT 1 FROM snapshot JOIN finish ON finish.snapshot = snapshot.id WHERE snapshot.car = car.id)
    FROM car LEFT JOIN derived ON derived.car = car.id ORDER BY car.used DESC";

fn main() {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder can be made");
    let path = folder.path().join("garage.db");
    fill(&path);
    let fresh_id = || Uuid::nil();
    let now = Now { utc_ms: AT.utc_ms, offset_minutes: 0, fresh_id: &fresh_id };

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    {
        let mut garage = Garage::open(&path, &now).expect("the garage opens");
        let listed = dispatch(&mut garage, "open_garage", json!({}), &now).expect("the garage is listed");
        let cars = listed["cars"].as_array().expect("a list of cars");
        assert!(cars.len() == CARS && cars.iter().all(|car| car["side"].is_object()), "every car is drawn");
        group.bench_function(JOB, |turn| {
            turn.iter(|| dispatch(&mut garage, "open_garage", json!({}), &now).expect("the garage is listed"));
        });
    }
    {
        let connection = Connection::open(&path).expect("the file opens");
        let mut bare = connection.prepare(BARE).expect("the query is sound");
        group.bench_function(YARDSTICK, |turn| {
            turn.iter(|| {
                let rows = bare.query_map([], |row| {
                    Ok((row.get::<_, Vec<u8>>(0)?, row.get::<_, String>(1)?, row.get::<_, String>(2)?))
                });
                rows.expect("the query runs").map(|row| row.expect("a row").1.len()).sum::<usize>()
            });
        });
    }
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 5 ×, ≤ 5 ms" });
    criterion.final_summary();
}

/// Cars as the exchange file has them, each with the result that finishing its last snapshot would have kept.
fn fill(path: &Path) {
    let sample: Value = serde_json::from_str(include_str!("../sample-data/sloping-drive.json")).expect("sample data");
    let result = kept_result(&sample);
    let mut store = Store::open(path).expect("a garage can be made");
    for number in 0..CARS {
        let mut file = sample.clone();
        file["vehicle"]["label"] = json!(format!("Car {number}"));
        let snapshots = (0..SNAPSHOTS).map(|snapshot| self::snapshot(&format!("s{snapshot}")));
        file["snapshots"] = Value::Array(snapshots.collect());
        let imported = store.import_document(file, AT).expect("a car is read in");
        assert_eq!(imported.new_readings, SNAPSHOTS * 40 + 24, "forty readings a snapshot, and the floor's");
        let version = store.car(imported.car).expect("it is there").version;
        store.keep_derived(imported.car, &Derived { version, ..result.clone() }).expect("its result is kept");
    }
}

/// Eight points in five rounds: forty readings.
fn snapshot(name: &str) -> Value {
    let mut readings = Vec::new();
    for round in 1..=ROUNDS {
        for (kind, height) in [("lip", 700.0), ("rail", 420.0)] {
            for corner in ["FL", "FR", "RL", "RR"] {
                let value = height + round as f64;
                readings.push(json!({"ref": format!("{kind}.{corner}"), "repeat": round, "text": format!("{value}"), "unit": "mm", "value_mm": value}));
            }
        }
    }
    json!({"id": name, "date": "2031-04-12", "floor": "drive", "bounces": [{"bounce_id": format!("{name}.b1"), "readings": readings}]})
}

/// What the app keeps about a car whose last snapshot is finished, taken from the app itself.
fn kept_result(sample: &Value) -> Derived {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder can be made");
    let path = folder.path().join("one.db");
    let fresh_id = || Uuid::nil();
    let now = Now { utc_ms: AT.utc_ms, offset_minutes: 0, fresh_id: &fresh_id };
    let mut garage = Garage::open(&path, &now).expect("a garage can be made");
    let request = json!({"name": "sample", "text": sample.to_string()});
    dispatch(&mut garage, "import_file", request, &now).expect("the sample is read in");
    drop(garage);
    let store = Store::open(&path).expect("it opens");
    let heads = store.cars().expect("it is listed");
    heads.into_iter().find_map(|head| head.derived).expect("its result is kept")
}

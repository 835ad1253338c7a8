//! Floors: straightedge readings are kept like all others, and a floor can carry more than one car, through files in any order.

use serde_json::{Map, Value, json};
use trueground_store::{Mark, NewReading, ReadingKind, Stamp, Standing, Store, Taken};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 60 };

fn car(label: &str, wheelbase_mm: u32) -> Value {
    json!({"floors": [], "snapshots": [], "vehicle": {"label": label, "wheelbase_mm": wheelbase_mm, "track_front_mm": 1400, "track_rear_mm": 1410, "ref_points": [
        {"id": "lip.FL", "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 800}]}})
}

/// The owner with a floor that is levelled, under a point too.
fn owner() -> Value {
    let mut file = car("Owner", 2600);
    let readings = json!([{"point": "S1", "text": "900", "unit": "mm", "value_mm": 900.0},
        {"point": "under:lip.FL", "text": "903", "unit": "mm", "value_mm": 903.0}]);
    let edge = json!({"from": "S1", "to": "S2", "angle_deg": 0.5, "reversed": false, "text": "0.5"});
    file["floors"] = json!([{"id": "home", "label": "Garage", "survey": {"method": "hose",
        "passes": [{"pass_no": 1, "readings": readings}], "straightedge": [edge]}}]);
    file
}

fn straightedge(place: &str, reversed: bool, value: f64, request: &str) -> NewReading {
    NewReading {
        id: Uuid::new_v5(&Uuid::NAMESPACE_OID, request.as_bytes()),
        kind: ReadingKind::Straightedge,
        bounce: String::new(),
        pass_no: 1,
        place: place.to_owned(),
        round: 1,
        reversed,
        text: value.to_string(),
        unit: "deg".to_owned(),
        value,
        extra: Map::new(),
        request: Some(request.to_owned()),
    }
}

#[test]
fn each_way_round_of_a_straightedge_counts_once_and_the_earlier_one_stays_in_the_book() {
    let mut store = Store::in_memory().unwrap();
    let imported = store.import(&owner().to_string(), AT).unwrap();
    let floor = store.floors(imported.car).unwrap()[0].0;
    for (reversed, value, request) in [(false, 0.4, "a"), (true, -0.2, "b"), (false, 0.6, "c")] {
        let reading = straightedge("S3/S4", reversed, value, request);
        assert_eq!(store.take_on_floor(floor, &reading, AT).unwrap(), Taken::Now);
        assert_eq!(store.take_on_floor(floor, &reading, AT).unwrap(), Taken::Before, "the same request again");
    }
    let kept = store.floor(floor).unwrap();
    let rear: Vec<_> = kept.readings.iter().filter(|reading| reading.taken.place == "S3/S4").collect();
    let counting: Vec<f64> =
        rear.iter().filter(|reading| reading.counts()).map(|reading| reading.taken.value).collect();
    assert_eq!((rear.len(), counting), (3, vec![-0.2, 0.6]));
    assert!(matches!(&rear[0].standing, Standing::Struck { reason, .. } if reason == "read anew"));
    store.mark(rear[1].taken.id, Mark::Struck, "gauge was dropped", None, AT).unwrap();

    let file = store.car_file(imported.car).unwrap().document;
    let edges = file["floors"][0]["survey"]["straightedge"].as_array().unwrap();
    assert_eq!(edges.len(), 4);
    assert_eq!((&edges[2]["from"], &edges[2]["to"], &edges[2]["reversed"]), (&json!("S3"), &json!("S4"), &json!(true)));
    assert_eq!(edges[2]["struck"]["reason"], "gauge was dropped");
    let mut elsewhere = Store::in_memory().unwrap();
    elsewhere.import(&file.to_string(), AT).unwrap();
    assert_eq!(elsewhere.car_file(imported.car).unwrap().document, file);
}

#[test]
fn a_floor_carries_a_second_car_with_its_footprint_and_without_the_first_cars_points() {
    let mut store = Store::in_memory().unwrap();
    let first = store.import(&owner().to_string(), AT).unwrap().car;
    let second = store.import(&car("Guest", 2785).to_string(), AT).unwrap().car;
    let floor = store.floors(first).unwrap()[0].0;
    let version = store.car_head(second).unwrap().version;
    store.use_floor(second, floor, AT).unwrap();
    assert!(store.car_head(second).unwrap().version > version, "what is worked out of it is worked out anew");
    let version = store.car_head(second).unwrap().version;
    store.use_floor(second, floor, AT).unwrap();
    store.use_floor(first, floor, AT).unwrap();
    assert_eq!((store.car_head(second).unwrap().version, store.floors(first).unwrap().len()), (version, 1));
    assert_eq!(store.floors(second).unwrap(), [(floor, floor.to_string())]);

    let file = store.car_file(second).unwrap().document;
    let shared = &file["floors"][0];
    let footprint = json!({"wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1410});
    assert_eq!((&shared["footprint"], &shared["label"]), (&footprint, &json!("Garage")));
    assert_eq!(shared["survey"]["passes"][0]["readings"].as_array().unwrap().len(), 1, "not under the other car's lip");
    // A reading taken for one counts for both, and both are worked out anew.
    let versions = [first, second].map(|car| store.car_head(car).unwrap().version);
    store.take_on_floor(floor, &straightedge("S1/S3", false, 1.0, "d"), AT).unwrap();
    let later = [first, second].map(|car| store.car_head(car).unwrap().version);
    assert!(later[0] > versions[0] && later[1] > versions[1]);
    assert_eq!(
        store.car_file(second).unwrap().document["floors"][0]["survey"]["straightedge"].as_array().unwrap().len(),
        2
    );
}

#[test]
fn files_of_both_cars_make_one_floor_in_any_order_and_twice_is_once() {
    let mut store = Store::in_memory().unwrap();
    let first = store.import(&owner().to_string(), AT).unwrap().car;
    let second = store.import(&car("Guest", 2785).to_string(), AT).unwrap().car;
    let floor = store.floors(first).unwrap()[0].0;
    store.use_floor(second, floor, AT).unwrap();
    let files = [first, second].map(|car| store.car_file(car).unwrap().document);
    for file in &files {
        assert!(!store.import(&file.to_string(), AT).unwrap().changed, "its own files bring nothing new");
    }
    for order in [[0, 1], [1, 0]] {
        let mut other = Store::in_memory().unwrap();
        for which in order {
            assert!(other.import(&files[which].to_string(), AT).unwrap().changed);
        }
        for which in order {
            assert!(!other.import(&files[which].to_string(), AT).unwrap().changed, "{order:?}: {which} again");
        }
        for (car, file) in [first, second].into_iter().zip(&files) {
            assert_eq!(&other.car_file(car).unwrap().document, file, "{order:?}");
        }
        assert_eq!(other.floor(floor).unwrap().car, first, "it belongs to the car that marked it out");
        assert!(other.check().unwrap().is_empty());
    }
}

//! Any exchange file, whatever else it says, comes back from the store as it went in, however it is read in.

use proptest::prelude::*;
use serde_json::{Map, Value, json};
use trueground_store::{Stamp, Store};

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: -330 };

/// What a later version might write: any JSON under a key of its own.
fn unknown() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        (-1e6_f64..1e6).prop_map(Value::from),
        "\\PC{0,12}".prop_map(Value::from),
    ];
    leaf.prop_recursive(2, 8, 3, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..3).prop_map(Value::from),
            prop::collection::vec(("x_\\PC{0,4}", inner), 0..3)
                .prop_map(|keys| Value::Object(keys.into_iter().collect())),
        ]
    })
}

fn with(mut object: Value, later: Option<Value>) -> Value {
    if let (Some(later), Value::Object(keys)) = (later, &mut object) {
        keys.insert("from_later".to_owned(), later);
    }
    object
}

fn more() -> impl Strategy<Value = Option<Value>> {
    prop::option::weighted(0.3, unknown())
}

fn place() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["lip.FL", "lip.FR", "rail.RL", "hub.RR"])
}

/// Few places, rounds and values, so that many readings say the same.
fn reading() -> impl Strategy<Value = Value> {
    (place(), 1..3_u32, 500..503_u32, more(), prop::option::weighted(0.2, "\\PC{1,20}")).prop_map(
        |(place, repeat, mm, later, reason)| {
            let mut reading =
                json!({"ref": place, "repeat": repeat, "text": mm.to_string(), "unit": "mm", "value_mm": f64::from(mm)});
            if let Some(reason) = reason {
                reading["struck"] = json!({"reason": reason, "by": "me"});
            }
            with(reading, later)
        },
    )
}

fn staff() -> impl Strategy<Value = Value> {
    (1..5_u32, -0.5_f64..2000.0, more()).prop_map(|(spot, mm, later)| {
        with(json!({"point": format!("S{spot}"), "text": format!("{mm}"), "unit": "mm", "value_mm": mm}), later)
    })
}

fn passes() -> impl Strategy<Value = Value> {
    prop::collection::vec((prop::collection::vec(staff(), 0..5), more()), 0..3).prop_map(|passes| {
        let pass = |(number, (readings, later))| with(json!({"pass_no": number, "readings": readings}), later);
        (1_u32..).zip(passes).map(pass).collect()
    })
}

fn straightedge() -> impl Strategy<Value = Value> {
    (1..4_u32, any::<bool>(), -2.0_f64..2.0, 1..3_u32, more()).prop_map(|(from, reversed, deg, set, later)| {
        let mut edge = json!({"from": format!("S{from}"), "to": "S4", "reversed": reversed, "angle_deg": deg});
        if set != 1 {
            edge["pass_no"] = json!(set);
        }
        with(edge, later)
    })
}

fn floor() -> impl Strategy<Value = Value> {
    let edges = prop::option::of(prop::collection::vec(straightedge(), 0..4));
    (prop::option::of((passes(), edges, more())), more()).prop_map(|(survey, later)| {
        let survey = survey.map(|(passes, edges, later)| {
            let mut survey = json!({"method": "hose", "passes": passes});
            if let Some(edges) = edges {
                survey["straightedge"] = json!(edges);
            }
            with(survey, later)
        });
        with(json!({"label": "a floor", "survey": survey}), later)
    })
}

fn snapshot() -> impl Strategy<Value = Value> {
    let bounces = prop::collection::vec((prop::collection::vec(reading(), 0..6), more()), 0..3);
    let gauge = (any::<bool>(), -2.0_f64..2.0, more()).prop_map(|(reversed, deg, later)| {
        with(json!({"bounce_id": "b1", "where": "frame_rail_left", "reversed": reversed, "angle_deg": deg}), later)
    });
    let gauges = prop::option::of(prop::collection::vec(gauge, 0..3));
    (bounces, gauges, prop::option::of(passes()), prop::option::of(unknown()), more()).prop_map(
        |(bounces, gauges, planes, unfinished, later)| {
            let bounce = |(number, (readings, later)): (u32, (Vec<Value>, Option<Value>))| {
                with(json!({"bounce_id": format!("b{number}"), "readings": readings}), later)
            };
            let bounces: Vec<Value> = (1_u32..).zip(bounces).map(bounce).collect();
            let mut snapshot = json!({"date": "2031-04-12", "bounces": bounces});
            for (key, value) in
                [("angle_gauge", gauges.map(Value::from)), ("plane_on_car", planes), ("unfinished", unfinished)]
            {
                if let Some(value) = value {
                    snapshot[key] = value;
                }
            }
            with(snapshot, later)
        },
    )
}

fn part() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["clearance_points", "lamps", "lamp", "radius_rod", "drive", "driveline", "attitude"])
}

/// What is neither a list of parts nor one.
fn not_a_part() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!(true)),
        Just(json!("low")),
        Just(json!(12.5)),
        Just(json!([{"x_mm": "here"}])),
        Just(json!({"x_mm": []}))
    ]
}

fn named(items: Vec<Value>, stem: &str) -> Value {
    let named = items.into_iter().enumerate().map(|(number, mut item)| {
        item["id"] = json!(format!("{stem}{number}"));
        item
    });
    named.collect()
}

/// Things under the car, each said or not, in the shapes files have them.
fn described() -> impl Strategy<Value = Vec<(&'static str, Value)>> {
    let place = (-3000_i32..500, -800_i32..800, 50.0_f64..900.0, more()).prop_map(|(x, y, z, later)| {
        with(json!({"id": format!("at {x}"), "attach": "rear_axle", "x_mm": x, "y_mm": y, "z_mm": z}), later)
    });
    let lamp = || (100.0_f64..900.0, more()).prop_map(|(z, later)| with(json!({"x_mm": 240, "z_mm": z}), later));
    let rod = more().prop_map(|later| with(json!({"frame_pivot_x_mm": -980, "length_mm": 980}), later));
    let drive = more().prop_map(|later| with(json!({"axle_ratio": 4.11}), later));
    let line = json!({"transmission_deg": 3, "front_joint": [-900, 420], "rear_joint": [-2400.5, 395]});
    let line = more().prop_map(move |later| with(line.clone(), later));
    let flange = more().prop_map(|later| with(json!({"label": "flange", "nose_down_deg": -0.5}), later));
    (
        prop::collection::vec(place, 0..3),
        prop::collection::vec(lamp(), 0..3),
        prop::option::of(lamp()),
        prop::option::of(rod),
        prop::option::of(drive),
        prop::option::of(line),
        prop::collection::vec(flange, 0..2),
    )
        .prop_map(|(points, lamps, lamp, rod, drive, line, flanges)| {
            let lists = [("clearance_points", points), ("lamps", lamps), ("attitude", flanges)];
            let lists = lists.into_iter().filter(|(_, list)| !list.is_empty()).map(|(key, list)| (key, json!(list)));
            let single = [("lamp", lamp), ("radius_rod", rod), ("drive", drive), ("driveline", line)];
            lists.chain(single.into_iter().filter_map(|(key, value)| Some((key, value?)))).collect()
        })
}

fn file() -> impl Strategy<Value = Value> {
    let floors = prop::collection::vec(floor(), 0..3);
    let snapshots = prop::collection::vec(snapshot(), 0..3);
    let all = ("\\PC{1,20}", described(), floors, snapshots, more(), more());
    all.prop_map(|(label, described, floors, snapshots, of_vehicle, later)| {
        let mut vehicle =
            json!({"label": label, "wheelbase_mm": 2600, "track_front_mm": 1400.5, "track_rear_mm": 1400});
        for (key, value) in described {
            vehicle[key] = value;
        }
        let file = Map::from_iter([
            ("vehicle".to_owned(), with(vehicle, of_vehicle)),
            ("floors".to_owned(), named(floors, "f")),
            ("snapshots".to_owned(), named(snapshots, "s")),
        ]);
        with(Value::Object(file), later)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_goes_in_comes_out(file in file()) {
        let mut store = Store::in_memory().expect("a store");
        let first = store.import(&file.to_string(), AT).expect("read in");
        let out = store.car_file(first.car).expect("written out");
        prop_assert_eq!(&out.document, &file);
        prop_assert!(out.damaged.is_empty() && store.check().expect("checked").is_empty());
        let again = store.import(&out.document.to_string(), AT).expect("read in again");
        prop_assert!(!again.changed && again.new_readings == 0, "the same file changes nothing");
        let mut other = Store::in_memory().expect("a store");
        other.import(&json!({ "input": out.document }).to_string(), AT).expect("read in elsewhere");
        prop_assert_eq!(other.car_file(first.car).expect("written out there").document, file);
    }

    #[test]
    fn a_part_in_another_shape_is_refused_by_its_place_and_nothing_is_lost(file in file(), key in part(), other in not_a_part()) {
        let mut store = Store::in_memory().expect("a store");
        let car = store.import(&file.to_string(), AT).expect("read in").car;
        let mut wrong = file.clone();
        wrong["vehicle"][key] = other;
        let error = store.import(&wrong.to_string(), AT).expect_err("no such shape");
        prop_assert!(error.to_string().contains(&format!("vehicle.{key}")), "{error}");
        prop_assert_eq!(store.car_file(car).expect("still there").document, file);
    }

    #[test]
    fn no_text_makes_it_stumble(text in "\\PC{0,200}", cut in 0..2000_usize) {
        let mut store = Store::in_memory().expect("a store");
        let sample = include_str!("../../../sample-data/blank-starter.json");
        let cut = sample.get(..cut.min(sample.len() - 3)).unwrap_or_default();
        for text in [text.as_str(), cut] {
            let error = store.import(text, AT).expect_err("half a file is no file");
            prop_assert!(!error.to_string().is_empty() && !error.hint().is_empty());
        }
        prop_assert!(store.cars().expect("listed").is_empty());
    }
}

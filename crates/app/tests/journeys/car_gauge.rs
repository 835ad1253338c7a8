//! The car as a gauge: its twist is kept on the levelled drive of the sample and tells left from right where nobody levelled.

use crate::phone::{Phone, snapshot};
use serde_json::{Value, json};

const SAMPLE: &str = include_str!("../../../../sample-data/sloping-drive.json");

/// The sample pickup, and what its first snapshot says.
fn pickup(phone: &mut Phone) -> (Value, Value) {
    let garage = phone.ask("import_file", json!({ "name": "drive.json", "text": SAMPLE }));
    let car = phone.ask("open_car", json!({ "car": garage["cars"][0]["car"] }));
    let rows = car["snapshots"].as_array().cloned().expect("snapshots");
    let first = rows.iter().find(|row| row["label"] == "nose to the street").expect("the first one").clone();
    let result = phone.ask("see_result", json!({ "snapshot": first["snapshot"], "kind": "frame_rail" }));
    (car, result)
}

/// The same car read on the same drive as if nobody had levelled it: the tape readings of the sample's first snapshot.
fn read_unlevelled(phone: &mut Phone, car: &Value) -> Value {
    let file: Value = serde_json::from_str(SAMPLE).expect("JSON");
    let bounces = &file["snapshots"][0]["bounces"];
    let mut form = snapshot(car, &Value::Null, json!(["fender_lip", "frame_rail"]), 2, 2);
    form["tape"] = json!("in");
    form["hubs"] = json!(false);
    let mut walk = phone.ask("begin_snapshot", form);
    while let Some(step) = walk["steps"].get(walk["at"].as_u64().expect("a place") as usize).cloned() {
        let bounce = step["bounce"].as_u64().expect("a number") as usize - 1;
        let readings = bounces[bounce]["readings"].as_array().expect("readings");
        let same = |reading: &&Value| reading["ref"] == step["ref"] && reading["repeat"] == step["round"];
        let text = readings.iter().find(same).expect("it was read")["text"].as_str().expect("a text").to_owned();
        walk = phone.take(&walk, &text);
    }
    phone.ask("finish_snapshot", json!({ "snapshot": walk["snapshot"] }));
    walk["snapshot"].clone()
}

#[test]
fn a_twist_kept_on_a_levelled_floor_tells_left_from_right_on_one_that_is_not() {
    let mut phone = Phone::new();
    let (car, levelled) = pickup(&mut phone);
    let offers: Vec<&str> =
        levelled["twists"].as_array().expect("offers").iter().filter_map(|offer| offer["kind"].as_str()).collect();
    assert_eq!((offers, &levelled["twist_used"]), (vec!["fender_lip", "frame_rail"], &json!("")));
    let later = read_unlevelled(&mut phone, &car);
    let see = json!({ "snapshot": later, "kind": "frame_rail" });
    let before = phone.ask("see_result", see.clone());
    assert_eq!((&before["corners"]["RL"]["level_mm"]["value"], &before["twists"]), (&Value::Null, &json!([])));
    let refused = phone.refused("keep_twist", json!({ "snapshot": later, "kind": "frame_rail" }));
    assert_eq!(refused.code, "twist_unknown");

    let kept = phone.ask("keep_twist", json!({ "snapshot": levelled["snapshot"], "kind": "frame_rail" }));
    let sentence = kept["twists"][0]["sentence"].as_str().expect("a sentence");
    assert!(sentence.starts_with("Frame rails: ") && sentence.ends_with(", from 12 Apr 2031."), "{sentence}");
    let after = phone.ask("see_result", see.clone());
    assert!(
        after["twist_used"].as_str().expect("a text").starts_with("The car is the gauge here"),
        "{}",
        after["twist_used"]
    );
    for corner in ["FL", "FR", "RL", "RR"] {
        let (found, known) = (&after["corners"][corner]["level_mm"], &levelled["corners"][corner]["level_mm"]);
        assert_eq!(found["known"], "assumed", "{corner}");
        let number = |of: &Value, key: &str| of[key].as_f64().expect("a number");
        let (off, u) = (number(found, "value") - number(known, "value"), number(found, "u").hypot(number(known, "u")));
        assert!(off.abs() < 2.0 * u && u < 8.0, "{corner}: {off} against a u of {u}");
    }
    let twist = &after["stance"]["floor"]["twist_mm"];
    // The sample's drive is twisted by 36 mm (its own note).
    let (value, u) = (twist["value"].as_f64().expect("found"), twist["u"].as_f64().expect("with its u"));
    assert!((value.abs() - 36.0).abs() < 2.0 * u, "{value} ± {u}");
    // Where it was found the readings are not counted twice.
    let again = phone.ask("see_result", json!({ "snapshot": levelled["snapshot"], "kind": "frame_rail" }));
    let known = |result: &Value| result["stance"]["lines"]["frame_rail"]["twist_mm"]["known"].clone();
    assert_eq!((known(&again), again["twist_used"].as_str()), (json!("measured"), Some("")));
    assert_eq!(again["twists"][1]["kept"], true);

    let ended = phone.ask("body_remounted", json!({ "car": car["car"] }));
    let note = ended["twists"][0]["ended"].as_str().expect("a note");
    assert!(note.starts_with("Not used since ") && note.contains("body remounted"), "{note}");
    assert_eq!(phone.ask("see_result", see.clone())["corners"]["RL"]["level_mm"]["value"], Value::Null);
    phone.ask("keep_twist", json!({ "snapshot": levelled["snapshot"], "kind": "frame_rail" }));
    let withdrawn = phone.ask("withdraw_twist", json!({ "car": car["car"], "kind": "frame_rail" }));
    assert_eq!(withdrawn["twists"], json!([]));
    assert_eq!(phone.ask("see_result", see)["corners"]["RL"]["level_mm"]["value"], Value::Null);
    assert_eq!(
        phone.refused("withdraw_twist", json!({ "car": car["car"], "kind": "frame_rail" })).code,
        "twist_unknown"
    );
}

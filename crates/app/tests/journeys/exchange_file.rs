//! The exchange file, version 1: a car made, read, struck and finished in the app, written out. It fails when the format changes
//! unasked; whoever changes it on purpose keeps this file and adds one for the new version.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

#[test]
fn what_the_app_writes_is_version_1() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let floor = json!({"car": car["car"], "label": "Drive", "levelling": "laser_line", "tape": "mm"});
    let mut floor = phone.ask("add_floor", floor);
    for text in ["98 cm", "1016", "1000", "1000"] {
        floor = phone.staff(&floor, text);
    }
    let mut form = snapshot(&car, &floor["floor"], json!(["frame_rail"]), 1, 1);
    form["angle_gauge"] = json!(true);
    form["label"] = json!("nose to the street");
    form["odometer"] = json!("48210");
    let mut walk = phone.ask("begin_snapshot", form);
    for text in ["15 3/4 in", "345", "404", "345", "436", "355", "436", "355", "1.0", "-0.2", "1.1", "0"] {
        walk = phone.take(&walk, text);
    }
    walk = phone.ask("undo_reading", json!({"snapshot": walk["snapshot"]}));
    walk = phone.ask("strike_reading", json!({"snapshot": walk["snapshot"], "step": 2, "reason": "wrong edge"}));
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let exported = phone.ask("export_car", json!({"car": car["car"]}));
    let written: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
    let version_1: Value = serde_json::from_str(include_str!("exchange_version_1.json")).unwrap();
    assert_eq!(written, version_1, "{}", exported["text"].as_str().unwrap());
}

//! The walk-around: repeats that differ, one more reading, striking, jumping, gauge steps, undo without end.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

fn begun(phone: &mut Phone, rounds: u32, gauge: bool) -> Value {
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), rounds, 1);
    form["hubs"] = json!(false);
    form["angle_gauge"] = json!(gauge);
    phone.ask("begin_snapshot", form)
}

#[test]
fn two_that_differ_are_both_kept_and_a_third_may_be_read() {
    let mut phone = Phone::new();
    let mut walk = begun(&mut phone, 2, false);
    for text in ["400", "404", "436", "436"] {
        walk = phone.take(&walk, text);
    }
    walk = phone.take(&walk, "411");
    assert_eq!(walk["differs"]["sentence"], "These two differ by 11 mm. Read it once more?");
    assert_eq!((&walk["differs"]["printed"], &walk["differs"]["step"]), (&json!(["400", "411"]), &json!(4)));
    assert_eq!((&walk["at"], &walk["read"]), (&json!(5), &json!(5)));

    let third = json!({"snapshot": walk["snapshot"], "step": 4, "text": "401", "request_id": "third"});
    walk = phone.ask("take_reading", third);
    assert_eq!((&walk["differs"], &walk["read"]), (&Value::Null, &json!(6)), "the third lies near the first");
    assert_eq!((&walk["steps"][5]["round"], &walk["steps"][5]["text"]), (&json!(3), &json!("401")));
    let at = walk["at"].as_u64().unwrap() as usize;
    assert_eq!(walk["steps"][at]["ref"], "rail.FR");

    walk = phone.ask("strike_reading", json!({"snapshot": walk["snapshot"], "step": 4, "reason": "wrong edge"}));
    assert_eq!(
        (&walk["struck"][0]["words"], &walk["struck"][0]["printed"]),
        (&json!("front left rail"), &json!("411"))
    );
    assert_eq!(walk["steps"][4]["text"], Value::Null, "the step can be read again");
    walk = phone.ask("undo_reading", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(walk["taken_back"]["words"], "front left rail, 401");
    walk = phone.ask("put_back", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(walk["steps"][5]["text"], "401");
}

#[test]
fn an_inch_too_much_is_named() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["fender_lip"]), 2, 1);
    form["hubs"] = json!(false);
    form["tape"] = json!("in");
    let mut walk = phone.ask("begin_snapshot", form);
    for text in ["23 5/8", "23 5/8", "24", "24", "24 5/8"] {
        walk = phone.take(&walk, text);
    }
    assert_eq!(walk["differs"]["hint"], "FL reads an inch more than before: 23 5/8, 24 5/8.");
}

#[test]
fn the_gauge_comes_last_in_a_bounce_straight_and_turned() {
    let mut phone = Phone::new();
    let mut walk = begun(&mut phone, 1, true);
    let places: Vec<_> = walk["steps"].as_array().unwrap()[4..]
        .iter()
        .map(|step| (step["ref"].as_str().unwrap(), step["reversed"].as_bool().unwrap()))
        .collect();
    let both = [false, true];
    let left = both.map(|reversed| ("frame_rail_left", reversed));
    assert_eq!(places, [left, both.map(|reversed| ("frame_rail_right", reversed))].concat());
    for text in ["400", "404", "436", "436"] {
        walk = phone.take(&walk, text);
    }
    let request = json!({"snapshot": walk["snapshot"], "step": 4, "text": "20", "request_id": "g"});
    assert_eq!(phone.refused("take_reading", request).code, "steep");
    walk = phone.take(&walk, "1.02");
    assert_eq!(
        (&walk["steps"][4]["printed"], &walk["steps"][4]["then"]),
        (&json!("1.0°"), &json!("next: same rail, gauge turned"))
    );
    walk = phone.take(&walk, "-0.2");
    assert_eq!(walk["differs"], Value::Null, "turned end for end it reads otherwise");
    let car = walk["car"].clone();
    let file: Value =
        serde_json::from_str(phone.ask("export_car", json!({"car": car}))["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["snapshots"][0]["angle_gauge"][1]["angle_deg"], -0.2);
    assert_eq!(file["snapshots"][0]["angle_gauge"][1]["reversed"], true);
}

#[test]
fn undo_goes_back_to_the_beginning_and_put_back_comes_all_the_way() {
    let mut phone = Phone::new();
    phone.restless = true;
    let mut walk = begun(&mut phone, 1, false);
    for text in ["400", "404", "436", "437"] {
        walk = phone.take(&walk, text);
    }
    let reference = json!({"snapshot": walk["snapshot"]});
    for left in [3, 2, 1, 0] {
        walk = phone.ask("undo_reading", reference.clone());
        assert_eq!((&walk["read"], &walk["at"]), (&json!(left), &json!(left)));
    }
    assert_eq!(walk["can_undo"], false);
    assert_eq!(phone.refused("undo_reading", reference.clone()).code, "nothing_to_undo");
    for read in 1..=4 {
        walk = phone.ask("put_back", reference.clone());
        assert_eq!(walk["read"], read);
    }
    assert_eq!(walk["steps"][3]["text"], "437");
    assert_eq!(phone.refused("put_back", reference.clone()).code, "nothing_to_put_back");
    phone.ask("undo_reading", reference.clone());
    phone.ask("undo_reading", reference.clone());
    walk = phone.ask("open_walk", reference.clone());
    walk = phone.take(&walk, "435");
    assert_eq!(walk["taken_back"], Value::Null, "another was taken since");
    assert_eq!(phone.refused("put_back", reference).code, "nothing_to_put_back");
}

#[test]
fn a_corner_can_be_skipped_and_come_back_to() {
    let mut phone = Phone::new();
    let mut walk = begun(&mut phone, 1, false);
    walk = phone.ask("go_to_step", json!({"snapshot": walk["snapshot"], "step": 2}));
    walk = phone.take(&walk, "436");
    assert_eq!(walk["at"], 3);
    walk = phone.take(&walk, "437");
    assert_eq!(walk["at"], 0, "then what was skipped");
    walk = phone.take(&walk, "400");
    assert_eq!((&walk["at"], &walk["steps"][1]["then"]), (&json!(1), &json!("last reading")));
    walk = phone.take(&walk, "404");
    assert_eq!(walk["at"], 4);
}

#[test]
fn a_car_whose_tires_are_not_named_is_read_all_the_same() {
    let mut phone = Phone::new();
    let mut form = pickup();
    for corner in ["FL", "FR", "RL", "RR"] {
        form["tires"][corner] = json!({"marking": "", "pressure": "", "measured_diameter": ""});
    }
    let car = phone.ask("add_car", form);
    assert_eq!((&car["vehicle"]["tires"], &car["begin"]["hubs"]), (&Value::Null, &json!(false)));
    let mut form = car["begin"].clone();
    form["rounds"] = json!(1);
    form["bounces"] = json!(1);
    form["tape"] = json!("mm");
    let mut walk = phone.ask("begin_snapshot", form);
    while walk["at"].as_u64().unwrap() < walk["steps"].as_array().unwrap().len() as u64 {
        walk = phone.take(&walk, "500");
    }
    let car = phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(car["snapshots"][0]["floor"], "somewhere, not levelled");
    assert!(car["side"]["front_mm"]["value"].is_f64());
    let after = phone.ask("open_garage", json!({}));
    assert_eq!(after["cars"][0]["state"], "Level fore and aft, can\u{2019}t tell side to side.");
}

#[test]
fn order_is_by_entry_though_the_clock_goes_back() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hubs"] = json!(false);
    let mut walks = Vec::new();
    for label in ["first", "second"] {
        form["label"] = json!(label);
        let mut walk = phone.ask("begin_snapshot", form.clone());
        for text in ["400", "404", "436", "437"] {
            walk = phone.take(&walk, text);
            phone.clock_back(100_000_000);
        }
        walk = phone.ask("undo_reading", json!({"snapshot": walk["snapshot"]}));
        assert_eq!(walk["taken_back"]["words"], "rear left rail, 437", "the newest by entry");
        walks.push(walk["snapshot"].clone());
        phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    }
    let car = phone.ask("open_car", json!({"car": car["car"]}));
    let listed: Vec<_> = car["snapshots"].as_array().unwrap().iter().map(|row| row["snapshot"].clone()).collect();
    walks.reverse();
    assert_eq!(listed, walks, "newest first");
    assert!(car["snapshots"][0]["date"].as_str() < car["snapshots"][1]["date"].as_str(), "whatever the dates say");
}

//! Order, skipping, striking and undoing in a walk, with the garage closed and opened before every request.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// A walk over the rails, and what else is asked for.
fn begun(rounds: u32, more: Value) -> (Phone, Value) {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), rounds, 1);
    form["hubs"] = json!(false);
    form.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    let walk = phone.ask("begin_snapshot", form);
    (phone, walk)
}

fn refs(walk: &Value) -> Vec<&str> {
    walk["steps"].as_array().unwrap().iter().map(|step| step["ref"].as_str().unwrap()).collect()
}

fn here(walk: &Value) -> &str {
    walk["steps"][walk["at"].as_u64().unwrap() as usize]["ref"].as_str().unwrap_or("end")
}

fn ask(phone: &mut Phone, verb: &str, walk: &Value, more: Value) -> Value {
    let mut request = json!({"snapshot": walk["snapshot"]});
    request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    phone.ask(verb, request)
}

#[test]
fn it_begins_at_any_corner_either_way_round_and_is_remembered_for_this_car() {
    let order = json!({"start": "RR", "clockwise": false});
    let (mut phone, mut walk) = begun(1, json!({"order": order, "angle_gauge": true}));
    assert_eq!(
        refs(&walk),
        [
            "rail.RR",
            "rail.FR",
            "rail.FL",
            "rail.RL",
            "frame_rail_right",
            "frame_rail_right",
            "frame_rail_left",
            "frame_rail_left"
        ]
    );
    assert_eq!(walk["corners"], json!(["RR", "FR", "FL", "RL"]));
    walk = phone.take(&walk, "436");
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let car = phone.ask("open_car", json!({"car": walk["car"]}));
    assert_eq!(car["begin"]["order"], order);
    let other = phone.ask("add_car", pickup());
    assert_eq!(other["begin"]["order"], json!({"start": "FL", "clockwise": true}), "another car has its own");
}

#[test]
fn another_order_in_the_middle_sorts_what_is_left_and_loses_nothing() {
    let (mut phone, mut walk) = begun(2, json!({}));
    walk = phone.take(&walk, "400");
    assert_eq!(here(&walk), "rail.FR");
    let back = json!({"order": {"start": "FL", "clockwise": false}});
    walk = ask(&mut phone, "order_walk", &walk, back);
    assert_eq!((here(&walk), &walk["read"]), ("rail.RL", &json!(1)), "the other way round from what is read");

    ask(&mut phone, "keep_draft", &walk, json!({"step": walk["at"], "text": "43"}));
    walk = ask(&mut phone, "order_walk", &walk, json!({"order": {"start": "RR", "clockwise": true}}));
    assert_eq!((here(&walk), &walk["draft"]), ("rail.RL", &json!("43")), "what is half typed stays at its mark");
    walk = phone.take(&walk, "437");
    assert_eq!(here(&walk), "rail.FR", "front left is read already");
    for text in ["404", "436"] {
        walk = phone.take(&walk, text);
    }
    assert_eq!((here(&walk), &walk["steps"][walk["at"].as_u64().unwrap() as usize]["round"]), ("rail.RR", &json!(2)));
    assert_eq!(walk["read"], 4);
}

#[test]
fn what_is_skipped_waits_and_is_offered_at_the_end() {
    let (mut phone, mut walk) = begun(1, json!({}));
    walk = ask(&mut phone, "skip_step", &walk, json!({"step": 0}));
    assert_eq!((here(&walk), &walk["skipped"], &walk["steps"][0]["skipped"]), ("rail.FR", &json!(1), &json!(true)));
    assert!(walk["state"].as_str().unwrap().starts_with("0 of 4 read, 1 skipped"), "{}", walk["state"]);
    for text in ["404", "436"] {
        walk = phone.take(&walk, text);
    }
    assert_eq!(walk["steps"][3]["then"], "next: what was skipped");
    walk = phone.take(&walk, "437");
    assert_eq!((&walk["at"], &walk["read"], &walk["skipped"]), (&json!(4), &json!(3), &json!(1)), "it does not insist");
    walk = ask(&mut phone, "go_to_step", &walk, json!({"step": 0}));
    walk = phone.take(&walk, "400");
    assert_eq!((&walk["at"], &walk["read"], &walk["skipped"]), (&json!(4), &json!(4), &json!(0)));
    let request = json!({"snapshot": walk["snapshot"], "step": 0});
    assert_eq!(phone.refused("skip_step", request).code, "nothing_to_skip");
}

#[test]
fn a_whole_corner_is_skipped_in_every_round_and_undone_at_once() {
    let (mut phone, mut walk) = begun(2, json!({"hubs": true}));
    walk = phone.take(&walk, "400");
    walk = ask(&mut phone, "skip_step", &walk, json!({"step": 1, "whole_corner": true}));
    assert_eq!((here(&walk), &walk["skipped"]), ("rail.FR", &json!(3)), "its hub, and both in the second round");
    walk = ask(&mut phone, "undo_reading", &walk, json!({}));
    assert_eq!((here(&walk), &walk["skipped"]), ("hub.FL", &json!(0)));
    assert_eq!(walk["taken_back"]["words"], "the skipping of front left, 3 readings");
    walk = ask(&mut phone, "put_back", &walk, json!({}));
    assert_eq!((here(&walk), &walk["skipped"]), ("rail.FR", &json!(3)));
    walk = ask(&mut phone, "undo_reading", &walk, json!({}));
    walk = ask(&mut phone, "undo_reading", &walk, json!({}));
    assert_eq!((here(&walk), &walk["read"], &walk["can_undo"]), ("rail.FL", &json!(0), &json!(false)));
}

#[test]
fn any_reading_is_struck_for_an_own_reason_and_can_count_again() {
    let (mut phone, mut walk) = begun(2, json!({}));
    for text in ["400", "404", "436", "437", "401"] {
        walk = phone.take(&walk, text);
    }
    for (nonsense, says) in [
        ("", "The reason is missing."),
        ("...", "\u{201c}...\u{201d} says no reason."),
        ("xxxx", "\u{201c}xxxx\u{201d} says no reason."),
        (&"long ".repeat(20), "99 characters"),
    ] {
        let request = json!({"snapshot": walk["snapshot"], "step": 1, "reason": nonsense});
        let refused = phone.refused("strike_reading", request);
        assert_eq!((refused.code.as_str(), refused.fields[0].field.as_str()), ("field_unreadable", "reason"));
        assert!(refused.sentence.contains(says), "{}", refused.sentence);
    }
    walk = ask(&mut phone, "strike_reading", &walk, json!({"step": 1, "reason": " knelt on the hose "}));
    let struck = walk["struck"][0].clone();
    assert_eq!((&struck["reason"], &struck["printed"]), (&json!("knelt on the hose"), &json!("404")));
    assert_eq!(struck["can_unstrike"], true);

    walk = ask(&mut phone, "unstrike_reading", &walk, json!({"reading": struck["reading"]}));
    assert_eq!((&walk["struck"], &walk["steps"][1]["text"], &walk["read"]), (&json!([]), &json!("404"), &json!(5)));
    let file = phone.ask("export_car", json!({"car": walk["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    let reading = &file["snapshots"][0]["bounces"][0]["readings"][1];
    assert_eq!(reading["struck"], Value::Null, "it counts again");
    let happened: Vec<_> = reading["history"].as_array().unwrap().iter().map(|entry| &entry["what"]).collect();
    assert_eq!(happened, ["struck", "put back"], "and what happened stays: {}", reading["history"]);
    assert_eq!(reading["history"][0]["reason"], "knelt on the hose");

    walk = ask(&mut phone, "strike_reading", &walk, json!({"step": 1, "reason": "misread"}));
    walk = ask(&mut phone, "go_to_step", &walk, json!({"step": 1}));
    walk = phone.take(&walk, "405");
    assert_eq!(walk["struck"][0]["can_unstrike"], false);
    let request = json!({"snapshot": walk["snapshot"], "reading": struck["reading"]});
    assert_eq!(phone.refused("unstrike_reading", request).code, "read_anew");
}

#[test]
fn a_strike_is_undone_and_done_again_like_a_reading() {
    let (mut phone, mut walk) = begun(1, json!({}));
    for text in ["400", "404"] {
        walk = phone.take(&walk, text);
    }
    walk = ask(&mut phone, "strike_reading", &walk, json!({"step": 0, "reason": "wrong edge"}));
    assert_eq!(walk["undo_words"], "the striking of front left rail, 400");
    walk = ask(&mut phone, "undo_reading", &walk, json!({}));
    assert_eq!((&walk["steps"][0]["text"], &walk["read"]), (&json!("400"), &json!(2)));
    walk = ask(&mut phone, "undo_reading", &walk, json!({}));
    assert_eq!((&walk["steps"][1]["text"], &walk["read"]), (&Value::Null, &json!(1)), "then the reading before it");
    walk = ask(&mut phone, "put_back", &walk, json!({}));
    walk = ask(&mut phone, "put_back", &walk, json!({}));
    assert_eq!((&walk["struck"][0]["reason"], &walk["read"]), (&json!("wrong edge"), &json!(1)));
    assert_eq!(walk["taken_back"], Value::Null);
}

#[test]
fn from_the_wheel_centre_up_to_the_lip() {
    let (mut phone, mut walk) = begun(1, json!({"hubs": true, "hub_to_lip": true}));
    assert_eq!(refs(&walk)[..3], ["rail.FL", "hub.FL", "hub_to:lip.FL"]);
    assert_eq!((&walk["steps"][2]["kind"], &walk["steps"][2]["short"]), (&json!("hub_to_lip"), &json!("hub to lip")));
    for text in ["400", "340"] {
        walk = phone.take(&walk, text);
    }
    let far = json!({"snapshot": walk["snapshot"], "step": 2, "text": "1400", "request_id": "far"});
    assert!(phone.refused("take_reading", far).sentence.contains("wheel centre to lip"));
    walk = phone.take(&walk, "362");
    assert_eq!(walk["read"], 3);
    let file = phone.ask("export_car", json!({"car": walk["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    let reading = &file["snapshots"][0]["bounces"][0]["readings"][2];
    assert_eq!((&reading["ref"], &reading["value_mm"]), (&json!("hub_to:lip.FL"), &json!(362.0)));
}

#[test]
fn a_car_without_lips_has_nothing_to_measure_up_to() {
    let mut phone = Phone::new();
    let mut form = pickup();
    form["points"].as_array_mut().unwrap().remove(0);
    let car = phone.ask("add_car", form);
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hub_to_lip"] = json!(true);
    assert_eq!(phone.refused("begin_snapshot", form).fields[0].field, "hub_to_lip");
}

#[test]
fn turned_end_for_end_each_wheel_has_the_spot_across() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let floor = json!({"car": car["car"], "label": "Drive", "levelling": "water_level", "tape": "mm"});
    let floor = phone.ask("add_floor", floor);
    let mut form = snapshot(&car, &floor["floor"], json!(["frame_rail"]), 1, 1);
    form["facing"] = json!("B");
    let walk = phone.ask("begin_snapshot", form);
    assert_eq!(walk["wheel_on_spot"], json!({"FL": "S4", "FR": "S3", "RL": "S2", "RR": "S1"}));
}

/// Numbers that look like chance and are the same every time (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % sides
    }
}

/// Every reading that was acknowledged stands in the book, each as kept, taken back or struck, and none counts twice.
fn nothing_is_lost(phone: &mut Phone, walk: &Value, taken: &[String]) {
    let file = phone.ask("export_car", json!({"car": walk["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    let readings = file["snapshots"][0]["bounces"][0]["readings"].as_array().unwrap();
    let texts: Vec<&str> = readings.iter().map(|reading| reading["text"].as_str().unwrap()).collect();
    assert_eq!(texts, taken, "in the order of entry");
    let counts = readings.iter().filter(|reading| reading["struck"].is_null());
    let mut places: Vec<_> =
        counts.map(|reading| (reading["ref"].to_string(), reading["repeat"].to_string())).collect();
    let all = places.len();
    places.sort();
    places.dedup();
    assert_eq!(places.len(), all, "two count in one place");
    assert_eq!(walk["read"], json!(all));
}

#[test]
fn whatever_is_done_in_whatever_order_nothing_is_lost_and_it_comes_to_an_end() {
    for seed in 1..=12 {
        let (mut phone, mut walk) = begun(2, json!({}));
        phone.restless = seed % 4 == 0;
        let mut dice = Dice(0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(seed));
        let mut taken: Vec<String> = Vec::new();
        let mut done = 0;
        while done < 60 {
            done += 1;
            let count = walk["steps"].as_array().unwrap().len() as u64;
            let at = walk["at"].as_u64().unwrap();
            let any = dice.below(count);
            let (verb, more) = match dice.below(9) {
                0..=2 if at < count => {
                    let text = format!("{}", 400 + taken.len());
                    ("take_reading", json!({"step": at, "text": text, "request_id": format!("{seed} {done}")}))
                }
                0..=3 => ("skip_step", json!({"step": any, "whole_corner": dice.below(3) == 0})),
                4 => ("undo_reading", json!({})),
                5 => ("put_back", json!({})),
                6 => ("strike_reading", json!({"step": any, "reason": "wrong edge"})),
                7 => match walk["struck"].as_array().unwrap().first() {
                    Some(struck) => ("unstrike_reading", json!({"reading": struck["reading"]})),
                    None => ("go_to_step", json!({"step": any})),
                },
                _ => {
                    let start = ["FL", "FR", "RL", "RR"][dice.below(4) as usize];
                    ("order_walk", json!({"order": {"start": start, "clockwise": dice.below(2) == 0}}))
                }
            };
            let mut request = json!({"snapshot": walk["snapshot"]});
            request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
            match phone.try_ask(verb, request) {
                Ok(view) => {
                    if verb == "take_reading" {
                        taken.push(more["text"].as_str().unwrap().to_owned());
                    }
                    walk = view;
                }
                Err(problem) => {
                    let known =
                        ["nothing_to_skip", "nothing_to_undo", "nothing_to_put_back", "nothing_to_strike", "read_anew"];
                    assert!(known.contains(&problem.code.as_str()), "{verb} {more}: {problem:?}");
                }
            }
            nothing_is_lost(&mut phone, &walk, &taken);
        }
        // Undone to the first reading and put back again: every reading is as it was.
        let before = ask(&mut phone, "open_walk", &walk, json!({}));
        let mut back = 0;
        while walk["can_undo"] == true {
            walk = ask(&mut phone, "undo_reading", &walk, json!({}));
            back += 1;
        }
        assert_eq!((&walk["read"], &walk["skipped"]), (&json!(0), &json!(0)), "seed {seed}");
        for _ in 0..back {
            walk = ask(&mut phone, "put_back", &walk, json!({}));
        }
        for same in ["read", "skipped", "struck"] {
            let strip = |walk: &Value| {
                let mut value = walk[same].clone();
                for entry in value.as_array_mut().into_iter().flatten() {
                    entry["at"] = Value::Null;
                }
                value
            };
            assert_eq!(strip(&walk), strip(&before), "seed {seed}: {same}");
        }
        // Whoever goes on taking comes to the end.
        let mut left = 0;
        while walk["at"].as_u64().unwrap() < walk["steps"].as_array().unwrap().len() as u64 {
            walk = phone.take(&walk, "420");
            left += 1;
            assert!(left <= 16, "seed {seed}: the walk does not end");
        }
    }
}

#[test]
fn a_missing_corner_can_be_finished_without_and_what_it_costs_is_said() {
    let (mut phone, mut walk) = begun(1, json!({}));
    for text in ["400", "404", "436"] {
        walk = phone.take(&walk, text);
    }
    walk = ask(&mut phone, "skip_step", &walk, json!({"step": 3}));
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"], "kind": ""}));
    assert_eq!(
        result["missing"],
        "Without the rear left rail: no rear mean, no rake, no lean, no twist. The front mean stands."
    );
    assert_eq!(result["line"]["front_mean_mm"]["known"], "measured");
    assert_eq!(result["corners"]["RL"]["level_mm"], Value::Null);
    let car = phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(car["snapshots"][0]["finished"], true);

    let (mut phone, mut walk) = begun(1, json!({}));
    walk = phone.take(&walk, "400");
    walk = ask(&mut phone, "go_to_step", &walk, json!({"step": 2}));
    walk = phone.take(&walk, "436");
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"], "kind": ""}));
    assert_eq!(
        result["missing"],
        "Without the front right and rear left rail: no front mean, no rear mean, no rake, no lean, no twist."
    );
}

#[test]
fn the_file_of_a_struck_and_returned_reading_comes_back_as_it_was() {
    let (mut phone, mut walk) = begun(1, json!({}));
    walk = phone.take(&walk, "400");
    walk = ask(&mut phone, "strike_reading", &walk, json!({"step": 0, "reason": "wrong edge"}));
    let reading = walk["struck"][0]["reading"].clone();
    walk = ask(&mut phone, "unstrike_reading", &walk, json!({"reading": reading}));
    let written = phone.ask("export_car", json!({"car": walk["car"]}))["text"].clone();
    let mut other = Phone::new();
    let garage = other.ask("import_file", json!({"name": "car.json", "text": written}));
    let again = other.ask("export_car", json!({"car": garage["cars"][0]["car"]}));
    let parsed = |text: &Value| serde_json::from_str::<Value>(text.as_str().unwrap()).unwrap();
    assert_eq!(parsed(&again["text"]), parsed(&written));
}

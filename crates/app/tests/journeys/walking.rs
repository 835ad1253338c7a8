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
    for words in ["the striking of front left rail, 411", "front left rail, 401"] {
        walk = phone.ask("undo_reading", json!({"snapshot": walk["snapshot"]}));
        assert_eq!(walk["taken_back"]["words"], words);
    }
    for _ in 0..2 {
        walk = phone.ask("put_back", json!({"snapshot": walk["snapshot"]}));
    }
    assert_eq!((&walk["steps"][4]["text"], &walk["steps"][5]["text"]), (&Value::Null, &json!("401")));
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
    assert_eq!(walk["differs"]["hint"], "FL reads an inch more than the first round: 24 5/8, 23 5/8. Read it again.");
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

/// A walk whose fifth reading, front left again, differs from the first; the garage is closed and opened before every request.
fn with_a_question() -> (Phone, Value) {
    let mut phone = Phone::new();
    phone.restless = true;
    let mut walk = begun(&mut phone, 2, false);
    for text in ["400", "404", "436", "436", "411"] {
        walk = phone.take(&walk, text);
    }
    assert_eq!(walk["differs"]["sentence"], "These two differ by 11 mm. Read it once more?");
    (phone, walk)
}

#[test]
fn the_question_stands_after_a_restart_with_what_was_half_typed_as_the_answer() {
    let (mut phone, walk) = with_a_question();
    let reference = json!({"snapshot": walk["snapshot"]});
    let open = phone.ask("open_walk", reference.clone());
    assert_eq!((&open["differs"], &open["at"], &open["draft"]), (&walk["differs"], &json!(5), &json!("")));

    phone.ask("keep_draft", json!({"snapshot": walk["snapshot"], "step": 4, "text": "40"}));
    let open = phone.ask("open_walk", reference.clone());
    assert_eq!((&open["differs"], &open["draft"]), (&walk["differs"], &json!("40")));
    assert_eq!(open["at"], 5, "the walk goes on behind the mark in question");

    let third = json!({"snapshot": walk["snapshot"], "step": 4, "text": "401", "request_id": "third"});
    let after = phone.ask("take_reading", third);
    assert_eq!((&after["differs"], &after["read"]), (&Value::Null, &json!(6)));
    assert_eq!(phone.ask("open_walk", reference)["differs"], Value::Null, "the third lies near the first");
}

#[test]
fn the_question_is_over_once_it_is_answered_or_the_reading_is_taken_back() {
    let after = |verb: &str, more: Value| {
        let (mut phone, walk) = with_a_question();
        let mut request = json!({"snapshot": walk["snapshot"]});
        request.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        let answered = phone.ask(verb, request);
        let mut open = phone.ask("open_walk", json!({"snapshot": walk["snapshot"]}));
        assert_eq!(open["differs"], answered["differs"], "{verb}");
        phone.ask("keep_draft", json!({"snapshot": walk["snapshot"], "step": open["at"], "text": "4"}));
        open = phone.ask("open_walk", json!({"snapshot": walk["snapshot"]}));
        (phone, open)
    };
    for (verb, more) in [
        ("go_to_step", json!({"step": 5})),
        ("strike_reading", json!({"step": 0, "reason": "wrong edge"})),
        ("strike_reading", json!({"step": 4, "reason": "wrong edge"})),
        ("undo_reading", json!({})),
        ("take_reading", json!({"step": 5, "text": "404", "request_id": "next"})),
        ("take_reading", json!({"step": 4, "text": "425", "request_id": "once more", "insist": true})),
    ] {
        let (_, open) = after(verb, more.clone());
        assert_eq!((&open["differs"], &open["draft"]), (&Value::Null, &json!("4")), "{verb} {more}");
    }
    let (mut phone, open) = after("undo_reading", json!({}));
    let back = phone.ask("put_back", json!({"snapshot": open["snapshot"]}));
    assert_eq!(back["differs"]["step"], 4, "what is put back is asked about again");
}

#[test]
fn a_request_whose_answer_was_lost_is_answered_with_the_question() {
    let (mut phone, walk) = with_a_question();
    let again = json!({"snapshot": walk["snapshot"], "step": 4, "text": "411", "request_id": "request 5"});
    let reply = phone.ask("take_reading", again);
    assert_eq!((&reply["differs"], &reply["read"]), (&walk["differs"], &json!(5)));
}

#[test]
fn both_of_the_last_reading_can_be_kept() {
    let mut phone = Phone::new();
    phone.restless = true;
    let mut walk = begun(&mut phone, 2, false);
    for text in ["400", "404", "436", "436", "400", "404", "436", "447"] {
        walk = phone.take(&walk, text);
    }
    assert_eq!((&walk["differs"]["step"], &walk["at"]), (&json!(7), &json!(8)));
    walk = phone.ask("go_to_step", json!({"snapshot": walk["snapshot"], "step": walk["at"]}));
    assert_eq!((&walk["differs"], &walk["at"], &walk["read"]), (&Value::Null, &json!(8), &json!(8)));
    let beyond = json!({"snapshot": walk["snapshot"], "step": 9});
    assert_eq!(phone.refused("go_to_step", beyond).code, "step_unknown");
}

/// The gauge across the frame and the level line come after the rounds of a bounce; a rule that stands on the line reads up, so
/// that the book has it below nought, and the screen as it was typed.
#[test]
fn across_the_frame_and_from_a_level_line() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["hubs"] = json!(false);
    form["gauge_across"] = json!(true);
    form["level_line"] = json!("below");
    let mut view = phone.ask("begin_snapshot", form);
    let steps = |view: &Value| view["steps"].as_array().cloned().unwrap_or_default();
    let walked = steps(&view);
    let refs: Vec<&str> = walked.iter().map(|step| step["ref"].as_str().expect("a name")).collect();
    assert_eq!(
        refs,
        [
            "rail.FL",
            "rail.FR",
            "rail.RR",
            "rail.RL",
            "frame_front",
            "frame_front",
            "frame_rear",
            "frame_rear",
            "on:rail.FL",
            "on:rail.FR",
            "on:rail.RR",
            "on:rail.RL"
        ]
    );
    for text in ["300", "302", "341", "340", "0.1", "-0.3", "0.1", "-0.3", "100", "101", "142", "141"] {
        view = phone.take(&view, text);
    }
    assert_eq!((view["read"].as_u64(), view["at"].as_u64()), (Some(12), Some(12)));
    assert_eq!((steps(&view)[8]["text"].as_str(), steps(&view)[8]["value"].as_f64()), (Some("100"), Some(100.0)));
    let file =
        phone.ask("export_car", json!({ "car": car["car"] }))["text"].as_str().map(str::to_owned).expect("a text");
    let file: Value = serde_json::from_str(&file).expect("JSON");
    let set_up = &file["snapshots"][0]["plane_on_car"][0];
    assert_eq!(set_up["bounce_id"], file["snapshots"][0]["bounces"][0]["bounce_id"]);
    let first = &set_up["readings"][0];
    assert_eq!(
        (&first["point"], &first["text"], &first["value_mm"]),
        (&json!("on:rail.FL"), &json!("-100"), &json!(-100.0))
    );
    phone.ask("finish_snapshot", json!({ "snapshot": view["snapshot"] }));
    let result = phone.ask("see_result", json!({ "snapshot": view["snapshot"], "kind": "frame_rail" }));
    assert_eq!(result["corners"]["FL"]["level_mm"]["known"], "measured", "{}", result["headline"]);
}

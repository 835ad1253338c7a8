//! Correcting a finished snapshot: what counts, what is kept and shown, what is refused.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// A finished snapshot of the four rails, two rounds of 400, 404, 436, 436 mm.
fn finished(phone: &mut Phone) -> Value {
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 2, 1);
    form["hubs"] = json!(false);
    let mut walk = phone.ask("begin_snapshot", form);
    for text in ["400", "404", "436", "436", "400", "404", "436", "436"] {
        walk = phone.take(&walk, text);
    }
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    phone.ask("open_book", json!({"snapshot": walk["snapshot"]}))
}

fn correct(book: &Value, reading: usize, change: &str, text: &str, request: &str) -> Value {
    json!({"snapshot": book["snapshot"], "reading": book["readings"][reading]["reading"], "change": change, "text": text,
        "reason": "wrong edge", "request_id": request})
}

fn rear_left(phone: &mut Phone, book: &Value) -> f64 {
    let result = phone.ask("see_result", json!({"snapshot": book["snapshot"], "kind": "frame_rail"}));
    result["corners"]["RL"]["tape_mm"].as_f64().unwrap()
}

#[test]
fn a_value_is_corrected_shown_with_what_it_was_and_taken_back() {
    let mut phone = Phone::new();
    phone.restless = true;
    let mut book = finished(&mut phone);
    assert_eq!(
        (&book["readings"][3]["words"], &book["readings"][3]["text"]),
        (&json!("Rear left, frame rail"), &json!("436"))
    );
    assert_eq!(book["state"], "Eight readings, nothing corrected.");
    assert_eq!(rear_left(&mut phone, &book), 436.0);

    book = phone.ask("correct_reading", correct(&book, 3, "value", "43,4 cm", "one"));
    let reading = &book["readings"][3];
    assert_eq!((&reading["printed"], &reading["text"]), (&json!("43.4"), &json!("43,4 cm")));
    assert_eq!(reading["corrected"], json!(["corrected 15 Apr 2031: 436 mm → 43,4 cm, wrong edge"]));
    assert_eq!(rear_left(&mut phone, &book), 435.0, "the mean of 434 and 436");
    let again = phone.ask("correct_reading", correct(&book, 3, "value", "43,4 cm", "one"));
    assert_eq!(again["corrections"].as_array().unwrap().len(), 1, "asked for twice, stored once");

    let result = phone.ask("see_result", json!({"snapshot": book["snapshot"], "kind": "frame_rail"}));
    let sentence = result["corrections"][0].as_str().unwrap();
    assert!(sentence.starts_with("Rear left, frame rail, bounce 1, round 1: corrected 15 Apr 2031: 436"), "{sentence}");

    let back = json!({"snapshot": book["snapshot"], "correction": book["corrections"][0]["correction"],
        "reason": "it was right", "request_id": "two"});
    book = phone.ask("take_back_correction", back.clone());
    assert_eq!(book["readings"][3]["text"], "436");
    assert_eq!(book["corrections"][0]["taken_back"], true);
    assert_eq!(rear_left(&mut phone, &book), 436.0);
    let mut refused = back.clone();
    refused["request_id"] = json!("three");
    assert_eq!(phone.refused("take_back_correction", refused).code, "nothing_to_correct");
    let again = json!({"snapshot": book["snapshot"], "correction": book["corrections"][1]["correction"],
        "reason": "no, it was not", "request_id": "four"});
    book = phone.ask("take_back_correction", again);
    assert_eq!(book["readings"][3]["text"], "43,4 cm", "taking back what took it back brings it again");
    assert_eq!(book["corrections"].as_array().unwrap().len(), 3, "nothing is erased");
}

#[test]
fn a_reading_is_struck_brought_back_and_one_that_was_missed_is_added() {
    let mut phone = Phone::new();
    let mut book = finished(&mut phone);
    book = phone.ask("correct_reading", correct(&book, 3, "strike", "", "one"));
    assert_eq!((&book["readings"][3]["counts"], &book["readings"][3]["struck"]), (&json!(false), &json!("wrong edge")));
    assert_eq!(book["corrections"][0]["change"], "436 struck");
    assert_eq!(phone.refused("correct_reading", correct(&book, 3, "strike", "", "two")).code, "nothing_to_correct");
    book = phone.ask("correct_reading", correct(&book, 3, "bring_back", "", "three"));
    assert_eq!(book["readings"][3]["counts"], true);
    assert_eq!(
        phone.refused("correct_reading", correct(&book, 3, "bring_back", "", "four")).code,
        "nothing_to_correct"
    );

    let mut missed = json!({"snapshot": book["snapshot"], "ref": "rail.RL", "bounce": 1, "text": "439",
        "date": "15 Apr 2031", "time": "8:05", "reason": "it stood on the back of the sheet", "request_id": "five"});
    book = phone.ask("add_missed_reading", missed.clone());
    let added = book["readings"].as_array().unwrap().last().unwrap();
    assert_eq!((&added["added"], &added["round"], &added["printed"]), (&json!(true), &json!(3), &json!("439")));
    assert_eq!(rear_left(&mut phone, &book), 437.0, "436, 436 and 439");
    let file = phone.ask("export_car", json!({"car": book["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    let readings = file["snapshots"][0]["bounces"][0]["readings"].as_array().unwrap();
    assert_eq!(readings[8]["taken_at"], "2031-04-15T08:05:00+02:00", "its own time");

    for (key, typed, says) in [
        ("time", "23:59", "23:59 today has not come yet: it is 08:13."),
        ("time", "noon", "noon is no time of day from 0:00 to 23:59."),
        ("date", "16.4.2031", "16 Apr 2031 has not come yet: today is 15 Apr 2031."),
        ("date", "5/3/2031", "5/3/2031 can be read two ways."),
        ("date", "30 Feb 2031", "30 Feb 2031 is no day of the calendar."),
        ("ref", "door", "This car has no such place."),
        ("text", "abc", ""),
        ("reason", "  ", "The reason is missing."),
    ] {
        let kept = std::mem::replace(&mut missed[key], json!(typed));
        missed["request_id"] = json!(format!("{key} {typed}"));
        let problem = phone.refused("add_missed_reading", missed.clone());
        assert_eq!((problem.fields[0].field.as_str(), problem.fields[0].typed.as_str()), (key, typed));
        assert!(problem.sentence.contains(says), "{}", problem.sentence);
        missed[key] = kept;
    }
}

#[test]
fn conditions_are_corrected_and_the_result_follows() {
    let mut phone = Phone::new();
    let mut book = finished(&mut phone);
    let floor = json!({"car": book["car"], "label": "Drive", "levelling": "not_levelled", "tape": "mm"});
    let floor = phone.ask("add_floor", floor);
    book = phone.ask("open_book", json!({"snapshot": book["snapshot"]}));
    let name = book["floors"][0]["name"].clone();
    assert_eq!(floor["label"], "Drive");
    let reference = book["snapshot"].clone();
    let ask = |field: &str, text: &Value| {
        json!({"snapshot": reference, "field": field, "text": text,
        "reason": "the wrong line", "request_id": field})
    };
    for (field, text, change) in [
        ("floor", name, "somewhere, not levelled → Drive"),
        ("facing", json!("B"), "as first → turned end for end"),
        ("odometer_km", json!("48210"), "not said → 48210 km"),
        ("air_c", json!("41 °F"), "not said → 5 °C"),
        ("date", json!("12 Apr 2031"), "15 Apr 2031 → 12 Apr 2031"),
        ("label", json!("after the drive"), "not said → after the drive"),
    ] {
        let corrected = phone.ask("correct_condition", ask(field, &text));
        let last = corrected["corrections"].as_array().unwrap().last().unwrap().clone();
        assert_eq!(last["change"], change);
    }
    let mut pressures = ask("tire_pressure_kpa", &json!(""));
    pressures["pressures"] = json!({"FL": "210", "FR": "210", "RL": "220", "RR": "220"});
    book = phone.ask("correct_condition", pressures.clone());
    let change = "FL 210, FR 207, RL 200, RR 220 kPa → FL 210, FR 210, RL 220, RR 220 kPa";
    assert_eq!(book["corrections"][6]["change"], change, "30 psi are 206.8 kPa");
    let result = phone.ask("see_result", json!({"snapshot": book["snapshot"], "kind": "frame_rail"}));
    assert_eq!(
        (&result["date"], &result["facing"], &result["floor"]),
        (&json!("2031-04-12"), &json!("B"), &json!("Drive, not levelled"))
    );

    pressures["request_id"] = json!("again");
    assert_eq!(phone.refused("correct_condition", pressures.clone()).sentence, "It says that already.");
    pressures["pressures"]["RR"] = json!("");
    let missing = phone.refused("correct_condition", pressures);
    assert_eq!(missing.fields[0].field, "pressures.RR");
    let mut wrong = ask("odometer_km", &json!("far"));
    wrong["request_id"] = json!("wrong");
    assert_eq!(phone.refused("correct_condition", wrong).fields[0].field, "odometer");
    let mut hot = ask("air_c", &json!("80"));
    hot["request_id"] = json!("hot");
    assert_eq!(
        phone.refused("correct_condition", hot).fields[0].sentence,
        "80 is no temperature from \u{2212}50 to 60 °C."
    );
}

#[test]
fn a_load_that_was_forgotten_is_corrected_and_counts() {
    let mut phone = Phone::new();
    let book = finished(&mut phone);
    let result =
        |phone: &mut Phone| phone.ask("see_result", json!({"snapshot": book["snapshot"], "kind": "frame_rail"}));
    let before = result(&mut phone);
    let aboard = |mass: &str| {
        json!({"snapshot": book["snapshot"], "field": "load_change_from_nominal", "reason": "I sat in it", "request_id": mass,
            "load": {"fuel": {"now": "", "usual": "", "tank": "", "place": "behind_rear", "behind": ""},
                "aboard": [{"what": "", "mass": mass, "place": "driver", "side": "left", "behind": ""}]}})
    };
    let problem = phone.refused("correct_condition", aboard("heavy"));
    assert_eq!(problem.fields[0].field, "load.aboard.0.mass");
    let corrected = phone.ask("correct_condition", aboard("75"));
    let last = corrected["corrections"].as_array().unwrap().last().unwrap().clone();
    assert_eq!((&last["what"], &last["change"]), (&json!("Load"), &json!("as usual → driver 75 kg")));
    // Without the driver it stands higher: the nominal heights rise, what was read does not.
    let after = result(&mut phone);
    let heights = |result: &Value, which: &str| {
        let heights = result["stance"][which].as_object().unwrap().values();
        heights.filter_map(|figure| figure["value"].as_f64()).collect::<Vec<_>>()
    };
    assert_eq!(heights(&before, "heights"), heights(&after, "heights"));
    let line = |result: &Value| result["stance"]["lines_nominal"]["frame_rail"]["front_mean_mm"]["value"].as_f64();
    assert!(line(&after).unwrap() > line(&before).unwrap() + 2.0);
}

#[test]
fn hostile_text_in_every_field_stores_nothing() {
    let mut phone = Phone::new();
    let book = finished(&mut phone);
    let long = "9".repeat(5_000);
    for typed in
        ["", " ", "\u{0}", "1e309", "-5", "NaN", "'; DROP TABLE correction; --", "\u{202e}23", "<b>1</b>", &long]
    {
        let mut request = correct(&book, 0, "value", typed, "x");
        let problem = phone.refused("correct_reading", request.clone());
        assert_eq!(problem.fields[0].field, "text", "{typed}");
        request["reading"] = json!(typed);
        phone.refused("correct_reading", request);
        for (field, key) in [("date", "date"), ("facing", "text"), ("floor", "text"), ("odometer_km", "odometer")] {
            if typed.trim().is_empty() && field != "date" && field != "facing" {
                continue;
            }
            let request =
                json!({"snapshot": book["snapshot"], "field": field, "text": typed, "reason": "r", "request_id": "x"});
            let problem = phone.refused("correct_condition", request);
            assert_eq!(problem.fields[0].field, key, "{field} {typed}");
        }
        phone.refused(
            "take_back_correction",
            json!({"snapshot": book["snapshot"], "correction": typed, "reason": "r", "request_id": "x"}),
        );
    }
    let mut request = correct(&book, 0, "value", "401", "x");
    for reason in ["", "\n", "\u{7}bell", &"r".repeat(61)] {
        request["reason"] = json!(reason);
        assert_eq!(phone.refused("correct_reading", request.clone()).fields[0].field, "reason");
    }
    let after = phone.ask("open_book", json!({"snapshot": book["snapshot"]}));
    assert_eq!(after, book);
}

#[test]
fn an_unfinished_snapshot_has_no_book() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let walk = phone.ask("begin_snapshot", snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1));
    assert_eq!(phone.refused("open_book", json!({"snapshot": walk["snapshot"]})).code, "snapshot_unfinished");
}

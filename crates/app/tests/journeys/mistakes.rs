//! Nonsense is refused in words, all of it at once, and nothing of it is stored.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

#[test]
fn a_form_with_many_mistakes_names_them_all() {
    let mut phone = Phone::new();
    let mut form = pickup();
    form["label"] = json!("  ");
    form["wheelbase"] = json!("26650");
    form["track_front"] = json!("1392 5/12");
    form["points"][0]["front_apart"] = json!("");
    form["tires"]["RL"]["marking"] = json!("6.50 by 16");
    form["tires"]["RR"]["pressure"] = json!("2.2");
    let problem = phone.refused("add_car", form);
    let fields: Vec<_> = problem.fields.iter().map(|field| field.field.as_str()).collect();
    assert_eq!(
        fields,
        ["label", "wheelbase", "track_front", "points.0.front_apart", "tires.RL.marking", "tires.RR.pressure"]
    );
    assert_eq!(problem.sentence, "6 fields cannot be read.");
    let of = |name: &str| problem.fields.iter().find(|field| field.field == name).unwrap();
    assert_eq!(of("wheelbase").typed, "26650");
    assert!(of("wheelbase").sentence.contains("500 to 10000 mm"), "{}", of("wheelbase").sentence);
    assert_eq!(of("tires.RR.pressure").proposals, ["2.2 bar"]);
    for field in &problem.fields {
        assert!(!field.sentence.is_empty() && !field.hint.is_empty(), "{field:?}");
    }
    assert_eq!(phone.ask("open_garage", json!({}))["cars"], json!([]), "nothing was stored");
}

#[test]
fn a_rim_larger_than_its_tire_is_refused_beside_the_tire() {
    let mut phone = Phone::new();
    let mut form = pickup();
    form["tires"]["FR"]["measured_diameter"] = json!("371.4");
    let problem = phone.refused("add_car", form);
    assert_eq!(problem.fields[0].field, "tires.FR.measured_diameter");
    assert_eq!(problem.fields[0].typed, "371.4");
    assert!(problem.sentence.contains("The rim, 406.4 mm, is not smaller"), "{}", problem.sentence);
}

#[test]
fn a_reading_that_cannot_be_is_refused_with_a_proposal_and_the_next_one_is_taken() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let walk = phone.ask("begin_snapshot", snapshot(&car, &Value::Null, json!(["frame_rail"]), 2, 1));
    let take = |text: &str| json!({"snapshot": walk["snapshot"], "step": 0, "text": text, "request_id": text});
    for (text, says) in [
        ("", "Nothing is typed yet."),
        ("4000", "a ride height is 20 to 2500 mm"),
        ("12", "a ride height is 20 to 2500 mm"),
        ("23 5/12 in", "23 5/12"),
        ("NaN", "NaN"),
        ("-400", "-400"),
    ] {
        let problem = phone.refused("take_reading", take(text));
        assert!(problem.sentence.contains(says), "{text}: {}", problem.sentence);
        assert_eq!((problem.fields[0].typed.as_str(), problem.fields[0].field.as_str()), (text, "text"));
    }
    let problem = phone.refused("take_reading", take("16"));
    assert_eq!(problem.fields[0].proposals, ["16 in", "16 cm"]);
    let walk = phone.ask("take_reading", take("15 3/4 in"));
    assert_eq!(
        (&walk["read"], &walk["steps"][0]["value"], &walk["steps"][0]["text"]),
        (&json!(1), &json!(400.05), &json!("15 3/4 in"))
    );
    let again = phone.ask("take_reading", take("15 3/4 in"));
    assert_eq!(again["read"], 1, "the same request is stored once");
}

#[test]
fn what_is_not_there_is_said_so() {
    let mut phone = Phone::new();
    for (verb, request, code) in [
        ("open_car", json!({"car": "no id"}), "not_found"),
        ("open_walk", json!({"snapshot": "0190f0c0-0000-7000-8000-000000000000"}), "not_found"),
        ("open_floor", json!({"floor": "0190f0c0-0000-7000-8000-000000000000"}), "not_found"),
        ("open_car", json!({"cars": "x"}), "request_unreadable"),
        ("frobnicate", json!({}), "verb_unknown"),
        ("import_file", json!({"name": "x.json", "text": "[1,"}), "file_unreadable"),
        ("import_file", json!({"name": "x.json", "text": "{\"vehicle\":{\"label\":\"x\"}}"}), "file_unreadable"),
    ] {
        let problem = phone.refused(verb, request);
        assert_eq!(problem.code, code, "{verb}: {problem:?}");
        assert!(!problem.hint.is_empty() && !problem.sentence.is_empty());
    }
}

#[test]
fn a_file_that_makes_no_sense_is_refused_whole() {
    let mut phone = Phone::new();
    let text = include_str!("../../../../sample-data/sloping-drive.json").replacen(
        "\"value_mm\": 701.675",
        "\"value_mm\": 801.675",
        1,
    );
    let problem = phone.refused("import_file", json!({"name": "drive.json", "text": text}));
    assert!(problem.sentence.starts_with("drive.json: snapshots[0].bounces[0].readings[0]"), "{}", problem.sentence);
    assert_eq!(phone.ask("open_garage", json!({}))["cars"], json!([]));
}

#[test]
fn one_unfinished_snapshot_at_a_time_and_a_finished_one_is_frozen() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    let walk = phone.ask("begin_snapshot", form.clone());
    assert_eq!(phone.refused("begin_snapshot", form.clone()).code, "snapshot_unfinished");
    assert_eq!(phone.refused("finish_snapshot", json!({"snapshot": walk["snapshot"]})).code, "nothing_read");
    let walk = phone.take(&walk, "400");
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let late = json!({"snapshot": walk["snapshot"], "step": 1, "text": "345", "request_id": "late"});
    assert_eq!(phone.refused("take_reading", late).code, "snapshot_finished");
    assert_eq!(phone.refused("undo_reading", json!({"snapshot": walk["snapshot"]})).code, "snapshot_finished");
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(result["headline"], "Not read at all four corners.");
}

#[test]
fn an_odometer_that_can_be_read_two_ways_is_asked_about() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    for typed in ["12,500", "12.500 km"] {
        form["odometer"] = json!(typed);
        let problem = phone.refused("begin_snapshot", form.clone());
        let field = &problem.fields[0];
        assert_eq!((field.field.as_str(), field.typed.as_str()), ("odometer", typed));
        assert!(field.sentence.ends_with("can be read two ways."), "{}", field.sentence);
        assert_eq!(field.proposals, ["12500", "12.5"]);
    }
    form["odometer"] = json!("12 500 km");
    phone.ask("begin_snapshot", form);
    let exported = phone.ask("export_car", json!({"car": car["car"]}));
    let file: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["snapshots"][0]["odometer_km"], json!(12500.0));
}

#[test]
fn pressures_are_read_at_all_four_or_at_none() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut form = snapshot(&car, &Value::Null, json!(["frame_rail"]), 1, 1);
    form["pressures"] = json!({"FL": " ", "FR": "", "RL": "200", "RR": "210"});
    let problem = phone.refused("begin_snapshot", form.clone());
    let fields: Vec<_> = problem.fields.iter().map(|field| field.field.as_str()).collect();
    assert_eq!(fields, ["pressures.FL", "pressures.FR"]);
    form["pressures"] = json!({"FL": "32", "FR": "30 psi", "RL": "65 kPa", "RR": "210"});
    let psi = phone.refused("begin_snapshot", form.clone());
    assert_eq!((psi.fields.len(), &psi.fields[0].proposals), (1, &vec!["32 psi".to_owned(), "32 kPa".to_owned()]));
    assert_eq!(problem.fields[1].sentence, "The pressure at the front right is missing.");
    assert!(problem.fields[1].hint.contains("leave all four empty"), "{}", problem.fields[1].hint);
    form["pressures"] = json!({"FL": "", "FR": " ", "RL": "", "RR": ""});
    phone.ask("begin_snapshot", form);
    let exported = phone.ask("export_car", json!({"car": car["car"]}));
    let file: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["snapshots"][0].get("tire_pressure_kpa"), None, "nobody read a gauge");
}

//! `trueground stance` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};

/// A small car, four lips read twice in one bounce; the floor is a plane that falls 20 mm to the right.
pub(crate) fn car(levelled: bool) -> Value {
    let corners = [("FL", 0, 800), ("FR", 0, -800), ("RL", -2600, 800), ("RR", -2600, -800)];
    let points: Vec<Value> = corners
        .iter()
        .map(|(corner, x, y)| json!({"id": format!("lip.{corner}"), "corner": corner, "kind": "fender_lip", "x_mm": x, "y_mm": y}))
        .collect();
    let read = [640, 652, 668, 659];
    let readings: Vec<Value> = [1, 2]
        .iter()
        .flat_map(|repeat| {
            corners.iter().zip(read).map(move |((corner, ..), mm)| {
                json!({"ref": format!("lip.{corner}"), "repeat": repeat, "text": mm.to_string(), "unit": "mm", "value_mm": mm})
            })
        })
        .collect();
    let pass = |number: u32, plane: i32| {
        let staffs = [("S1", 0), ("S2", 20), ("S3", 0), ("S4", 20)];
        let rows: Vec<Value> =
            staffs.iter().map(|(spot, down)| json!({"point": spot, "text": "", "value_mm": plane + down})).collect();
        json!({"pass_no": number, "readings": rows})
    };
    let survey =
        if levelled { json!({"staff_u_mm": 0.8, "passes": [pass(1, 900), pass(2, 940)]}) } else { Value::Null };
    json!({
        "vehicle": {"label": "Test car", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": points},
        "floors": [{"id": "yard", "label": "back yard", "survey": survey}],
        "snapshots": [{"id": "first", "label": "first look", "date": "2031-04-12", "floor": "yard",
            "bounces": [{"bounce_id": "b1", "readings": readings}]}]
    })
}

fn stance(car: &Value, arguments: &[&str]) -> String {
    answered(trueground().args(["stance", "-"]).args(arguments).write_stdin(car.to_string()))
}

#[test]
fn on_a_levelled_floor_the_corners_are_told() {
    let text = stance(&car(true), &[]);
    assert!(
        text.starts_with(
            "Test car\n\nfirst look: 2031-04-12, back yard, levelled\n\npoint       corner       as read  level mm  ±"
        ),
        "{text}"
    );
    assert!(text.contains("\nfender lip  front left       640 "), "{text}");
    // Means and rake do not know of a cross slope: (668 + 659 - 640 - 652) / 2 = 17.5 mm over 2600 mm.
    assert!(text.contains("\n  front  646 mm ± "), "{text}");
    assert!(text.contains("\n  rake   0.4° nose-down ± 0.1"), "{text}");
    assert!(text.contains("The floor here\n  twist  0 mm ± "), "{text}");
    assert!(
        text.contains("\n  across 0.8° higher on the left at the front, 0.8° higher on the left at the rear\n"),
        "{text}"
    );
    assert!(!text.contains("Can't tell here") && !text.contains("640  can't tell"), "{text}");
    assert!(text.contains("\nNext: "), "{text}");
}

#[test]
fn where_the_floor_is_not_known_no_corner_is_claimed_and_the_next_reading_named() {
    let text = stance(&car(false), &[]);
    assert!(text.contains("back yard, not levelled"), "{text}");
    assert!(text.contains("fender lip  front left       640  can't tell"), "{text}");
    assert!(text.contains("\n  rake   0.4° nose-down ± 0.1"), "{text}");
    assert!(text.contains("Can't tell here: the corners, left from right, twist. The floor is not levelled"), "{text}");
    assert!(text.contains("level the four spots."), "{text}");
}

#[test]
fn a_floor_is_levelled_as_far_as_its_spots_were_read() {
    let heading = |survey: Value| {
        let mut car = car(true);
        car["floors"][0]["survey"] = survey;
        let text = stance(&car, &[]);
        let corners = text.contains("fender lip  front left       640  can't tell");
        (text.lines().nth(2).unwrap().trim_start_matches("first look: 2031-04-12, back yard, ").to_owned(), corners)
    };
    // 1600 mm of track falling 20 mm, and a straightedge that shows it as degrees.
    let edge = |from: &str, to: &str| json!({"from": from, "to": to, "angle_deg": 0.8});
    let pass = |readings: Value| json!({"pass_no": 1, "readings": readings});
    let staff = |spot: &str| json!({"point": spot, "text": "", "value_mm": 900});
    let struck = json!({"point": "S2", "text": "", "value_mm": 900, "struck": {"reason": "a slip"}});
    for (survey, words, untold) in [
        (json!({"straightedge": [edge("S1", "S2"), edge("S3", "S4")]}), "levelled", false),
        (json!({"straightedge": [edge("S1", "S2")]}), "levelled at 2 of the four spots", true),
        (
            json!({"passes": [pass(json!([staff("S1"), struck])), pass(json!([]))]}),
            "levelled at 1 of the four spots",
            true,
        ),
        (json!({"passes": [pass(json!([]))]}), "not levelled", true),
    ] {
        assert_eq!(heading(survey), (words.to_owned(), untold));
    }
}

#[test]
fn a_side_is_named_only_where_it_is_outside_the_band() {
    let lean = |text: &str| text.lines().find(|line| line.starts_with("  lean ")).unwrap().to_owned();
    let text = stance(&car(true), &[]);
    let json: Value = serde_json::from_str(&stance(&car(true), &["--json"])).unwrap();
    let figure = &json["snapshots"][0]["lines"]["fender_lip"]["lean_mm"];
    assert!(figure["value"].as_f64().unwrap().abs() < 2.0 * figure["u"].as_f64().unwrap(), "{figure}");
    assert!(lean(&text).contains("can't tell which side") && !lean(&text).contains("higher"), "{text}");
    assert!(text.ends_with("\n± is two standard uncertainties: 95 in 100 lie within it.\n"), "{text}");
    // The same car 60 mm higher on its left.
    let mut leaning = car(true);
    for reading in leaning["snapshots"][0]["bounces"][0]["readings"].as_array_mut().unwrap() {
        if reading["ref"].as_str().unwrap().ends_with('L') {
            let mm = reading["value_mm"].as_i64().unwrap() + 60;
            reading["value_mm"] = json!(mm);
            reading["text"] = json!(mm.to_string());
        }
    }
    let text = stance(&leaning, &[]);
    assert!(lean(&text).contains(" mm left side higher ± "), "{text}");
}

#[test]
fn json_carries_every_figure_with_value_u_and_known() {
    let json: Value = serde_json::from_str(&stance(&car(true), &["--json"])).unwrap();
    let snapshot = &json["snapshots"][0];
    assert_eq!(snapshot["id"], "first");
    for corner in ["FL", "FR", "RL", "RR"] {
        let figure = &snapshot["heights"][format!("lip.{corner}")];
        assert!(figure["value"].is_f64() && figure["u"].is_f64(), "{figure}");
        assert_ne!(figure["known"], "undetermined");
    }
    let json: Value = serde_json::from_str(&stance(&car(false), &["--json"])).unwrap();
    let figure = &json["snapshots"][0]["heights"]["lip.FL"];
    assert_eq!(figure["known"], "undetermined");
    assert!(figure.get("value").is_none() && figure["band_if"]["half_width_mm"].is_f64(), "{figure}");
}

#[test]
fn a_scenario_with_an_input_is_read_as_it_is() {
    let scenario = json!({"format": "any", "input": car(true), "truth": {"not": "read"}});
    assert_eq!(stance(&scenario, &["--json"]), stance(&car(true), &["--json"]));
}

/// A car does not change its own twist while its springs settle. The reference is the same readings on the floor as levelled.
#[test]
fn a_twist_may_be_carried_between_dates() {
    let sample = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json");
    let levelled: Value = serde_json::from_str(&std::fs::read_to_string(sample).unwrap()).unwrap();
    let mut elsewhere = levelled.clone();
    let days = [3, 6];
    for day in days {
        elsewhere["snapshots"][day]["floor"] = Value::Null;
    }
    let solved = |car: &Value, arguments: &[&str]| -> Value {
        serde_json::from_str(&stance(car, &[arguments, &["--json"]].concat())).unwrap()
    };
    let (reference, left, carried) =
        (solved(&levelled, &[]), solved(&elsewhere, &[]), solved(&elsewhere, &["--carry-twist"]));
    for day in days {
        let heights = |stances: &Value| stances["snapshots"][day]["heights"].clone();
        let (reference, left, carried) = (heights(&reference), heights(&left), heights(&carried));
        assert_eq!(reference.as_object().unwrap().len(), 4);
        for (point, surveyed) in reference.as_object().unwrap() {
            assert_eq!(surveyed["known"], "measured", "{point}");
            assert_eq!(left[point]["known"], "undetermined", "{point}");
            let figure = &carried[point];
            assert_eq!(figure["known"], "assumed", "{point}");
            let (value, u) = (figure["value"].as_f64().unwrap(), figure["u"].as_f64().unwrap());
            let off = value - surveyed["value"].as_f64().unwrap();
            assert!(off.abs() <= 3.0 * u && u < 10.0, "{point}: {off} mm off, u {u} mm");
        }
    }
    assert!(stance(&elsewhere, &["--carry-twist"]).contains("  assumed\n"));
}

#[test]
fn a_car_without_readings_says_what_to_do_first() {
    let mut bare = car(true);
    bare["snapshots"] = json!([]);
    assert!(stance(&bare, &[]).contains("Nothing is read yet. Take a snapshot"));
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    let reading = "/snapshots/0/bounces/0/readings/1";
    for (pointer, value, says) in [
        (format!("{reading}/value_mm"), json!("652"), "snapshots[0].bounces[0].readings[1].value_mm"),
        (format!("{reading}/value_mm"), json!(658), "the text 652 says 652.00 mm, value_mm says 658"),
        (format!("{reading}/ref"), json!("lip.XX"), "lip.XX"),
        ("/vehicle/wheelbase_mm".to_owned(), json!(0), "vehicle.wheelbase_mm: 0 mm is outside 500 to 10000 mm"),
        ("/vehicle/wheelbase_mm".to_owned(), json!("x".repeat(9000)), "vehicle.wheelbase_mm"),
        ("/vehicle".to_owned(), Value::Null, "vehicle"),
        ("/snapshots/0/floor".to_owned(), json!("garage"), "garage"),
    ] {
        let mut wrong = car(true);
        *wrong.pointer_mut(&pointer).unwrap() = value;
        for arguments in [&[][..], &["--json"]] {
            let said = refused(trueground().args(["stance", "-"]).args(arguments).write_stdin(wrong.to_string()));
            assert!(said.contains(says), "{pointer}: {said}");
        }
    }
    let twice = car(true).to_string().replace("\"date\"", "\"label\": \"again\", \"date\"");
    let said = refused(trueground().args(["stance", "-"]).write_stdin(twice));
    assert!(said.contains("label is given twice in snapshots[0]."), "{said}");
    let said = refused(trueground().args(["stance", "-"]).write_stdin("{\"fixed\": {}}"));
    assert!(said.contains("The file has no vehicle"), "{said}");
}

#[test]
fn every_sample_car_is_answered_in_words_and_in_json() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data");
    let files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .filter(|path| std::fs::read_to_string(path).unwrap().contains("\"vehicle\""))
        .collect();
    assert!(files.len() >= 4, "{files:?}");
    for file in files {
        answered(trueground().arg("stance").arg(&file));
        let json: Value = serde_json::from_str(&answered(trueground().arg("stance").arg(&file).arg("--json"))).unwrap();
        assert!(json["snapshots"].is_array());
    }
}

#[test]
fn corrected_readings_are_named_with_what_they_said() {
    let mut car = car(true);
    let id = "01968000-0000-7000-8000-000000000002";
    let reading = &mut car["snapshots"][0]["bounces"][0]["readings"][0];
    reading["uuid"] = json!(id);
    let written = |mm: f64| json!({"text": mm.to_string(), "unit": "mm", "value_mm": mm});
    car["snapshots"][0]["corrections"] = json!([{"uuid": "01968000-0000-7000-8000-000000000001", "what": "value",
        "at": "2031-05-03T10:00:00+02:00", "reason": "wrong edge", "reading": id, "old": written(665.0), "new": written(640.0)}]);
    let sentence = "Front left, fender lip, bounce 1, round 1: corrected 3 May 2031: 665 → 640, wrong edge.";
    assert!(stance(&car, &[]).lines().any(|line| line == sentence), "{}", stance(&car, &[]));
    let out: Value = serde_json::from_str(&stance(&car, &["--json"])).unwrap();
    assert_eq!(out["corrections"], json!([{"snapshot": "first", "sentence": sentence}]));
    car["snapshots"][0]["corrections"][0]["reading"] = json!("another");
    let refusal = refused(trueground().args(["stance", "-"]).write_stdin(car.to_string()));
    assert!(
        refusal.contains("snapshots[0].corrections[0].reading: there is no reading with the uuid another"),
        "{refusal}"
    );
}

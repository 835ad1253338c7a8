//! Every way to level a floor: straightedge, under the points, passes that do not agree, another car's floor, and honest choices.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

fn add(phone: &mut Phone, car: &Value, levelling: &str) -> Value {
    phone.ask("add_floor", json!({"car": car["car"], "label": "Drive", "levelling": levelling, "tape": "mm"}))
}

/// Takes a straightedge reading where the page asks for it, or at `line`.
fn edge(
    phone: &mut Phone,
    floor: &Value,
    line: &str,
    reversed: bool,
    text: &str,
    insist: bool,
) -> Result<Value, String> {
    phone
        .try_ask(
            "take_straightedge",
            json!({"floor": floor["floor"], "pass_no": 1, "line": line, "reversed": reversed, "text": text, "insist": insist,
                "request_id": format!("{line} {reversed} {text} {insist}")}),
        )
        .map_err(|problem| problem.code)
}

fn near(found: &Value, wanted: f64, by: f64) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{found} is a number"));
    assert!((found - wanted).abs() <= by, "{found}, wanted {wanted}");
}

/// By hand: 1392·tan 1.0° is 24.3 mm, 1418·tan −0.5° is −12.4 mm: twist 36.7 mm. The gauge shows 0.2° too much when straight.
#[test]
fn a_straightedge_across_both_axles_tells_the_twist_and_along_the_sides_the_rest() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let mut floor = add(&mut phone, &car, "straightedge");
    assert_eq!((&floor["levelling"], &floor["levelled"]), (&json!("straightedge"), &json!(false)));
    let order = [
        ("S1/S2", false, "front_across", "1.2"),
        ("S1/S2", true, "front_across", "0,8"),
        ("S3/S4", false, "rear_across", "-0.3"),
        ("S3/S4", true, "rear_across", "-0°42'"),
    ];
    for (point, reversed, line, text) in order {
        assert_eq!((&floor["next"]["point"], &floor["next"]["reversed"]), (&json!(point), &json!(reversed)));
        floor = edge(&mut phone, &floor, line, reversed, text, false).unwrap();
    }
    assert_eq!((&floor["next"], &floor["levelled"]), (&Value::Null, &json!(true)));
    assert_eq!(floor["state"], "levelled by straightedge");
    assert_eq!(floor["age"], "Levelled 15 Apr 2031, today.");
    near(&floor["block"]["twist_mm"]["value"], 36.7, 0.1);
    assert_eq!((&floor["block"]["along_read"], &floor["block"]["across_read"]), (&json!(false), &json!(true)));
    assert_eq!(floor["block"]["plates"]["level_mm"], Value::Null, "front to rear is not read");
    assert_eq!(floor["groups"][0]["stations"][3]["printed"], "0.7°, right end higher");
    let says = floor["agreement"]["sentence"].as_str().unwrap();
    assert_eq!(says, "The gauge\u{2019}s own zero came out the same on every line: 0.2°.");

    for (line, text) in [("left_along", "-0.9"), ("right_along", "-0.9")] {
        floor = edge(&mut phone, &floor, line, false, text, false).unwrap();
    }
    assert_eq!(floor["block"]["along_read"], true);
    assert!(floor["block"]["plates"]["level_mm"].is_array());

    // Undo and put back, and read anew: the earlier one stays in the book.
    let reference = json!({"floor": floor["floor"]});
    floor = phone.ask("undo_floor_reading", reference.clone());
    assert_eq!(floor["taken_back"]["words"], "along the right side, 0.9°, rear end higher");
    floor = phone.ask("put_back_floor_reading", reference);
    floor = edge(&mut phone, &floor, "front_across", false, "1.25", false).unwrap();
    let rows = floor["book"][0]["rows"].as_array().unwrap();
    assert_eq!(
        (rows.len(), &rows[0]["struck"], &rows[6]["printed"]),
        (7, &json!("struck: read anew"), &json!("1.25°, left end higher"))
    );

    // What is read counts in the result: the file holds it and the engine levels with it.
    let file = phone.ask("export_car", json!({"car": car["car"]}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["floors"][0]["survey"]["straightedge"].as_array().unwrap().len(), 7);
    let mut other = Phone::new();
    other.ask("import_file", json!({"name": "car.json", "text": file.to_string()}));
    let there = other.ask("open_floor", json!({"floor": floor["floor"]}));
    assert_eq!((&there["block"], &there["groups"]), (&floor["block"], &floor["groups"]));
}

#[test]
fn what_a_gauge_cannot_show_is_asked_about_and_nonsense_is_refused() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let floor = add(&mut phone, &car, "straightedge");
    for text in ["", "90", "1 1/2", "NaN", "--1", "1e400", "\u{202e}1", &"9".repeat(500), "'; DROP TABLE reading; --"] {
        assert_eq!(
            edge(&mut phone, &floor, "front_across", false, text, false).unwrap_err(),
            "field_unreadable",
            "{text}"
        );
    }
    assert_eq!(edge(&mut phone, &floor, "front_across", false, "12", false).unwrap_err(), "steep");
    assert_eq!(edge(&mut phone, &floor, "front_across", false, "2.1", false).unwrap()["read"], true);
    assert_eq!(edge(&mut phone, &floor, "front_across", true, "-2.1", false).unwrap_err(), "two_ways");
    let taken = edge(&mut phone, &floor, "front_across", true, "-2.1", true).unwrap();
    assert_eq!(taken["next"]["point"], "S3/S4");
    for (verb, request) in [
        (
            "take_straightedge",
            json!({"floor": floor["floor"], "pass_no": 0, "line": "front_across", "reversed": false, "text": "1", "request_id": "x"}),
        ),
        (
            "take_floor_reading",
            json!({"floor": floor["floor"], "pass_no": 1, "point": "under:<b>lip.FL", "text": "900", "tape": "mm", "request_id": "y"}),
        ),
        (
            "take_floor_reading",
            json!({"floor": floor["floor"], "pass_no": 1, "point": "S5", "text": "900", "tape": "mm", "request_id": "z"}),
        ),
        (
            "change_floor",
            json!({"floor": floor["floor"], "label": " \n ", "levelling": "flat_to", "flat_to": "five", "tape": "in"}),
        ),
        ("change_floor", json!({"floor": floor["floor"], "label": "x", "levelling": "not_levelled", "tape": "in"})),
        (
            "strike_floor_reading",
            json!({"floor": floor["floor"], "reading": taken["book"][0]["rows"][0]["reading"], "reason": "\u{7}"}),
        ),
    ] {
        let problem = phone.refused(verb, request);
        assert!(!problem.fields.is_empty() && !problem.hint.is_empty(), "{verb}: {problem:?}");
    }
    for (verb, request) in [
        ("strike_floor_reading", json!({"floor": floor["floor"], "reading": "../../etc", "reason": "x"})),
        ("strike_floor_reading", json!({"floor": floor["floor"], "reading": floor["floor"], "reason": "x"})),
        ("use_floor", json!({"car": car["car"], "floor": car["car"]})),
        ("use_floor", json!({"car": floor["floor"], "floor": floor["floor"]})),
        ("add_pass", json!({"floor": "NaN"})),
    ] {
        assert!(!phone.refused(verb, request).sentence.is_empty(), "{verb}");
    }
    let after = phone.ask("open_floor", json!({"floor": floor["floor"]}));
    assert_eq!(
        (&after["label"], after["book"][0]["rows"].as_array().unwrap().len()),
        (&json!("Drive"), 2),
        "nothing was stored"
    );
}

#[test]
fn two_passes_that_do_not_agree_name_the_spot_and_a_third_tells_which_one_is_off() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut floor = add(&mut phone, &car, "water_level");
    let reference = json!({"floor": floor["floor"]});
    for text in ["918", "952", "872", "865"] {
        floor = phone.staff(&floor, text);
    }
    floor = phone.ask("add_pass", reference.clone());
    for text in ["1018", "1052", "963", "965"] {
        floor = phone.staff(&floor, text);
    }
    let says = |floor: &Value| floor["agreement"]["sentence"].as_str().unwrap().to_owned();
    assert_eq!(says(&floor), "Spot 3 differs by 9 mm between the passes. Read it once more.");
    assert_eq!(
        floor["agreement"]["again"],
        json!({"point": "S3", "reversed": false, "words": "Read spot 3 once more"})
    );

    // Another day, another pass: pass 1 is off, its line is gone, so it is struck and stays in the book.
    floor = phone.ask("add_pass", json!({"floor": floor["floor"], "levelling": "laser_line"}));
    assert_eq!((&floor["levelling"], &floor["next"]["pass_no"]), (&json!("laser_line"), &json!(3)));
    for text in ["700", "734", "645", "647"] {
        floor = phone.staff(&floor, text);
    }
    assert_eq!(says(&floor), "Spot 3 of pass 1 stands 9 mm off the other passes. Strike spot 3 of pass 1.");
    assert_eq!(floor["agreement"]["again"], Value::Null);
    let row = &floor["book"][0]["rows"][2];
    assert_eq!((&row["words"], &row["text"], &row["struck"]), (&json!("spot 3"), &json!("872"), &Value::Null));
    let strike = json!({"floor": floor["floor"], "reading": row["reading"], "reason": "wrong cross"});
    floor = phone.ask("strike_floor_reading", strike.clone());
    assert_eq!(floor["book"][0]["rows"][2]["struck"], "struck: wrong cross");
    assert_eq!(
        (&floor["next"], &floor["agreement"]["word"]),
        (&Value::Null, &json!("same")),
        "it is not asked for again"
    );
    assert_eq!(phone.refused("strike_floor_reading", strike).code, "nothing_to_strike");
    // Elevations 918, 952, 863, 865: twist −36 + ... by hand: −918 + 952 + 863 − 865 = 32.
    near(&floor["block"]["twist_mm"]["value"], 32.0, 0.3);
}

#[test]
fn the_floor_is_levelled_under_the_points_as_far_as_one_likes() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut floor = add(&mut phone, &car, "water_level");
    for text in ["980", "1016", "1000", "1000"] {
        floor = phone.staff(&floor, text);
    }
    let under = &floor["groups"][1];
    assert_eq!((&under["group"], under["stations"].as_array().unwrap().len()), (&json!("under"), 8));
    assert_eq!(under["stations"][0]["words"], "under the front left fender lip");
    let take = |phone: &mut Phone, point: &str, text: &str| {
        phone.ask("take_floor_reading", json!({"floor": floor["floor"], "pass_no": 1, "point": point, "text": text, "tape": "mm", "request_id": format!("{point} {text}")}))
    };
    let after = take(&mut phone, "under:lip.RR", "997");
    let station = &after["groups"][1]["stations"][3];
    assert_eq!((&station["point"], &station["printed"]), (&json!("under:lip.RR"), &json!("997")));
    assert_eq!(after["next"], Value::Null, "the others may be skipped");
    assert_eq!(after["book"][0]["rows"][4]["words"], "under the rear right fender lip");
    let file = phone.ask("export_car", json!({"car": car["car"]}));
    assert!(file["text"].as_str().unwrap().contains("under:lip.RR"));
}

#[test]
fn another_cars_floor_says_where_the_wheels_stand_and_levels_this_car() {
    let mut phone = Phone::new();
    let owner = phone.ask("add_car", pickup());
    let mut floor = add(&mut phone, &owner, "water_level");
    for text in ["980", "1016", "1000", "1000"] {
        floor = phone.staff(&floor, text);
    }
    let mut longer = pickup();
    (longer["label"], longer["wheelbase"], longer["track_rear"]) = (json!("Sedan"), json!("2785"), json!("1438"));
    let sedan = phone.ask("add_car", longer);
    let row = &sedan["other_floors"][0];
    assert_eq!((&row["floor"], &row["of"]), (&floor["floor"], &json!("Pickup")));
    let beside = "Its rear wheels stand 120 mm behind the spots and 10 mm outside them. \
        The floor there is worked out from the four spots, which leaves up to ±1 mm more under a wheel.";
    assert_eq!(row["beside"], beside);
    let begun = phone.refused("begin_snapshot", snapshot(&sedan, &floor["floor"], json!(["frame_rail"]), 1, 1));
    assert_eq!(begun.code, "floor_of_another_car");

    let sedan = phone.ask("use_floor", json!({"car": sedan["car"], "floor": floor["floor"]}));
    assert_eq!((sedan["other_floors"].as_array().unwrap().len(), &sedan["floors"][0]["of"]), (0, &json!("Pickup")));
    assert_eq!(sedan["floors"][0]["beside"], beside);
    let mut walk = phone.ask("begin_snapshot", snapshot(&sedan, &floor["floor"], json!(["frame_rail"]), 1, 1));
    assert_eq!(walk["floor"], "Drive, levelled");
    for _ in 0..walk["steps"].as_array().unwrap().len() {
        let hub = walk["steps"][walk["at"].as_u64().unwrap() as usize]["kind"] == "hub";
        walk = phone.take(&walk, if hub { "345" } else { "400" });
    }
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"], "kind": "frame_rail"}));
    assert_eq!(result["line"]["twist_mm"]["known"], "measured");
    // The same heights everywhere on a floor with 36 mm of twist: the car has it, the other way.
    assert!(result["line"]["twist_mm"]["value"].as_f64().unwrap() > 10.0, "{}", result["line"]["twist_mm"]);
    let text = phone.ask("export_car", json!({"car": sedan["car"]}))["text"].as_str().unwrap().to_owned();
    let file: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(
        file["floors"][0]["footprint"],
        json!({"wheelbase_mm": 2665.0, "track_front_mm": 1392.0, "track_rear_mm": 1418.0})
    );
    let mut elsewhere = Phone::new();
    for _ in 0..2 {
        let garage = elsewhere.ask("import_file", json!({"name": "sedan.json", "text": text}));
        assert_eq!(garage["cars"].as_array().unwrap().len(), 1);
    }
    let there = elsewhere.ask("see_result", json!({"snapshot": walk["snapshot"], "kind": "frame_rail"}));
    assert_eq!(there["line"], result["line"]);
}

#[test]
fn a_floor_is_renamed_and_levelled_after_the_snapshot_and_the_result_follows() {
    let mut phone = Phone::new();
    let car = phone.ask("add_car", pickup());
    let mut floor = add(&mut phone, &car, "not_levelled");
    assert_eq!(floor["consequence"], "Front, rear and rake can be told; left from right cannot.");
    let mut walk = phone.ask("begin_snapshot", snapshot(&car, &floor["floor"], json!(["frame_rail"]), 1, 1));
    for _ in 0..walk["steps"].as_array().unwrap().len() {
        let hub = walk["steps"][walk["at"].as_u64().unwrap() as usize]["kind"] == "hub";
        walk = phone.take(&walk, if hub { "345" } else { "400" });
    }
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let known = |phone: &mut Phone| {
        let result = phone.ask("see_result", json!({"snapshot": walk["snapshot"], "kind": "frame_rail"}));
        result["line"]["twist_mm"]["known"].as_str().unwrap().to_owned()
    };
    assert_eq!(known(&mut phone), "undetermined");
    let change = |levelling: &str, flat: &str| json!({"floor": floor["floor"], "label": "Old drive", "levelling": levelling, "flat_to": flat, "tape": "mm"});
    let (flat, level) = (change("flat_to", "5"), change("water_level", ""));
    floor = phone.ask("change_floor", flat);
    assert_eq!((&floor["label"], &floor["state"]), (&json!("Old drive"), &json!("flat to about ± 5 mm")));
    assert!(floor["consequence"].as_str().unwrap().contains("stay marked as assumed"));
    assert_eq!(known(&mut phone), "assumed");
    floor = phone.ask("change_floor", level);
    for text in ["980", "1016", "1000", "1000"] {
        floor = phone.staff(&floor, text);
    }
    assert_eq!((&floor["consequence"], &floor["levelled"]), (&json!(""), &json!(true)));
    assert_eq!(known(&mut phone), "measured");
}

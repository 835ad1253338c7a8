//! Targets as a person makes them: typed, from a snapshot, from a rake and one height, from tires and the lowest rail, as limits;
//! put away and brought back, copied to another car, written as a small file and opened.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

fn with_pickup() -> (Phone, Value) {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let view = phone.ask("open_targets", json!({"car": car["car"]}));
    (phone, view)
}

fn form(view: &Value, part: Value) -> Value {
    let mut form = view["blank"].clone();
    for (key, value) in part.as_object().unwrap() {
        form[key] = value.clone();
    }
    form
}

fn typed(view: &Value) -> Value {
    let heights = json!({"rail.FL": "246", "rail.FR": "24.6 cm", "rail.RL": "326", "rail.RR": "326"});
    form(view, json!({"label": "low and forward", "tape": "mm", "heights": heights, "tolerances": {"rail.FL": "3"}}))
}

#[test]
fn heights_are_typed_in_any_notation_and_what_was_typed_comes_back() {
    let (mut phone, view) = with_pickup();
    assert_eq!(view["rows"], json!([]));
    let view = phone.ask("keep_target", typed(&view));
    let row = &view["rows"][0];
    assert_eq!((&row["target"], &row["label"]), (&view["kept"], &json!("low and forward")));
    assert_eq!(row["what"], "Four heights, ±3 to 6 mm");
    assert_eq!(row["form"]["heights"]["rail.FR"], "24.6 cm");
    // 80 mm over the rails' own distance, 2665 − 320 − 420 = 1925 mm: atan(80/1925) = 2.3797°.
    assert!((row["rake_deg"].as_f64().unwrap() - 2.3797).abs() < 1e-3);
    // Kept again as it is, nothing new is made; changed, the earlier one is replaced.
    let again = phone.ask("keep_target", row["form"].clone());
    assert_eq!((&again["kept"], again["rows"].as_array().unwrap().len()), (&row["target"], 1));
    let mut lower = row["form"].clone();
    lower["heights"]["rail.FL"] = json!("9 1/2 in");
    let view = phone.ask("keep_target", lower);
    assert_eq!(view["rows"].as_array().unwrap().len(), 1);
    assert_ne!(view["rows"][0]["target"], row["target"]);
    let file = phone.ask("export_car", json!({"car": view["car"], "without_pictures": true}));
    let file: Value = serde_json::from_str(file["text"].as_str().unwrap()).unwrap();
    assert_eq!(file["targets"][1]["heights_mm"]["rail.FL"], 241.3);
    assert_eq!(file["targets"][1]["replaces"], row["target"]);
}

#[test]
fn every_problem_stands_at_its_field_and_nothing_is_stored() {
    let (mut phone, view) = with_pickup();
    let limit = |lowest: &str, highest: &str| json!({"kind": "frame_rail", "end": null, "lowest": lowest, "highest": highest, "rule": "club_rule", "says": ""});
    let rows = [
        (json!({"label": "", "heights": {"rail.FL": "23 5/12"}}), vec!["label", "heights.rail.FL"]),
        (json!({"heights": {}}), vec!["heights"]),
        (json!({"heights": {"rail.FL": "24000"}}), vec!["heights.rail.FL"]),
        (json!({"heights": {"nowhere": "240"}}), vec!["heights.nowhere"]),
        (json!({"way": "snapshot"}), vec!["snapshot"]),
        (json!({"way": "rake", "height": "", "rake": "80"}), vec!["height", "rake"]),
        (json!({"way": "rake", "height": "240", "rake": ""}), vec!["rake"]),
        (json!({"way": "rake", "kind": "body_seam", "height": "240", "rake": "1"}), vec!["kind"]),
        (json!({"way": "rake", "height": "100", "rake": "-15"}), vec!["rake"]),
        (
            json!({"way": "silhouette", "tire_front": "round", "tire_rear": "", "lowest_rail": "low"}),
            vec!["lowest_rail", "tire_front", "tire_rear"],
        ),
        (json!({"way": "limits"}), vec!["limits"]),
        (json!({"way": "limits", "limits": [limit("", "")]}), vec!["limits.0.lowest"]),
        (json!({"way": "limits", "limits": [limit("120", "110")]}), vec!["limits.0.highest"]),
        (
            json!({"heights": {"rail.FL": "240"}, "tolerance": "0", "side_to_side": "wide", "rake_tolerance": "x"}),
            vec!["tolerance", "side_to_side", "rake_tolerance"],
        ),
    ];
    for (part, fields) in rows {
        let mut asked = form(&view, json!({"label": "a target", "tape": "mm"}));
        for (key, value) in part.as_object().unwrap() {
            asked[key] = value.clone();
        }
        let problem = phone.refused("keep_target", asked.clone());
        let found: Vec<&str> = problem.fields.iter().map(|field| field.field.as_str()).collect();
        assert_eq!(found, fields, "{part}");
        assert!(problem.fields.iter().all(|field| !field.sentence.is_empty() && !field.hint.is_empty()), "{problem:?}");
        // While it is typed nothing is refused.
        phone.ask("sketch_target", asked);
    }
    assert_eq!(phone.ask("open_targets", json!({"car": view["car"]}))["rows"], json!([]));
}

#[test]
fn a_rake_and_one_height_give_the_other_end_and_the_picture_follows() {
    let (mut phone, view) = with_pickup();
    let asked = form(
        &view,
        json!({"label": "two degrees", "tape": "mm", "way": "rake", "kind": "frame_rail", "end": "rear",
        "height": "330", "rake": "2", "rake_tolerance": "0.25"}),
    );
    let sketch = phone.ask("sketch_target", asked.clone());
    // 1925 mm · tan 2° = 67.22 mm: 262.8 in front.
    assert_eq!(sketch["side"]["front_mm"]["value"], 262.8);
    assert_eq!(sketch["follows"][0], "Frame rails: 263 mm at the front, 330 mm at the rear, nose-down 2.0°.");
    assert_eq!(sketch["now"], Value::Null);
    let view = phone.ask("keep_target", asked);
    assert_eq!(view["rows"][0]["rake_deg"], 2.0);
    assert_eq!(view["rows"][0]["made"], "From a rake and one height, 15 Apr 2031.");
}

#[test]
fn tires_and_the_lowest_rail_give_a_silhouette_and_say_when_it_lies_below_the_rim() {
    let (mut phone, view) = with_pickup();
    let asked = form(
        &view,
        json!({"label": "silhouette", "tape": "mm", "way": "silhouette", "tire_front": "5.00-16",
        "tire_rear": "7.00-16", "lowest_rail": "100", "rake": ""}),
    );
    let sketch = phone.ask("sketch_target", asked.clone());
    let follows: Vec<&str> = sketch["follows"].as_array().unwrap().iter().map(|said| said.as_str().unwrap()).collect();
    assert_eq!(follows.len(), 4, "{follows:?}");
    assert!(follows[1].starts_with("The front wheel centre stands at"), "{follows:?}");
    assert!(follows[3].starts_with("The rail, 100 mm, lies below the rim line"), "{follows:?}");
    assert!(
        sketch["side"]["rear_wheel"]["free_radius_mm"].as_f64()
            > sketch["side"]["front_wheel"]["free_radius_mm"].as_f64()
    );
    let view = phone.ask("keep_target", asked);
    assert_eq!(view["rows"][0]["made"], "From tires and the lowest rail, 15 Apr 2031.");
}

#[test]
fn a_target_is_put_away_and_brought_back_whatever_happens_between() {
    let (mut phone, view) = with_pickup();
    let view = phone.ask("keep_target", typed(&view));
    let target = view["kept"].clone();
    let put = |away: bool| json!({"car": view["car"], "target": target, "away": away});
    let away = phone.ask("put_away_target", put(true));
    assert_eq!((&away["rows"], &away["put_away"][0]["target"]), (&json!([]), &target));
    let back = phone.ask("put_away_target", put(false));
    assert_eq!((&back["rows"][0]["target"], &back["put_away"]), (&target, &json!([])));
    let problem = phone.refused("put_away_target", json!({"car": view["car"], "target": "none", "away": true}));
    assert_eq!(problem.sentence, "There is no target none in this garage.");
}

#[test]
fn a_snapshot_becomes_a_target_and_a_copy_says_what_it_could_not_carry() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let named = |word: &str| {
        let cars = garage["cars"].as_array().unwrap();
        cars.iter().find(|car| car["label"].as_str().unwrap().to_lowercase().contains(word)).unwrap()["car"].clone()
    };
    let (roadster, pickup) = (named("roadster"), named("pickup"));
    let view = phone.ask("open_targets", json!({"car": roadster}));
    // The target of the file of version 1 is there.
    assert_eq!(view["rows"][0]["label"], "target stance 'low and forward'");
    assert_eq!(view["rows"][0]["form"]["heights"]["rail.FL"].as_str().unwrap().split(' ').next(), Some("246"));
    let asked =
        form(&view, json!({"label": "as in the yard", "way": "snapshot", "snapshot": view["snapshots"][0]["id"]}));
    let view = phone.ask("keep_target", asked);
    let target = view["rows"].as_array().unwrap().iter().find(|row| row["target"] == view["kept"]).unwrap();
    // True rails two days before the show: 265.9 in front, 329.5 behind.
    assert!((target["side"]["front_mm"]["value"].as_f64().unwrap() - 265.9).abs() < 4.0);
    assert!((target["side"]["rear_mm"]["value"].as_f64().unwrap() - 329.5).abs() < 4.0);
    let copied =
        phone.ask("copy_target", json!({"car": roadster, "target": target["target"], "to": pickup, "keep": "heights"}));
    assert!(copied["said"][0].as_str().unwrap().starts_with("It is now among the targets of"), "{}", copied["said"]);
    assert!(copied["said"][1].as_str().unwrap().contains("has no points like seam."), "{}", copied["said"]);
    let there = phone.ask("open_targets", json!({"car": pickup}));
    assert_eq!(there["rows"][0]["side"]["front_mm"], target["side"]["front_mm"]);
    // The rake kept, the rear follows from the pickup's own marks.
    phone.ask("copy_target", json!({"car": roadster, "target": target["target"], "to": pickup, "keep": "rake"}));
    let there = phone.ask("open_targets", json!({"car": pickup}));
    let rakes = [&there["rows"][0]["rake_deg"], &target["rake_deg"]].map(|rake| rake.as_f64().unwrap());
    assert!((rakes[0] - rakes[1]).abs() < 0.005, "{rakes:?}");
}

/// The form of typed heights has no field for a stated rake or for tires: another name changes neither.
#[test]
fn another_name_leaves_what_the_file_said_of_rake_and_tires() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let cars = garage["cars"].as_array().unwrap();
    let roadster = cars.iter().find(|car| car["label"].as_str().unwrap().to_lowercase().contains("roadster")).unwrap();
    let view = phone.ask("open_targets", json!({"car": roadster["car"]}));
    let mut form = view["rows"][0]["form"].clone();
    form["label"] = json!("show");
    phone.ask("keep_target", form);
    let exported = phone.ask("export_car", json!({"car": roadster["car"], "without_pictures": true}));
    let file: Value = serde_json::from_str(exported["text"].as_str().unwrap()).unwrap();
    let (before, after) = (&file["target"], &file["targets"][0]);
    assert_eq!((&after["label"], &after["heights_mm"]), (&json!("show"), &before["heights_mm"]));
    assert!(before["rake_deg"].is_number());
    for kept in ["rake_deg", "rake_tolerance_deg", "side_to_side_tolerance_mm", "tires"] {
        assert_eq!(after.get(kept), before.get(kept), "{kept}");
    }
}

#[test]
fn a_target_goes_from_phone_to_phone_as_a_small_file_once() {
    let (mut phone, view) = with_pickup();
    let view = phone.ask("keep_target", typed(&view));
    let written = phone.ask("write_target", json!({"car": view["car"], "target": view["kept"]}));
    assert_eq!(written["file_name"], "low-and-forward.target.json");
    let text = written["text"].as_str().unwrap();
    assert!(text.len() < 6_000 && !text.contains("24.6 cm"), "what was typed stays at home: {text}");
    let open =
        |text: &str, car: &Value| json!({"car": car, "name": "low.target.json", "text": text, "keep": "heights"});
    // Here it is already.
    let again = phone.ask("open_target_file", open(text, &view["car"]));
    assert_eq!(
        (&again["said"][0], again["rows"].as_array().unwrap().len()),
        (&json!("This target is here already."), 1)
    );
    let (mut other, there) = with_pickup();
    let opened = other.ask("open_target_file", open(text, &there["car"]));
    assert_eq!((opened["rows"][0]["label"].as_str(), &opened["said"]), (Some("low and forward"), &json!([])));
    let twice = other.ask("open_target_file", open(text, &there["car"]));
    assert_eq!(twice["rows"].as_array().unwrap().len(), 1);
    // What is no target is refused by name, and nothing is stored.
    for hostile in ["", "{", "[]", "{\"trueground\":\"target\",\"version\":9}", &text.replace("246.0", "1e308")] {
        let problem = other.refused("open_target_file", open(hostile, &there["car"]));
        assert!(problem.sentence.starts_with("low.target.json: ") && !problem.hint.is_empty(), "{problem:?}");
    }
    assert_eq!(other.ask("open_targets", json!({"car": there["car"]}))["rows"].as_array().unwrap().len(), 1);
}

fn roadster() -> Value {
    serde_json::from_str(include_str!("../../../../sample-data/show-roadster.json")).expect("an exchange file")
}

/// What an earlier version let in stays readable, and hides nothing; a file is refused with the place.
#[test]
fn a_malformed_target_of_version_1_is_refused_in_a_file_and_hides_nothing_where_it_is_kept() {
    let mut phone = Phone::new();
    let mut file = roadster();
    file["target"]["heights_mm"]["rail.FL"] = json!("low");
    let problem = phone.refused("import_file", json!({"name": "roadster.json", "text": file.to_string()}));
    let sentence = problem.sentence.as_str();
    assert!(
        sentence
            .starts_with("roadster.json: target.heights_mm.rail.FL: the text \"low\" stands where a number belongs"),
        "{sentence}"
    );
    assert_eq!(phone.ask("open_garage", json!({}))["cars"], json!([]));

    phone.let_in(file);
    let garage = phone.ask("open_garage", json!({}));
    let car = garage["cars"][0]["car"].clone();
    let view = phone.ask("open_targets", json!({"car": car}));
    let said = view["said"][0].as_str().unwrap();
    assert!(said.contains("cannot be read and is left out. target.heights_mm.rail.FL"), "{said}");
    let view = phone.ask("keep_target", typed(&view));
    assert_eq!(view["rows"].as_array().unwrap().len(), 1);
    let pair = json!({"car": car, "this": {"of": "snapshot", "id": view["snapshots"][0]["id"]}, "other": {"of": "target", "id": view["kept"]}});
    assert!(phone.ask("compare", pair)["comparison"]["corners"].is_object());
}

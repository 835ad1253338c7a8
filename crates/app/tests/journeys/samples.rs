//! The sample garage: one tap, and what each car shows.

use crate::phone::Phone;
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};

#[test]
fn one_tap_opens_three_cars_and_a_second_tap_changes_nothing() {
    let mut phone = Phone::new();
    let first = phone.ask("open_sample_garage", json!({}));
    let labels: Vec<_> = first["cars"].as_array().unwrap().iter().map(|car| car["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["Sample pickup", "Sample coupe", "Sample roadster"]);
    for car in first["cars"].as_array().unwrap() {
        assert!(car["side"]["front_mm"]["value"].is_f64(), "{car}");
        assert!(car["state"].as_str().unwrap().starts_with("Nose-"), "{}", car["state"]);
    }
    let second = phone.ask("open_sample_garage", json!({}));
    assert_eq!(first, second);
}

#[test]
fn the_sloping_drive_says_most_of_its_lean_is_the_floor_s_and_has_the_engine_s_own_numbers() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let car = phone.ask("open_car", json!({"car": garage["cars"][0]["car"]}));
    let snapshot = car["snapshots"].as_array().unwrap().iter().find(|s| s["label"] == "nose to the street").unwrap();
    let result = phone.ask("see_result", json!({"snapshot": snapshot["snapshot"], "kind": "fender_lip"}));
    assert_eq!(result["headline"], "Most of its lean is the floor\u{2019}s.", "{}", result["detail"]);
    let file: CarFile = serde_json::from_str(include_str!("../../../../sample-data/sloping-drive.json")).unwrap();
    let printed = |corner: &str, key: &str| {
        let at = &result["corners"][corner];
        at[key].as_f64().or(at[key]["value"].as_f64()).unwrap().round()
    };
    let (tape, level) =
        (printed("RL", "tape_mm") - printed("RR", "tape_mm"), printed("RL", "level_mm") - printed("RR", "level_mm"));
    let detail = result["detail"].as_str().unwrap();
    let start =
        format!("Rear left by tape: {tape} mm high against the right. On level ground: rear left {level} mm higher, ±");
    assert!(detail.starts_with(&start) && detail.ends_with(": can\u{2019}t tell."), "{detail}");
    let solution = solve(&file, &Options::default()).unwrap();
    for corner in ["FL", "FR", "RL", "RR"] {
        let shown = result["corners"][corner]["level_mm"]["value"].as_f64().unwrap();
        let engine = solution.snapshots[0].heights[&format!("lip.{corner}")].value.unwrap();
        assert!((shown - engine).abs() < 1e-9, "{corner}: {shown} {engine}");
    }
    assert!(result["block"]["twist_mm"]["value"].as_f64().unwrap() > 30.0);

    let why = phone.ask("why", json!({"snapshot": snapshot["snapshot"], "figure": "heights.rail.RL"}));
    assert_eq!((&why["title"], &why["corner"]), (&json!("rear left, frame rail"), &json!("RL")));
    let sum: Vec<f64> = why["sum"].as_array().unwrap().iter().map(|line| line["value_mm"].as_f64().unwrap()).collect();
    assert_eq!(sum[0] + sum[1] + sum[2], sum[3], "adds up as printed");
    assert!(sum.iter().all(|mm| mm.fract() == 0.0));
    let squares: f64 =
        why["budget"].as_array().unwrap().iter().map(|row| (row["band"].as_f64().unwrap() / 2.0).powi(2)).sum();
    let u = why["figure"]["u"].as_f64().unwrap();
    assert!((squares.sqrt() - u).abs() < 0.01 * u, "the sources add to the ±: {} {u}", squares.sqrt());
    assert!(!why["next"]["words"].as_str().unwrap().is_empty());
    for (figure, inside) in [("heights.rail.RL", "height"), ("lines.frame_rail.twist_mm", "value")] {
        let why = phone.ask("why", json!({"snapshot": snapshot["snapshot"], "figure": figure}));
        assert!(why["adds"].as_str().unwrap().ends_with(&format!("the true {inside} is inside.")), "{figure}");
    }
}

#[test]
fn without_a_levelled_floor_nothing_is_claimed_side_to_side() {
    let mut phone = Phone::new();
    let mut file: Value = serde_json::from_str(include_str!("../../../../sample-data/settling-coupe.json")).unwrap();
    file["floors"][0]["survey"] = Value::Null;
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let car = phone.ask("open_car", json!({"car": garage["cars"][0]["car"]}));
    assert_eq!(car["even"]["word"], "cant_tell");
    let result = phone.ask("see_result", json!({"snapshot": car["snapshots"][0]["snapshot"]}));
    assert_eq!(result["headline"], "Can\u{2019}t tell left from right here.");
    assert!(result["corners"]["FL"]["level_mm"].get("value").is_none());
    assert!(result["line"]["front_mean_mm"]["value"].is_f64(), "front, rear and rake are sound all the same");
    let known = result["not_known"][0].as_str().unwrap();
    assert!(known.contains("floor not levelled"), "{known}");
    let next = result["next"].as_array().unwrap();
    let level = next.iter().find(|next| next["what"] == "survey_spots").unwrap();
    assert_eq!(level["words"], "Level the four spots");
    assert!(level["gain"].as_str().unwrap().starts_with("then it can be told, ±"), "{level}");
}

#[test]
fn a_car_has_a_blank_booking_sheet_to_print() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let sheet = phone.ask("blank_sheet", json!({"car": garage["cars"][0]["car"]}));
    assert_eq!(sheet["file_name"], "sample-pickup-booking-sheet.html");
    let page = sheet["html"].as_str().unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("<h1>Sample pickup "), "{page}");
    assert!(page.contains("home driveway, levelled") && page.contains("210 kPa, 30 psi"), "{page}");
}

#[test]
fn an_exported_car_comes_back_into_an_empty_garage_the_same() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    for car in garage["cars"].as_array().unwrap() {
        let exported = phone.ask("export_car", json!({"car": car["car"]}));
        let mut other = Phone::new();
        let there = other.ask("import_file", json!({"name": exported["file_name"], "text": exported["text"]}));
        assert_eq!(there["cars"][0], *car);
        let again = other.ask("export_car", json!({"car": car["car"]}));
        assert_eq!(again["text"], exported["text"]);
    }
}

#[test]
fn a_snapshot_just_begun_does_not_hide_where_the_car_stands() {
    let mut phone = Phone::new();
    let garage = phone.ask("open_sample_garage", json!({}));
    let before = phone.ask("open_car", json!({"car": garage["cars"][0]["car"]}));
    let walk = phone.ask("begin_snapshot", before["begin"].clone());
    assert_eq!(walk["side"]["front_mm"], before["side"]["front_mm"], "drawn as it last stood");
    let during = phone.ask("open_car", json!({"car": before["car"]}));
    assert_eq!(during["corners"], before["corners"]);
    assert_eq!(
        (&during["unfinished"], &during["next"]),
        (&walk["snapshot"], &json!("Go on with the unfinished snapshot."))
    );
    let rows = phone.ask("open_garage", json!({}));
    let state = rows["cars"][0]["unfinished_state"].as_str().unwrap();
    assert!(state.starts_with("0 of "), "{state}");
    let early = phone.ask("see_result", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(early["headline"], "Not read at all four corners.");
}

#[test]
fn a_car_with_a_hundred_snapshots_shows_the_engine_s_own_numbers_for_all_of_them() {
    let mut file: Value = serde_json::from_str(include_str!("../../../../sample-data/settling-coupe.json")).unwrap();
    let days = file["snapshots"].as_array().unwrap().clone();
    file["snapshots"] = (0..100)
        .map(|day| {
            let mut snapshot = days[day % days.len()].clone();
            snapshot["id"] = json!(format!("day{day}"));
            snapshot["label"] = json!(format!("day {day}"));
            snapshot
        })
        .collect();
    let mut phone = Phone::new();
    let garage = phone.ask("import_file", json!({"name": "coupe.json", "text": file.to_string()}));
    let car = phone.ask("open_car", json!({"car": garage["cars"][0]["car"]}));
    let solution = solve(&serde_json::from_value(file).unwrap(), &Options::default()).unwrap();
    for day in [0, 99] {
        let label = format!("day {day}");
        let snapshot = car["snapshots"].as_array().unwrap().iter().find(|s| s["label"] == *label).unwrap();
        let result = phone.ask("see_result", json!({"snapshot": snapshot["snapshot"], "kind": "fender_lip"}));
        for corner in ["FL", "FR", "RL", "RR"] {
            let shown = &result["corners"][corner]["level_mm"];
            let engine = solution.snapshots[day].heights[&format!("lip.{corner}")];
            assert!(
                (shown["value"].as_f64().unwrap() - engine.value.unwrap()).abs() < 1e-9,
                "{label} {corner}: {shown}"
            );
            assert!((shown["u"].as_f64().unwrap() - engine.u.unwrap()).abs() < 1e-9, "{label} {corner}: {shown}");
        }
    }
}

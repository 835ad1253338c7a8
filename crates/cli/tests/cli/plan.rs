//! `trueground plan` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

fn sample() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/show-roadster.json")
}

fn with(change: impl Fn(&mut Value)) -> String {
    let mut file: Value = serde_json::from_str(&std::fs::read_to_string(sample()).unwrap()).unwrap();
    change(&mut file);
    file.to_string()
}

fn reply(text: &str, arguments: &[&str]) -> Value {
    let printed = answered(trueground().args(["plan", "-", "--json"]).args(arguments).write_stdin(text));
    serde_json::from_str(&printed).unwrap()
}

fn said(text: &str, arguments: &[&str]) -> String {
    refused(trueground().args(["plan", "-", "--json"]).args(arguments).write_stdin(text))
}

#[test]
fn every_change_is_an_alternative_and_named_ones_are_joined() {
    let file = with(|_| {});
    let all = reply(&file, &["--snapshot", "t28"]);
    let ids: Vec<&str> = all["planned"].as_array().unwrap().iter().map(|one| one["id"].as_str().unwrap()).collect();
    assert_eq!(ids, ["front_minus_leaf", "rear_pack_12", "both", "front_tire_minus", "rear_soft"]);
    let one = &all["planned"][0];
    assert_eq!((&one["stance"]["basis"], &one["stance"]["from"]), (&json!("predicted"), &json!("t28")));
    let drop = &one["drop_by_step"][0];
    assert_eq!(
        (&drop["comes_from"], &drop["front_mm"]["value"], &drop["rear_mm"]["value"]),
        (&json!("spring"), &json!(-16.0), &json!(0.0))
    );
    assert_eq!((&drop["frame_mm"]["value"], &drop["body_mm"]["value"]), (&json!(-8.0), &json!(-8.0)));
    for point in ["rail.FL", "seam.RR"] {
        let height = &one["stance"]["heights"][point];
        assert!(height["value"].is_f64() && height["u"].as_f64().unwrap() > 2.0, "{height}");
    }
    assert!(one["findings"].as_array().unwrap().len() > 20);
    let joined =
        reply(&file, &["--snapshot", "t28", "--change", "front_minus_leaf", "--change", "rear_pack_12", "--target"]);
    assert_eq!(joined["planned"].as_array().unwrap().len(), 1);
    assert_eq!(joined["planned"][0]["stance"], all["planned"][2]["stance"]);
    assert!(joined["planned"][0]["against_target"]["differences"]["rail.FL"]["verdict"].is_string());
}

#[test]
fn a_search_ranks_and_says_when_nothing_reaches() {
    let parts = |by: f64| {
        with(|file| {
            file["parts"] = json!([
                {"id": "leaf", "slot": "front spring", "steps": [{"kind": "spring", "end": "front", "amount_mm": by}], "price": 0, "hours": 4},
                {"id": "block", "slot": "rear spring", "steps": [{"kind": "spring", "end": "rear", "amount_mm": -4}], "price": 60, "hours": 2}
            ]);
        })
    };
    let found = &reply(&parts(-24.0), &["--search", "--snapshot", "t28"])["search"];
    assert_eq!(
        (&found["reaches"], &found["proved"], &found["combinations"]),
        (&json!(true), &json!(true), &json!(4.0))
    );
    assert_eq!(found["answers"][0]["parts"][0], "leaf");
    let worst: Vec<f64> =
        found["answers"].as_array().unwrap().iter().map(|one| one["worst"].as_f64().unwrap()).collect();
    assert!(worst.is_sorted() && worst[0] <= 1.0, "{worst:?}");
    let none = &reply(&parts(-6.0), &["--search", "--snapshot", "t28"])["search"];
    assert_eq!((&none["reaches"], &none["proved"]), (&json!(false), &json!(true)));
    let words = answered(trueground().args(["plan", "-", "--search", "--snapshot", "t28"]).write_stdin(parts(-6.0)));
    assert!(words.contains("No combination of these parts reaches") && words.contains("the nearest"), "{words}");
    let kept = &reply(&parts(-24.0), &["--search", "--snapshot", "t28", "--no-touch"])["search"];
    assert_eq!(kept["reaches"], false);
    assert!(kept["nearest_but"]["breaks"].as_str().unwrap().contains("trailer ramp"), "{kept}");
}

#[test]
fn a_part_that_cannot_be_fitted_is_left_out_and_named() {
    let file = with(|file| {
        file["parts"] = json!([
            {"id": "leaf", "steps": [{"kind": "spring", "end": "front", "amount_mm": -24}]},
            {"id": "block", "steps": [{"kind": "block", "end": "rear", "thickness_mm": 25}]},
            {"id": "unknown", "steps": [{"kind": "spring", "end": "rear"}]}
        ]);
    });
    let found = &reply(&file, &["--search", "--snapshot", "t28"])["search"];
    assert_eq!((&found["reaches"], &found["combinations"]), (&json!(true), &json!(2.0)));
    let why: Vec<&str> = found["left_out"].as_array().unwrap().iter().map(|one| one["why"].as_str().unwrap()).collect();
    assert!(
        why[0].contains("transverse spring") && why[1].contains("amount_mm is missing in parts[2].steps[0]"),
        "{why:?}"
    );
}

#[test]
fn what_is_measured_afterwards_stands_against_it() {
    let file = with(|_| {});
    let reply = reply(&file, &["--snapshot", "t28", "--change", "both", "--measured", "t02"]);
    let ends = reply["measured"]["ends"].as_array().unwrap();
    assert_eq!((ends.len(), &ends[0]["end"]), (2, &json!("front")));
    // Predicted 15.5 mm lower at the front rails; the springs came down by 3.5.
    assert!((ends[0]["predicted_mm"].as_f64().unwrap() + 15.5).abs() < 0.1);
    assert!((ends[0]["measured_mm"].as_f64().unwrap() + 3.3).abs() < 6.0);
    let several = said(&file, &["--measured", "t02"]);
    assert!(several.contains("--change"), "{several}");
}

#[test]
fn kinds_are_listed_without_a_file() {
    let words = answered(trueground().args(["plan", "--kinds"]));
    assert!(words.contains("block: lowering block.") && words.contains("thickness_mm"), "{words}");
    let kinds: Value = serde_json::from_str(&answered(trueground().args(["plan", "--kinds", "--json"]))).unwrap();
    assert_eq!(kinds.as_array().unwrap().len(), 27);
}

#[test]
fn hostile_changes_and_parts_are_refused_in_words() {
    for (key, value, says) in [
        ("changes", json!({}), "changes is an object"),
        ("changes", json!([{"id": "a"}]), "steps is missing in changes[0]"),
        ("changes", json!([{"id": "a", "steps": []}]), "changes[0].steps has 0 steps"),
        ("changes", json!([{"id": "a", "steps": [{"kind": "blocks", "end": "rear"}]}]), "Did you mean block?"),
        (
            "changes",
            json!([{"id": "a", "steps": [{"kind": "block", "end": "rear", "thickness_mm": 25}]}]),
            "transverse spring",
        ),
        ("changes", json!([{"id": "a", "stepps": []}]), "Did you mean steps?"),
        ("changes", json!([]), "no changes to plan with"),
        (
            "changes",
            json!([{"id": "a", "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1e9}]}]),
            "-500 to 500 mm",
        ),
    ] {
        let file = with(|file| file[key] = value.clone());
        let said = said(&file, &[]);
        assert!(said.contains(says), "{value}: {said}");
    }
    for (value, says) in [
        (json!([]), "no parts to search"),
        (
            json!([{"id": "a", "price": -1, "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1}]}]),
            "parts[0].price is -1",
        ),
        (
            json!([{"id": "a", "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1}]}, {"id": "a", "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1}]}]),
            "the id a stands twice",
        ),
        (json!({"a": 1}), "parts"),
        (
            json!([{"id": "a", "slots": "x", "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1}]}]),
            "Did you mean slot?",
        ),
    ] {
        let file = with(|file| file["parts"] = value.clone());
        let said = said(&file, &["--search"]);
        assert!(said.contains(says), "{value}: {said}");
    }
    let file = with(|_| {});
    assert!(said(&file, &["--change", "bth"]).contains("Did you mean both?"));
    assert!(said(&file, &["--snapshot", "t99"]).contains("there is no snapshot t99"));
    let caster =
        with(|file| file["parts"] = json!([{"id": "a", "steps": [{"kind": "spring", "end": "rear", "amount_mm": 1}]}]));
    assert!(said(&caster, &["--search", "--caster", "8", "5"]).contains("the lower end first"));
}

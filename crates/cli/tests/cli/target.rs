//! `trueground target`: listed, written as a small file, taken into another car's, once.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data").join(name)
}

#[test]
fn a_target_goes_from_file_to_file_once() {
    let folder = tempfile::tempdir().unwrap();
    let kept = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let small = answered(trueground().arg("target").arg(sample("show-roadster.json")).arg("--write"));
    let small = kept("low.target.json", &small);
    let opened = |car: &Path, more: &[&str]| {
        let text = answered(trueground().arg("target").arg(car).arg("--open").arg(&small).args(more));
        let file: Value = serde_json::from_str(&text).unwrap();
        (kept("with.json", &text), file)
    };
    // Its own car has it already; another gets it once.
    let (_, own) = opened(&sample("show-roadster.json"), &[]);
    assert!(own.get("targets").is_none());
    let (path, file) = opened(&sample("sloping-drive.json"), &[]);
    assert_eq!(file["targets"][0]["heights_mm"]["rail.RL"], json!(326.0));
    assert_eq!(file["targets"][0]["made"]["from"], "car");
    let note = file["targets"][0]["note"].as_str().unwrap();
    assert!(note.contains("It was meant with tires 5.00-16 and 7.00-16."), "{note}");
    let (_, again) = opened(&path, &[]);
    assert_eq!(again["targets"].as_array().unwrap().len(), 1);
    // With the rake kept: 80 mm over the roadster's rails against the distance of the pickup's.
    let (_, raked) = opened(&sample("sloping-drive.json"), &["--keep", "rake"]);
    let run = |file: &Value| -> f64 {
        let vehicle = if file["input"].is_object() { &file["input"]["vehicle"] } else { &file["vehicle"] };
        let x = |id: &str| {
            let points = vehicle["ref_points"].as_array().unwrap();
            points.iter().find(|point| point["id"] == id).unwrap()["x_mm"].as_f64().unwrap()
        };
        x("rail.FL") - x("rail.RL")
    };
    let read = |name: &str| -> Value { serde_json::from_str(&std::fs::read_to_string(sample(name)).unwrap()).unwrap() };
    let rear = 246.0 + 80.0 * run(&read("sloping-drive.json")) / run(&read("show-roadster.json"));
    assert!((raked["targets"][0]["heights_mm"]["rail.RL"].as_f64().unwrap() - rear).abs() < 0.06);
    // And it can be compared with at once.
    let listed = answered(trueground().arg("target").arg(&path));
    assert!(listed.contains("rail.FL") && listed.contains("246"), "{listed}");
    let compared = answered(trueground().args(["compare", "--json"]).arg(&path).arg("--target"));
    assert!(compared.contains("\"rail.FL\""), "{compared}");
}

/// A file from elsewhere cannot take the place of a target that is in the book, and two that replace each other both stay in sight.
#[test]
fn a_target_from_elsewhere_hides_none_of_the_own_ones() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("low.target.json");
    let small = answered(trueground().arg("target").arg(sample("show-roadster.json")).arg("--write"));
    let mut small: Value = serde_json::from_str(&small).unwrap();
    small["target"]["replaces"] = json!("target");
    small["target"]["id"] = json!("another");
    small["target"]["heights_mm"]["rail.FL"] = json!(200);
    std::fs::write(&path, small.to_string()).unwrap();
    let with = answered(trueground().arg("target").arg(sample("show-roadster.json")).arg("--open").arg(&path));
    let with: Value = serde_json::from_str(&with).unwrap();
    let input = if with["input"].is_object() { &with["input"] } else { &with };
    assert!(input["target"].is_object());
    assert_eq!(input["targets"][0].get("replaces"), None);
    std::fs::write(&path, with.to_string()).unwrap();
    // Both are offered: whoever names none is asked which.
    assert!(refused(trueground().args(["compare", "--target"]).arg(&path)).contains("the file has 2 targets"));

    let mut each = with.clone();
    let targets = if each["input"].is_object() { &mut each["input"]["targets"] } else { &mut each["targets"] };
    let mut other = targets[0].clone();
    (targets[0]["id"], targets[0]["replaces"]) = (json!("a"), json!("b"));
    (other["id"], other["replaces"]) = (json!("b"), json!("a"));
    targets.as_array_mut().unwrap().push(other);
    std::fs::write(&path, each.to_string()).unwrap();
    let said = refused(trueground().args(["compare", "--target"]).arg(&path));
    assert!(said.contains("the file has 2 targets"), "{said}");
}

#[test]
fn what_is_no_target_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bad.json");
    for (text, says) in [
        ("{", "the file is not JSON"),
        ("{\"vehicle\": {}}", "the file is not that of a target"),
        ("{\"trueground\": \"target\", \"version\": 2}", "the file is of version 2"),
    ] {
        std::fs::write(&path, text).unwrap();
        let said = refused(trueground().arg("target").arg(sample("show-roadster.json")).arg("--open").arg(&path));
        assert!(said.contains(says), "{said}");
    }
    let said = refused(trueground().arg("target").arg(sample("settling-coupe.json")).arg("--write"));
    assert!(said.contains("the file has no target"), "{said}");
    trueground().arg("target").arg(sample("show-roadster.json")).args(["--keep", "rake"]).assert().code(2);
}

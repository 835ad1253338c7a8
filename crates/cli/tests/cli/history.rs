//! `trueground history` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::PathBuf;

fn coupe() -> PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/settling-coupe.json")
}

/// The coupe's own description: one snapshot before the work, nine after it; the lips came down 17.9 mm in front, 31.1 behind.
#[test]
fn the_coupe_came_down_at_the_work_beyond_doubt() {
    let text = answered(trueground().arg("history").arg(coupe()).arg("--json"));
    let answer: Value = serde_json::from_str(&text).unwrap();
    let entries = answer["entries"].as_array().unwrap();
    let kinds: Vec<&str> = entries.iter().map(|entry| entry["entry"].as_str().unwrap()).collect();
    assert_eq!((entries.len(), &kinds[8..]), (11, &["snapshot", "work", "snapshot"][..]));
    let step = &entries[8]["step"];
    for (end, truth) in [("front", -17.9), ("rear", -31.1)] {
        let change = &step["changed"][end];
        let (value, u) = (change["value"].as_f64().unwrap(), change["u"].as_f64().unwrap());
        assert!((value - truth).abs() < 2.0 * u, "{end}: {value} ± {u}");
        assert_eq!(change["verdict"], "changed");
    }
    assert_eq!(entries[10].get("step"), None, "nothing lies before the first");
}

#[test]
fn a_mock_up_is_said_to_be_none_to_compare() {
    let mut file: Value = serde_json::from_str(&std::fs::read_to_string(coupe()).unwrap()).unwrap();
    file["snapshots"][9]["standing"] = json!("mock_up");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.json");
    std::fs::write(&path, file.to_string()).unwrap();
    let text = answered(trueground().arg("history").arg(&path));
    assert!(text.contains("cannot be compared: It is a mock-up on rated stands"), "{text}");
    assert!(
        text.contains("3 May 2031  spring work: leaves out or springs changed; springs settle anew from here"),
        "{text}"
    );
}

#[test]
fn a_file_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.json");
    std::fs::write(&path, "{}").unwrap();
    let _words = refused(trueground().arg("history").arg(&path));
}

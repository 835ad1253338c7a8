//! `trueground spring` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::Value;

/// Eight equal leaves, one of them to come out.
pub(crate) const PACK: &str = r#"{"length_mm": 1120, "width_mm": 44.45, "load_n": 2600, "remove": [3], "leaves": [
  {"thickness_mm": 6.35}, {"thickness_mm": 6.35}, {"thickness_mm": 6.35}, {"thickness_mm": 6.35},
  {"thickness_mm": 6.35}, {"thickness_mm": 6.35}, {"thickness_mm": 6.35}, {"thickness_mm": 6.35}]}"#;

#[test]
fn a_leaf_out_is_told_in_words() {
    let text = answered(trueground().args(["spring", "-"]).write_stdin(PACK));
    // By hand: 35.74 N/mm, 7/8 of it 31.27; 2600 N sink it 72.7 and 83.1 mm; 304.6 MPa, 8/7 of it 348.1.
    assert!(
        text.starts_with(
            "                     before  after\nrate N/mm              35.7   31.3\nsinks under load mm      73     83\n\
             largest stress MPa      305    348\n"
        ),
        "{text}"
    );
    assert!(text.contains("By the rate alone 10 mm lower; what it loses of its arch comes on top.\n"), "{text}");
    assert!(text.contains("3         6.35         305    out\n"), "{text}");
    assert!(text.contains("the centre bolt comes out only with clamps on"), "{text}");
}

#[test]
fn json_has_the_contracts_keys() {
    let json: Value =
        serde_json::from_str(&answered(trueground().args(["spring", "-", "--json"]).write_stdin(PACK))).unwrap();
    let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
    assert_eq!(keys, ["before", "after", "drop_mm", "leaves"]);
    let keys: Vec<&String> = json["before"].as_object().unwrap().keys().collect();
    assert_eq!(keys, ["rate_n_per_mm", "deflection_mm", "stress_mpa"]);
    assert_eq!(json["leaves"][0]["leaf"], 1);
    assert!(json["leaves"][2].get("stress_after_mpa").is_none());
}

#[test]
fn an_unloaded_and_a_loaded_reading_stand_for_the_dimensions() {
    let two = r#"{"load_n": 2600, "readings": [{"load_n": 0, "height_mm": 200}, {"load_n": 2600, "height_mm": 104}]}"#;
    let text = answered(trueground().args(["spring", "-"]).write_stdin(two));
    assert!(text.contains("The rate is the one read, 27.1 N/mm (± 1.9)."), "{text}");
}

#[test]
fn a_pack_without_leaves_is_refused_in_words() {
    let said = refused(
        trueground()
            .args(["spring", "-", "--json"])
            .write_stdin(r#"{"length_mm": 900, "width_mm": 45, "leaves": [], "load_n": 1}"#),
    );
    assert_eq!(
        said,
        "trueground: standard input: leaves has 0 leaves: 1 to 40 are taken.\nhint: Add what is missing.\n"
    );
}

#[test]
fn a_cars_file_gives_the_pack_of_the_end_that_is_named() {
    let car = crate::bumpsteer::roadster();
    let of = |text: &str, end: &str| {
        let out = answered(trueground().args(["spring", "-", "--json", "--end", end]).write_stdin(text));
        serde_json::from_str::<Value>(&out).unwrap()
    };
    let pack = &car["vehicle"]["leaf_packs"]["front"];
    let (ours, alone) = (of(&car.to_string(), "front"), of(&pack.to_string(), "front"));
    assert_eq!(ours, alone);
    // By hand: six leaves of 5 mm, 780 − ⅔·60 = 740 mm: 8·206800·44.45·750/(3·740³).
    assert!((ours["before"]["rate_n_per_mm"].as_f64().unwrap() - 45.368).abs() < 1e-2, "{ours}");
    let said = refused(trueground().args(["spring", "-", "--end", "rear"]).write_stdin(car.to_string()));
    assert!(said.contains("rear spring pack is not described"), "{said}");
}

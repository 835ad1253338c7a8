//! `trueground floor` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::Value;

/// Two passes of a water level over four spots.
pub(crate) const PASSES: &str = r#"{"setups": [
  {"id": "pass 1", "readings": [
    {"point": "S1", "staff_mm": 882, "u_mm": 1}, {"point": "S2", "staff_mm": 917, "u_mm": 1},
    {"point": "S3", "staff_mm": 828, "u_mm": 1}, {"point": "S4", "staff_mm": 830, "u_mm": 1}]},
  {"id": "pass 2", "readings": [
    {"point": "S1", "staff_mm": 902, "u_mm": 1}, {"point": "S2", "staff_mm": 937, "u_mm": 1},
    {"point": "S3", "staff_mm": 850, "u_mm": 1}, {"point": "S4", "staff_mm": 850, "u_mm": 1}]}]}"#;

#[test]
fn a_floor_is_levelled_in_words() {
    let text = answered(trueground().args(["floor", "-"]).write_stdin(PASSES));
    // By hand: mean staff 864.25 and 884.75; S1 -17.75 and -17.25, S2 -52.75 and -52.25, S3 36.25 and 34.75, S4 34.25 and 34.75.
    assert_eq!(
        text,
        "point  height mm  ±\nS1           -18  1\nS2           -53  1\nS3            36  1\nS4            35  1\n\n\
         Nothing is fixed: the mean of all points is zero. 3 readings more than needed check each other.\n"
    );
}

#[test]
fn the_sample_floor_comes_out_as_its_page_says() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/floor-levels.json");
    // By hand, down from S1 in the two passes: S2 15 and 13, S3 -31 and -31, S4 -22 and -22, drain 55 and 55, door 39 and 41.
    assert_eq!(
        answered(trueground().arg("floor").arg(file)),
        "point  height mm      ±\nS1             0  given\nS2           -14      2\nS3            31      2\n\
         S4            22      2\ndrain        -55      2\ndoor         -40      2\n\n\
         Heights are counted from the given ones. 5 readings more than needed check each other.\n"
    );
}

#[test]
fn json_has_the_contracts_keys_in_the_order_of_the_input() {
    let text = answered(trueground().args(["floor", "-", "--json"]).write_stdin(PASSES));
    let json: Value = serde_json::from_str(&text).unwrap();
    let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
    assert_eq!(keys, ["datum", "elevations", "residuals", "degrees_of_freedom", "sum_weighted_squares", "doubtful"]);
    assert_eq!(json["datum"], "mean_zero");
    assert!((json["elevations"]["S1"]["value"].as_f64().unwrap() + 17.5).abs() < 1e-9);
    // Mean of two passes, counted from the mean of four points: u² = (1/2)(1 - 1/4).
    assert!((json["elevations"]["S1"]["u"].as_f64().unwrap() - 0.375_f64.sqrt()).abs() < 1e-12);
    assert_eq!(json["residuals"][7]["setup"], "pass 2");
    assert_eq!(json["residuals"][7]["point"], "S4");
    assert_eq!(json["degrees_of_freedom"], 3);
}

#[test]
fn a_slip_is_named_and_kept() {
    let text = answered(
        trueground().args(["floor", "-"]).write_stdin(PASSES.replace("850, \"u_mm\": 1}]}]}", "825, \"u_mm\": 1}]}]}")),
    );
    assert!(text.contains("Set-up pass 2, S4: read 825"), "{text}");
    assert!(text.contains("Read it again. It was not left out."), "{text}");
}

#[test]
fn a_wrong_key_is_refused_with_the_nearest_and_nothing_is_printed() {
    let said = refused(trueground().args(["floor", "-", "--json"]).write_stdin(PASSES.replace("staff_mm", "staf_mm")));
    assert_eq!(
        said,
        "trueground: standard input: staf_mm is not a key in setups[0].readings[0].\n\
         hint: Did you mean staff_mm? The keys here are point, staff_mm, u_mm.\n"
    );
}

//! `trueground tire` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::Value;

#[test]
fn a_marking_is_told_in_words() {
    assert_eq!(
        answered(trueground().args(["tire", "205/55 R16 91V"])),
        "205/55 R16 91V, radial\n                        ±\ndiameter mm       632  10  standard\nsection width mm  205   9  standard\n\
         rim diameter mm   406   1  standard\nloaded radius mm  300  10  estimate\nturns per km      519  13  estimate\n\n\
         A tape round the tire is better than its marking.\n"
    );
}

#[test]
fn a_marking_need_not_be_quoted() {
    let quoted = answered(trueground().args(["tire", "--json", "30x3 1/2"]));
    assert_eq!(answered(trueground().args(["tire", "30x3", "1/2", "--json"])), quoted);
}

#[test]
fn every_figure_has_value_u_and_basis() {
    let json: Value = serde_json::from_str(&answered(trueground().args(["tire", "7.00-16", "--json"]))).unwrap();
    for figure in ["diameter_mm", "section_width_mm", "rim_diameter_mm", "loaded_radius_mm", "revs_per_km"] {
        assert!(json[figure]["value"].as_f64().unwrap() > 0.0, "{figure}");
        assert!(json[figure]["u"].as_f64().unwrap() > 0.0, "{figure}");
        assert!(json[figure]["basis"].is_string(), "{figure}");
    }
}

#[test]
fn what_was_not_understood_is_said() {
    let said = refused(trueground().args(["tire", "205/55R16 whitewall", "--json"]));
    assert!(said.contains("205/55R16 was understood, whitewall was not"), "{said}");
    assert!(said.contains("Nearest marking that can be read: 205/55R16."), "{said}");
    let said = refused(trueground().args(["tire", &"6.00-16".repeat(2000)]));
    assert!(said.len() <= 2_000);
}

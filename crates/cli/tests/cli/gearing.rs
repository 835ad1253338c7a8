//! `trueground gearing` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::Value;

/// Three gears on a diagonal tire.
pub(crate) const GEARS: &str = r#"{"axle_ratio": 4.11, "gears": {"3": 1, "2": 1.77, "1": 3.11},
  "tire": {"marking": "7.00-16", "free_diameter_mm": 752, "loaded_radius_mm": 365.545}, "speeds_kmh": [60, 80, 100],
  "beside": [{"label": "longer axle", "axle_ratio": 3.54}, {"label": "hard wheel", "tire": {"rolling_diameter_mm": 720}}]}"#;

#[test]
fn the_show_roadsters_turns_come_out() {
    let json: Value =
        serde_json::from_str(&answered(trueground().args(["gearing", "-", "--json"]).write_stdin(GEARS))).unwrap();
    // Truth of the simulated car: 2·(0.35·365.545 + 0.65·376) = 744.68 mm; it prints 744.74 for the mean of its two wheels.
    assert!((json["rolling_diameter_mm"]["value"].as_f64().unwrap() - 744.74).abs() < 0.1);
    for (row, speed, truth) in [(0, 60.0, 1756.7), (1, 80.0, 2342.2), (2, 100.0, 2927.8)] {
        let row = &json["table"][row];
        assert_eq!(
            (row["gear"].as_str(), row["speed_kmh"].as_f64()),
            (Some("3"), Some(speed)),
            "the order of the file"
        );
        assert!((row["rpm"].as_f64().unwrap() - truth).abs() < 0.3, "{row}");
        // ± 2 % of the rolling rule, and the reading of the diameter.
        let part = row["rpm_u"].as_f64().unwrap() / truth;
        assert!((0.02..0.0205).contains(&part), "{part}");
    }
    let beside = &json["beside"][0];
    assert_eq!(beside["label"], "longer axle");
    let part = beside["table"][0]["rpm"].as_f64().unwrap() / json["table"][0]["rpm"].as_f64().unwrap();
    assert!((part - 3.54 / 4.11).abs() < 1e-4);
    assert_eq!(json["beside"][1]["rolling_diameter_mm"]["value"], 720.0);
    // By hand: 60 km/h is 10⁶ mm a minute; over π·720, times 4.11: 1817.008.
    assert_eq!(json["beside"][1]["table"][0]["rpm"], 1817.0);
}

#[test]
fn the_diameter_across_is_not_the_one_it_rolls_on() {
    let text = answered(trueground().args(["gearing", "-"]).write_stdin(GEARS));
    assert!(
        text.starts_with(
            "As it stands, axle 4.11\ngear  60 km/h  80 km/h  100 km/h\n3        1757     2342      2928\n"
        ),
        "{text}"
    );
    assert!(
        text.contains("Across the tire without load 752 mm: with that the engine would seem 1.0 % slower."),
        "{text}"
    );
    assert!(text.contains("rolling on 720 mm, taken as exact."), "{text}");
}

#[test]
fn a_marking_of_nonsense_is_refused_with_the_field_and_the_nearest() {
    let said = refused(trueground().args(["gearing", "-", "--json"]).write_stdin(GEARS.replace("7.00-16", "7.00~16")));
    assert!(said.contains("standard input: tire.marking: 7.00 was understood, ~16 was not"), "{said}");
    assert!(said.contains("Nearest marking that can be read: 7.00-16."), "{said}");
}

#[test]
fn a_cars_file_gives_its_gears_on_its_rear_tires() {
    let car = crate::bumpsteer::roadster();
    let out = answered(trueground().args(["gearing", "-", "--json"]).write_stdin(car.to_string()));
    let json: Value = serde_json::from_str(&out).unwrap();
    let rows = json["table"].as_array().unwrap();
    assert_eq!(rows.len(), 15);
    // By hand: 100 km/h over π·D, times 4.11, in third.
    let rolling = json["rolling_diameter_mm"]["value"].as_f64().unwrap();
    let by_hand = 100e6 / 60.0 / (std::f64::consts::PI * rolling) * 4.11;
    assert!((rows[13]["rpm"].as_f64().unwrap() - by_hand).abs() <= 0.05, "{} {by_hand}", rows[13]);
    assert!(rolling < json["free_diameter_mm"]["value"].as_f64().unwrap());
    let labels: Vec<&str> =
        json["beside"].as_array().unwrap().iter().map(|other| other["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["3.54 axle", "6.00-16"]);
    let mut bare = car;
    bare["vehicle"].as_object_mut().unwrap().remove("tires");
    let said = refused(trueground().args(["gearing", "-"]).write_stdin(bare.to_string()));
    assert!(said.contains("no rear tires whose marking can be read"), "{said}");
}

//! Steering linkages: the four-bar loop, rolling without scrub, and a trapezium of arms and tie rod.

use crate::Check;
use serde_json::Value;
use trueground_core::checks::bumpsteer::four_bar::Bars;
use trueground_core::checks::bumpsteer::turn::{ackermann_outer_deg, arm_angle_to_rear_axle_deg};
use trueground_core::checks::bumpsteer::{Linkage, work_out};

pub(crate) fn linkages(check: &mut Check) {
    let data: Value = check.json();
    let case = |id: &str| data["cases"].as_array().unwrap().iter().find(|case| case["id"] == id).unwrap().clone();
    let number = |value: &Value| value.as_f64().unwrap();

    let norton = case("Norton_fourbar_4_1");
    let given = |key: &str| number(&norton["given"][key]);
    let bars = Bars {
        ground: given("ground_d"),
        crank: given("crank_a"),
        coupler: given("coupler_b"),
        rocker: given("rocker_c"),
    };
    for (found, name) in bars.closings(given("theta2_deg")).unwrap().iter().zip(["open", "crossed"]) {
        for (ours, key) in [(found.coupler_deg, "theta3_deg"), (found.rocker_deg, "theta4_deg")] {
            check.near(&format!("{name}, {key}"), ours, number(&norton["recomputed"][name][key]), "recomputed_deg");
            check.near(&format!("{name}, {key}"), ours, number(&norton["published"][name][key]), "published_deg");
        }
    }

    let turn = case("Ackermann_2p6_1p5_28deg");
    let given = |key: &str| number(&turn["given"][key]);
    let ours = ackermann_outer_deg(given("pivot_distance_m"), given("wheelbase_m"), given("inner_deg"));
    check.near("without scrub", ours, number(&turn["recomputed"]["outer_deg"]), "recomputed_deg");

    let davis = case("Davis_1p2_2p7");
    let ours = arm_angle_to_rear_axle_deg(1.2, 2.7);
    check.near("to the rear axle", ours, number(&davis["recomputed"]["alpha_deg"]), "recomputed_deg");
    check.near("to the rear axle", ours, number(&davis["published"]["alpha_deg"]), "published_deg");

    let trapezium = case("trapezoid_1p25_0p15");
    let rows = trapezium["rows"].as_array().unwrap();
    let inner: Vec<f64> = rows.iter().map(|row| number(&row["inner_deg"])).collect();
    // Any linkage will do around it: only the turn is looked at.
    let text = format!(
        r#"{{"pitman_ball": [-900, 500, 400], "arm_ball": [100, 500, 400], "hub": [0, 700, 320], "kingpin": {{"point": [0, 650, 320],
        "axis": [0, 0, 1]}}, "guide": {{"kind": "parallel"}}, "travel_mm": [-1, 1], "turn": {{"kingpin_distance_mm": 1250,
        "wheelbase_mm": 2800, "arm_mm": 150, "tie_rod_mm": 1200, "inner_deg": {inner:?}}}}}"#
    );
    let ours = work_out(&Linkage::read(&text).unwrap()).unwrap().turn.unwrap();
    check.near("arms", ours.arm_angle_deg, number(&trapezium["arm_inclination_deg"]), "recomputed_deg");
    for (ours, row) in ours.rows.iter().zip(rows) {
        let what = format!("inner {}", ours.inner_deg);
        check.near(&what, ours.outer_deg, number(&row["outer_deg"]), "recomputed_deg");
        check.near(&what, ours.ackermann_outer_deg, number(&row["ackermann_outer_deg"]), "recomputed_deg");
    }
}

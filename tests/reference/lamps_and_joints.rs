//! Lamp heights and the beam's drop, and the joints of a shaft, against rules and textbooks.

use crate::Check;
use serde_json::Value;
use trueground_core::capture::CarFile;
use trueground_core::checks::driveline::{
    joint_deg_for_spread, largest_acceleration, largest_joint_deg, speed_range, speed_ratio,
};
use trueground_core::checks::lamps::fmvss108_mm;
use trueground_core::checks::{AtStance, BodyMove, Changed, Rule, findings};
use trueground_core::corner::Corners;
use trueground_core::uncertainty::Quantity;
use trueground_core::units::Angle;

pub(crate) fn lamps(check: &mut Check) {
    let data: Value = check.json();
    // "UN/EU dipped beam: 500 to 1200 mm above ground" of `other_rules`: the nearer bound is what a lamp is held against.
    let says = data["other_rules"][1]["rule"].as_str().unwrap();
    for (z_mm, bound) in [(520.0, 500.0), (1_150.0, 1_200.0)] {
        check.same("the rule names its bound", says.contains(&format!("{bound:.0}")), true);
        let found = standing(z_mm, 0.0, vec![Rule::UnR48], |car| findings(car, &["lamps"]));
        check.near("dipped beam", found[0].limit.unwrap(), bound, "bound_mm");
    }
    for row in data["lamps"].as_array().unwrap() {
        let lamp = row["lamp"].as_str().unwrap();
        let ours = fmvss108_mm(lamp).unwrap_or_else(|| panic!("{lamp} is not in the table"));
        for (ours, key) in ours.into_iter().zip(["min_mm", "max_mm"]) {
            check.same(&format!("{lamp}, {key}"), ours.is_some(), row[key].is_number());
            if let Some((ours, expected)) = ours.zip(row[key].as_f64()) {
                check.near(&format!("{lamp}, {key}"), ours, expected, "bound_mm");
            }
        }
    }
    for row in data["aim"]["rows"].as_array().unwrap() {
        let (deg, at) = (row["angle_deg"].as_f64().unwrap(), row["at_mm"].as_f64().unwrap());
        let ours = drop_percent(deg) / 100.0 * at;
        check.near(&format!("{deg} deg"), ours, row["computed_mm"].as_f64().unwrap(), "computed_mm");
        check.near(&format!("{deg} deg"), ours, row["published_drop_mm"].as_f64().unwrap(), "published_mm");
    }
    // As the file says in words: 1 deg moves the beam by 133.01 mm at 25 ft.
    check.near("1 deg at 25 ft", drop_percent(1.0) / 100.0 * 7_620.0, 133.01, "published_mm");
}

/// How much more a level beam falls once the car stands so much more nose-down, percent.
fn drop_percent(rake_deg: f64) -> f64 {
    let found = standing(650.0, rake_deg, Vec::new(), |car| findings(car, &["lamps"]));
    found.iter().find(|finding| finding.what == "lamp, beam").unwrap().value
}

/// A car with one lamp, so much more nose-down than it was measured.
fn standing<T>(z_mm: f64, rake_deg: f64, rules: Vec<Rule>, of: impl FnOnce(&AtStance<'_>) -> T) -> T {
    let text = format!(
        r#"{{"vehicle": {{"label": "a car", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400,
        "lamp": {{"x_mm": 200, "z_mm": {z_mm}, "beam_drop_percent": 0}}}}}}"#
    );
    let file: CarFile = serde_json::from_str(&text).unwrap();
    let none = Quantity::exact(0.0);
    let car = AtStance {
        vehicle: &file.vehicle,
        body: BodyMove { rear: Quantity::exact(2_600.0 * rake_deg.to_radians()), ..BodyMove::none(&file.vehicle) },
        since: Default::default(),
        loaded_radius: Corners::from_fn(|_| Quantity::exact(320.0)),
        axle_rise: [none, none],
        changed: Changed::NOTHING,
        roll_share_front: Quantity::exact(0.5),
        lean_gain: Quantity::exact(1.0),
        aboard: Vec::new(),
        ground: None,
        grounds: &[],
        rail: None,
        rules,
        wanted_clearance_mm: None,
    };
    of(&car)
}

pub(crate) fn joints(check: &mut Check) {
    let data: Value = check.json();
    let case = |id: &str| data["cases"].as_array().unwrap().iter().find(|case| case["id"] == id).unwrap().clone();
    let number = |value: &Value| value.as_f64().unwrap();

    let twenty = case("hooke_20deg_500rpm");
    let rpm = number(&twenty["given"]["rpm"]);
    let [slowest, fastest] = speed_range(number(&twenty["given"]["beta_deg"])).map(|part| part * rpm);
    check.near("slowest", slowest, number(&twenty["recomputed"]["min_rpm"]), "recomputed");
    check.near("fastest", fastest, number(&twenty["recomputed"]["max_rpm"]), "recomputed");
    check.near("slowest", slowest, number(&twenty["published"]["min_rpm"]), "published_rpm");

    // Coefficient of fluctuation, and where both shafts turn alike, by the formulas at the head of the data.
    for beta in [3.0_f64, 10.0, 20.0] {
        let [slowest, fastest] = speed_range(beta);
        let joint = Angle::deg(beta);
        check.near(&format!("fluctuation at {beta} deg"), fastest - slowest, joint.sin() * joint.tan(), "recomputed");
        let alike = Angle::atan(joint.cos().sqrt()).to_deg();
        check.near(&format!("equal speed at {beta} deg"), speed_ratio(beta, alike), 1.0, "recomputed");
    }

    let spread = case("hooke_1200rpm_100rpm_fluctuation");
    let rpm = number(&spread["given"]["rpm"]);
    let angle = joint_deg_for_spread(number(&spread["given"]["allowed_total_fluctuation_rpm"]) / rpm);
    check.near("angle", angle, number(&spread["recomputed"]["beta_deg"]), "recomputed");
    let cos = Angle::deg(angle).cos();
    check.near("cosine", cos, number(&spread["recomputed"]["cos_beta"]), "recomputed");
    check.near("cosine", cos, number(&spread["published"]["cos_beta"]), "published_cos");
    let [slowest, fastest] = speed_range(angle).map(|part| part * rpm);
    check.near("slowest", slowest, number(&spread["recomputed"]["min_rpm"]), "recomputed");
    check.near("fastest", fastest, number(&spread["recomputed"]["max_rpm"]), "recomputed");
    check.near("slowest", slowest, number(&spread["published"]["min_rpm"]), "published_whole_rpm");
    check.near("fastest", fastest, number(&spread["published"]["max_rpm"]), "published_whole_rpm");

    for row in case("hooke_table_computed")["rows"].as_array().unwrap() {
        let angle = number(&row["beta_deg"]);
        for (turned, expected) in [0.0, 30.0, 45.0, 60.0, 90.0].into_iter().zip(row["ratio"].as_array().unwrap()) {
            check.near(&format!("{angle} deg, turned {turned}"), speed_ratio(angle, turned), number(expected), "table");
        }
        let expected = number(&row["max_acc_over_w2"]);
        check.near(&format!("{angle} deg, acceleration"), largest_acceleration(angle), expected, "table");
    }
    for (rpm, deg) in data["limits"]["max_operating_angle_deg_by_rpm"].as_object().unwrap() {
        check.near(&format!("{rpm} rpm"), largest_joint_deg(rpm.parse().unwrap()), number(deg), "table");
    }
}

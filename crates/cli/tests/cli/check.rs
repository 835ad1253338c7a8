//! `trueground check` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use trueground_core::units::Angle;

fn sample() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data/show-roadster.json")
}

/// The sample car with its vehicle changed.
fn with(change: impl Fn(&mut Value)) -> String {
    let mut file: Value = serde_json::from_str(&std::fs::read_to_string(sample()).unwrap()).unwrap();
    change(&mut file);
    file.to_string()
}

fn findings(text: &str, arguments: &[&str]) -> Vec<Value> {
    let printed = answered(trueground().args(["check", "-", "--json"]).args(arguments).write_stdin(text));
    let mut answer: Value = serde_json::from_str(&printed).unwrap();
    let found: Vec<Value> = serde_json::from_value(answer["findings"].take()).unwrap();
    for finding in &found {
        for key in ["check", "what", "value", "u", "unit", "source", "sentence"] {
            assert!(finding.get(key).is_some_and(|value| !value.is_null()), "{finding} has no {key}");
        }
        assert_eq!(finding.get("limit").is_some_and(Value::is_number), finding.get("limit").is_some());
    }
    found
}

#[test]
fn one_finding_a_lamp_with_the_nearer_bound() {
    let lamps = with(|file| {
        let at = |id: &str, kind: &str, x: f64, z: f64| json!({"id": id, "kind": kind, "x_mm": x, "y_mm": 0, "z_mm": z, "attach": "body"});
        file["vehicle"]["lamps"] = json!([
            at("low", "lower beam headlamp", 240.0, 540.0),
            at("tail", "taillamp", -3300.0, 1900.0),
            at("plate", "license plate lamp", -3300.0, 500.0),
            at("stop", "stop lamp", -3300.0, 620.0)
        ]);
    });
    let found = findings(&lamps, &["--snapshot", "t28", "--only", "lamps", "--rule", "fmvss108"]);
    let told: Vec<_> = found
        .iter()
        .map(|one| {
            (
                one["what"].as_str().unwrap(),
                one["value"].as_f64().unwrap(),
                one.get("limit").and_then(Value::as_f64),
                one.get("verdict").and_then(Value::as_str),
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            ("low", 540.0, Some(558.8), Some("outside")),
            ("tail", 1900.0, Some(1828.8), Some("outside")),
            ("plate", 500.0, None, None),
            ("stop", 620.0, Some(381.0), Some("within")),
        ]
    );
    assert!(found[0]["sentence"].as_str().unwrap().contains("559 mm to 1372 mm"), "{}", found[0]);
    // Without the rule asked for, the number stands with the rule's name and without a verdict.
    let found = findings(&lamps, &["--snapshot", "t28", "--only", "lamps"]);
    assert!(found.iter().all(|one| one.get("verdict").is_none()));
    assert!(found[0]["source"].as_str().unwrap().starts_with("49 CFR 571.108"));
}

#[test]
fn a_target_is_checked_as_a_prediction() {
    let text =
        answered(trueground().arg("check").arg(sample()).args(["--target", "--only", "clearance", "--only", "ramp"]));
    assert!(text.starts_with("Predicted for the target, not measured.\n\nclearance\n"), "{text}");
    // Rails from 269.3 and 331.8 to 246 and 326: at the exhaust, 1120 mm back, 23.3 − 0.435·17.5 = 15.7 lower: 110 mm of the 110 asked for.
    assert!(
        text.contains(
            "can't tell  exhaust pipe low bend, left stands 110 mm over the ground; the target asks for 110 mm."
        ),
        "{text}"
    );
    assert!(text.contains("touches  The breakover angle is 10.1°, at exhaust; the trailer ramp has 11.0°."), "{text}");
    assert!(text.ends_with("It does not say that a car is roadworthy.\n"), "{text}");
}

#[test]
fn joints_and_levels_follow_the_stance() {
    let text = with(|file| {
        file["vehicle"]["driveline"] =
            json!({"transmission_deg": 3.0, "pinion_deg": 2.5, "front_joint": [-900, 420], "rear_joint": [-2400, 395]});
        file["vehicle"]["attitude"] = json!([{"label": "carburetor flange", "nose_down_deg": 2.9}]);
    });
    // By hand at the first snapshot: the shaft falls 25 mm in 1500: 0.955°; joints 2.045° and 1.545°.
    let found = findings(&text, &["--snapshot", "t28", "--only", "driveline", "--only", "attitude"]);
    let value = |what: &str| found.iter().find(|one| one["what"] == what).unwrap()["value"].as_f64().unwrap();
    assert!((value("front joint") - 2.0452).abs() < 1e-3 && (value("rear joint") - 1.5452).abs() < 1e-3);
    assert!((value("difference of the joints") - 0.5).abs() < 1e-9);
    assert_eq!(value("carburetor flange"), 2.9);
}

#[test]
fn the_steering_follows_the_stance() {
    let of = |text: &str, stance: &[&str]| {
        let found = findings(text, &[stance, &["--only", "bumpsteer"]].concat());
        let what: Vec<&str> = found.iter().map(|one| one["what"].as_str().unwrap()).collect();
        assert_eq!(what, ["largest steer", "drag link against its guide", "best pitman ball"]);
        found
    };
    // Nothing leads the ball aside: by hand the link rises 55 mm over √(800² + 130²), as measured.
    let parallel = with(|file| file["vehicle"]["steering"]["guide"] = json!({"kind": "parallel"}));
    let apart = |found: &[Value]| found[1]["value"].as_f64().unwrap();
    let length = 800.0_f64.hypot(130.0);
    let now = of(&parallel, &["--snapshot", "t28"]);
    assert!((apart(&now) - Angle::atan(55.0 / length).to_deg()).abs() < 1e-3, "{now:?}");
    // The target lowers the rails from 269.3 to 246 in front and from 331.8 to 326 behind, and with them the pitman ball over the axle.
    let rails: Vec<f64> = {
        let file: Value = serde_json::from_str(&parallel).unwrap();
        let points = file["vehicle"]["ref_points"].as_array().unwrap();
        let x = |id: &str| points.iter().find(|point| point["id"] == id).unwrap()["x_mm"].as_f64().unwrap();
        vec![x("rail.FL"), x("rail.RL")]
    };
    let down = 23.3 + (23.3 - 5.8) * -rails[0] / (rails[0] - rails[1]);
    let target = of(&parallel, &["--target"]);
    assert!((apart(&target) - Angle::atan((55.0 + down) / length).to_deg()).abs() < 0.15, "{target:?} {down}");
    assert!(target[1]["u"].as_f64().unwrap() > now[1]["u"].as_f64().unwrap());
    // A stance that its guide does not let it reach is said and is no steer of 0.
    let short = with(|file| {
        file["vehicle"]["steering"]["guide"] = json!({"kind": "radius_rod", "pivot": [-12, 330, 318]});
    });
    let found = findings(&short, &["--target", "--only", "bumpsteer"]);
    assert_eq!(
        (found[0]["what"].as_str(), found[0]["verdict"].as_str()),
        (Some("reach"), Some("can't_tell")),
        "{found:?}"
    );
    assert!(found[0]["sentence"].as_str().unwrap().starts_with("The guide does not let the hub rise by "), "{found:?}");
}

#[test]
fn every_load_stands_in_one_table() {
    let text = with(|file| {
        file["vehicle"]["tank"] = json!({"litres": 60, "x_mm": -3000});
        file["vehicle"]["luggage"] = json!({"mass_kg": 30, "x_mm": -2900});
    });
    let printed = answered(
        trueground()
            .args(["check", "-", "--json", "--snapshot", "t28", "--load", "all", "--only", "clearance"])
            .write_stdin(&*text),
    );
    let answer: Value = serde_json::from_str(&printed).unwrap();
    let loads = answer["loads"].as_array().unwrap();
    let names: Vec<&str> = loads.iter().map(|load| load["load"].as_str().unwrap()).collect();
    assert_eq!(names, ["nominal", "driver", "two_up", "tank_full", "luggage", "towing"]);
    let exhaust = |load: usize| {
        let found = loads[load]["findings"].as_array().unwrap();
        found.iter().find(|one| one["what"] == "exhaust").unwrap()["value"].as_f64().unwrap()
    };
    // By hand for the exhaust, 1120 mm of 2565 back, on 42.9 N/mm in front and 41.7 behind: 75 kg at 0.55 lets it down 8.58 mm;
    // 30 kg at 2900 mm: −0.896 mm in front, 7.976 behind, so 2.978 there.
    assert_eq!(exhaust(0), 126.0);
    assert!((exhaust(1) - 117.42).abs() < 0.02 && (exhaust(4) - 123.022).abs() < 0.01, "{} {}", exhaust(1), exhaust(4));
    assert_eq!(loads[4]["aboard"], "luggage, 30 kg 2900 mm behind the front axle");
    assert!(loads[5]["aboard"].as_str().unwrap().ends_with("common practice, no source"));
    // As text one row a check; what cannot be said is left out and says why.
    let text = answered(trueground().arg("check").arg(sample()).args(["--load", "all"]));
    let row = text.lines().find(|line| line.starts_with("clearance") && line.contains("exhaust")).unwrap();
    assert_eq!(row.split_whitespace().count(), 2 + 5, "{row}");
    assert!(text.contains("tank full: left out, the car has no tank in the file"), "{text}");
}

#[test]
fn what_was_measured_beside_a_later_snapshot_counts_from_there() {
    let text = with(|file| file["vehicle"]["clearance_points"][1]["measured_in"] = json!("t02"));
    let exhaust = |snapshot: &str| {
        let found = findings(&text, &["--snapshot", snapshot, "--only", "clearance"]);
        found.iter().find(|one| one["what"] == "exhaust").unwrap()["value"].as_f64().unwrap()
    };
    // As the file has it, in the later one; higher before, since the car came down in between.
    assert_eq!(exhaust("t02"), 126.0);
    assert!(exhaust("t28") > 127.0, "{}", exhaust("t28"));
    let unknown = with(|file| file["vehicle"]["lamp"]["measured_in"] = json!("t99"));
    let said = refused(trueground().args(["check", "-"]).write_stdin(unknown));
    assert!(said.contains("vehicle.lamp.measured_in: there is no snapshot t99"), "{said}");
}

#[test]
fn rim_and_scrub_line_are_told_apart_by_what_goes_with_body_and_axles() {
    let found = findings(
        &with(|_| ()),
        &["--snapshot", "t28", "--only", "clearance", "--rule", "rim_line", "--rule", "scrub_line"],
    );
    let of = |what: &str| found.iter().find(|one| one["what"] == what).unwrap_or_else(|| panic!("no {what}")).clone();
    // The exhaust at 126 and the axle housing at 196 are the lowest of either.
    let apart = of("rim line, axles")["value"].as_f64().unwrap() - of("rim line")["value"].as_f64().unwrap();
    assert!((apart - 70.0).abs() < 1e-9, "{apart}");
    assert_eq!(of("rim line")["limit"], 0.0);
    assert!(of("scrub line across")["sentence"].as_str().unwrap().starts_with("axle housing bottom"));
    assert!(of("scrub line front to rear")["sentence"].as_str().unwrap().starts_with("axle housing bottom"));
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    for (text, arguments, says) in [
        (with(|_| ()), vec!["--snapshot", "t99"], "there is no snapshot t99"),
        (with(|_| ()), vec!["--load", "tank_full"], "the car has no tank in the file"),
        (
            with(|file| file["vehicle"]["clearance_points"][0]["z_mm"] = json!("low")),
            vec![],
            "vehicle.clearance_points[0].z_mm: the text \"low\" stands where a number belongs",
        ),
        (
            with(|file| file["vehicle"]["clearance_points"][0]["z_mm"] = json!(1e9)),
            vec![],
            "vehicle.clearance_points[0].z_mm: 1000000000 mm is outside -500 to 5000 mm",
        ),
        (
            with(|file| file["vehicle"]["radius_rod"]["length_mm"] = json!(0)),
            vec![],
            "vehicle.radius_rod.length_mm: 0 mm is outside 100 to 5000 mm",
        ),
        (
            with(|file| file["ground"]["apron_angle_deg"] = json!(-5)),
            vec![],
            "ground.apron_angle_deg: -5 deg is outside 0 to 60 deg",
        ),
        (
            with(|file| file["vehicle"]["steering"]["arm_ball"] = json!([1, 2])),
            vec![],
            "vehicle.steering.arm_ball: invalid length 2",
        ),
        (
            with(|file| file["vehicle"]["steering"]["arm_ball"] = file["vehicle"]["steering"]["pitman_ball"].clone()),
            vec![],
            "vehicle.steering: arm_ball and pitman_ball lie in one place",
        ),
        (
            with(|file| file["vehicle"]["leaf_packs"]["front"]["leaves"] = json!([])),
            vec![],
            "vehicle.leaf_packs.front: leaves is missing",
        ),
        (
            with(|file| file["vehicle"]["drive"]["beside"][1]["tire"] = json!("round")),
            vec![],
            "vehicle.drive.beside[1].tire: round is not a tire marking",
        ),
        (with(|file| file["snapshots"] = json!([])), vec![], "The file has no snapshot to check."),
    ] {
        let said = refused(trueground().args(["check", "-", "--json"]).args(&arguments).write_stdin(text));
        assert!(said.contains(says), "{said}");
    }
    for wrong in [&["--only", "colour"][..], &["--rule", "mine"], &["--load", "elephant"]] {
        let output = trueground().args(["check", "-"]).args(wrong).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{wrong:?}");
    }
}

#[test]
fn a_car_that_describes_nothing_says_so() {
    let bare = with(|file| {
        for key in ["clearance_points", "lamp", "radius_rod", "drive", "steering"] {
            file["vehicle"].as_object_mut().unwrap().remove(key);
        }
        file.as_object_mut().unwrap().remove("grounds");
    });
    let text = answered(trueground().args(["check", "-"]).write_stdin(bare));
    assert!(text.starts_with("Nothing to check: the file describes none of it."), "{text}");
}

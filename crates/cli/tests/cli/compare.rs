//! `trueground compare` and `trueground setout` as a person and a script meet them.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data").join(name)
}

fn compared(file: &str, arguments: &[&str]) -> Value {
    let text = answered(trueground().arg("compare").arg(sample(file)).arg("--json").args(arguments));
    serde_json::from_str(&text).unwrap()
}

/// The roadster's own description of itself says what is true: rails 265.9 and 329.5 two days before the show, target 246 and
/// 326; nothing beyond doubt changed between shop and yard but the front.
#[test]
fn the_roadster_is_too_high_in_front_of_its_target() {
    let answer = compared("show-roadster.json", &["--target"]);
    for point in ["rail.FL", "rail.FR"] {
        let difference = &answer["differences"][point];
        let (value, u) = (difference["value"].as_f64().unwrap(), difference["u"].as_f64().unwrap());
        assert!((value - 19.9).abs() < 2.0 * u, "{point}: {value} ± {u}");
        assert_eq!(difference["verdict"], "off", "{point}");
    }
    let rake = &answer["rake"]["frame_rail"]["deg"];
    // True rake 2.006°, wanted 2.52°.
    assert!((rake["value"].as_f64().unwrap() + 0.514).abs() < 2.0 * rake["u"].as_f64().unwrap());
    assert_eq!(rake["verdict"], "off");
    // Wanted twist is none, the car's own 0.3 mm.
    assert_eq!(answer["twist"]["frame_rail"]["verdict"], "on");
}

#[test]
fn between_two_levelled_floors_only_what_is_real_has_changed() {
    let answer = compared("show-roadster.json", &["--from", "t28", "--to", "t02"]);
    assert_eq!(answer["unequal"][0]["what"], "floor");
    // True: rails 3.3 mm lower in front, 2.2 behind, seams 3.5 and 2.0.
    for (point, truth) in [
        ("rail.FL", -3.3),
        ("rail.FR", -3.3),
        ("rail.RL", -2.2),
        ("rail.RR", -2.2),
        ("seam.FL", -3.5),
        ("seam.RR", -2.0),
    ] {
        let difference = &answer["differences"][point];
        let (value, u) = (difference["value"].as_f64().unwrap(), difference["u"].as_f64().unwrap());
        assert!((value - truth).abs() < 2.5 * u, "{point}: {value} ± {u}");
        assert_ne!(difference["verdict"], "changed", "{point}");
    }
    let heave = &answer["split"]["heave_mm"];
    assert!((heave["value"].as_f64().unwrap() + 2.8).abs() < 2.5 * heave["u"].as_f64().unwrap());
}

/// On the same marks a change is sharper than a height, and load is named and taken out.
#[test]
fn a_full_tank_is_named_and_taken_out() {
    let answer = compared("settling-coupe.json", &["--from", "s03", "--to", "s04"]);
    assert_eq!(answer["unequal"][0]["what"], "load");
    // True nominal means from day 14 to day 21: front 602.72 to 600.75, rear 562.40 to 559.61.
    for (end, truth) in [("front", -1.97), ("rear", -2.79)] {
        let mean = &answer["means"]["fender_lip"][end];
        assert!((mean["value"].as_f64().unwrap() - truth).abs() < 2.0 * mean["u"].as_f64().unwrap(), "{end}: {mean}");
    }
    let days = compared("settling-coupe.json", &["--from", "s00", "--to", "s08"]);
    let text = answered(trueground().args(["stance", "--json"]).arg(sample("settling-coupe.json")));
    let stance: Value = serde_json::from_str(&text).unwrap();
    let height_u = stance["snapshots"][1]["heights"]["lip.FL"]["u"].as_f64().unwrap();
    assert!(days["differences"]["lip.FL"]["u"].as_f64().unwrap() < 2.0_f64.sqrt() * height_u);
    assert_eq!(days["differences"]["lip.FL"]["verdict"], "changed");
}

/// What is taken out, and what is left, make what was read; tire and spring make it too. The tank's own truth: 6 mm behind.
#[test]
fn what_was_read_is_what_is_left_and_what_was_taken_out() {
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("no number: {value}"));
    let days = ["--from", "s03", "--to", "s04"];
    let nominal = compared("settling-coupe.json", &days);
    let read = compared("settling-coupe.json", &[&days[..], &["--as-loaded"]].concat());
    let tank = &nominal["taken_out"][0];
    assert_eq!(tank["of"], "load");
    assert!((number(&tank["rear_mm"]["value"]) + 6.0).abs() < 1.5, "{tank}");
    for (end, axle) in [("front", "front_mm"), ("rear", "rear_mm")] {
        let of = |answer: &Value| number(&answer["means"]["fender_lip"][end]["value"]);
        let taken: f64 = nominal["taken_out"].as_array().unwrap().iter().map(|one| number(&one[axle]["value"])).sum();
        // The lips stand over the axles to a few mm.
        assert!((of(&read) - of(&nominal) - taken).abs() < 0.1, "{end}: {} {} {taken}", of(&read), of(&nominal));
        let parts = &nominal["end_parts"]["fender_lip"][end];
        let both = number(&parts["tire"]["value"]) + number(&parts["spring"]["value"]);
        assert!((both - of(&read)).abs() < 1e-6, "{end}: {both}");
    }
}

/// 40 kPa less in the rear tires of day 56: 2 mm, and the tire's own part says so.
#[test]
fn soft_tires_are_the_tires_part() {
    let answer = compared("settling-coupe.json", &["--from", "s06", "--to", "s07"]);
    let rear = &answer["end_parts"]["fender_lip"]["rear"];
    assert_eq!((&rear["tire"]["verdict"], &rear["spring"]["verdict"]), (&json!("changed"), &json!("same")));
    assert!((rear["tire"]["value"].as_f64().unwrap() + 2.0).abs() < 2.0 * rear["tire"]["u"].as_f64().unwrap());
    assert_eq!(answer["unequal"][0]["what"], "pressures");
}

/// The forecast stands on either side: less the last snapshot it is what is still to come, and its ± is not narrowed.
#[test]
fn the_end_of_the_settling_is_a_stance_like_any_other() {
    let still = compared("settling-coupe.json", &["--forecast"]);
    let text = answered(trueground().args(["settle", "--json"]).arg(sample("settling-coupe.json")));
    let settle: Value = serde_json::from_str(&text).unwrap();
    let text = answered(trueground().args(["stance", "--json"]).arg(sample("settling-coupe.json")));
    let stance: Value = serde_json::from_str(&text).unwrap();
    let last = stance["snapshots"].as_array().unwrap().last().unwrap();
    for end in ["front", "rear"] {
        let lines = settle.as_array().or_else(|| settle["lines"].as_array()).unwrap();
        let line = lines.iter().find(|line| line["kind"] == "fender_lip" && line["end"] == end).unwrap();
        // Where front and rear share a rate, that law counts.
        let counts = if line["chosen"].is_object() { &line["chosen"] } else { line };
        let rest = &counts["final_height_mm"];
        let now = &last["lines_nominal"]["fender_lip"][format!("{end}_mean_mm")];
        let found = &still["means"]["fender_lip"][end];
        let wanted = rest["value"].as_f64().unwrap() - now["value"].as_f64().unwrap();
        assert!((found["value"].as_f64().unwrap() - wanted).abs() < 1e-6, "{end}: {found}, wanted {wanted}");
        let u = rest["u"].as_f64().unwrap().hypot(now["u"].as_f64().unwrap());
        assert!((found["u"].as_f64().unwrap() - u).abs() < 1e-6, "{end}: {found}");
    }
    let said = refused(trueground().args(["compare", "--forecast"]).arg(sample("show-roadster.json")));
    assert!(said.contains("too early"), "{said}");
}

/// Setting a snapshot's heights out on the floor it stood on gives the readings back that were taken there.
#[test]
fn what_is_set_out_where_it_was_measured_reads_as_it_did() {
    let path = sample("show-roadster.json");
    let text = answered(trueground().arg("setout").arg(&path).args(["--floor", "shop", "--snapshot", "t28", "--json"]));
    let set_out: Value = serde_json::from_str(&text).unwrap();
    let file: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    let file = if file["input"].is_object() { file["input"].clone() } else { file };
    let snapshot = file["snapshots"].as_array().unwrap().iter().find(|snapshot| snapshot["id"] == "t28").unwrap();
    let mut compared = 0;
    for (point, reading) in set_out["readings"].as_object().unwrap() {
        let taken: Vec<f64> = snapshot["bounces"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|bounce| bounce["readings"].as_array().unwrap())
            .filter(|taken| taken["ref"] == *point)
            .map(|taken| taken["value_mm"].as_f64().unwrap())
            .collect();
        let mean = taken.iter().sum::<f64>() / taken.len() as f64;
        let (value, u) = (reading["value"].as_f64().unwrap(), reading["u"].as_f64().unwrap());
        assert!((value - mean).abs() < 2.0 * u, "{point}: set out {value} ± {u}, was read {mean}");
        assert_eq!(set_out["sticks"][point]["value"], reading["value"]);
        compared += 1;
    }
    assert!(compared >= 4);
    assert_eq!(set_out["shims_level"].as_array().unwrap().len(), 4);
}

/// The check values of the trade: H 645.13, 646.87, 663.99, 663.01 on a floor of 10, −12, 40, 34 reads 640, 652, 668, 659.
#[test]
fn the_worked_example_is_set_out_backwards() {
    let lips = |corner: &str, x: f64, y: f64| json!({"id": format!("lip.{corner}"), "corner": corner, "kind": "fender_lip", "x_mm": x, "y_mm": y});
    let points =
        [lips("FL", 0.0, 800.0), lips("FR", 0.0, -800.0), lips("RL", -2600.0, 800.0), lips("RR", -2600.0, -800.0)];
    let staff: Vec<Value> = [("S1", 990.0), ("S2", 1012.0), ("S3", 960.0), ("S4", 966.0)]
        .map(|(point, value_mm)| json!({"point": point, "value_mm": value_mm}))
        .into();
    let car = json!({
        "vehicle": {"label": "any", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": points,
            "roll_share_front": {"value": 0.4, "u": 0.01}, "lean_gain": {"value": 1.05, "u": 0.01}},
        "floors": [{"id": "drive", "survey": {"staff_u_mm": 0.1, "passes": [{"pass_no": 1, "readings": staff}]}}],
        "target": {"heights_mm": {"lip.FL": 645.13, "lip.FR": 646.87, "lip.RL": 663.99, "lip.RR": 663.01}},
    });
    let text = answered(
        trueground().args(["setout", "-", "--floor", "drive", "--target", "--json"]).write_stdin(car.to_string()),
    );
    let answer: Value = serde_json::from_str(&text).unwrap();
    for (point, reads) in [("lip.FL", 640.0), ("lip.FR", 652.0), ("lip.RL", 668.0), ("lip.RR", 659.0)] {
        let value = answer["readings"][point]["value"].as_f64().unwrap();
        // The worked example has no pitch gain; the usual one, 1.012, makes up to 0.012·35/2 = 0.2 mm.
        assert!((value - reads).abs() < 0.35, "{point}: {value}, worked out {reads}");
    }
    // A body that no spring carries, level over the highest spot, 40: E below the left lips is −1 + 800·22/1400 = 11.571 in front
    // and 37 + 800·6/1400 = 40.429 behind.
    for (point, stand) in [("lip.FL", 645.13 + 40.0 - 11.571), ("lip.RL", 663.99 + 40.0 - 40.429)] {
        let value = answer["stands"][point]["value"].as_f64().unwrap();
        assert!((value - stand).abs() < 0.1, "{point}: {value}, worked out {stand}");
    }
    assert_eq!(answer["wheel_centres"], json!({}), "the car names no tires");
    assert_eq!((&answer["shims"][0]["spot"], &answer["shims_instead"][0]["spot"]), (&json!("S2"), &json!("S3")));
    assert!((answer["shims"][0]["thickness_mm"].as_f64().unwrap() - 16.0).abs() < 0.1);
    for (shim, thickness) in answer["shims_level"].as_array().unwrap().iter().zip([30.0, 52.0, 0.0, 6.0]) {
        assert!((shim["thickness_mm"].as_f64().unwrap() - thickness).abs() < 0.1, "{shim}");
    }
}

/// Rails at 265.9 in front and 329.5 behind: 9.9 mm above a lowest 256, 2.1 mm past a highest 263.8 plus what cannot be told.
#[test]
fn one_of_several_targets_is_named_and_its_limits_are_judged() {
    let text = std::fs::read_to_string(sample("show-roadster.json")).unwrap();
    let mut file: Value = serde_json::from_str(&text).unwrap();
    if file["input"].is_object() {
        file = file["input"].take();
    }
    file["targets"] = json!([{"id": "a", "label": "class", "limits": [
        {"points": ["rail.FL"], "lowest_mm": 256.0, "rule": "lowest_safe"},
        {"points": ["rail.FL"], "highest_mm": 256.0, "rule": "show_class", "says": "open cars"},
        {"points": ["rail.RL"], "highest_mm": 329.5, "rule": "club_rule"}]}]);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.json");
    std::fs::write(&path, file.to_string()).unwrap();
    let text = answered(trueground().args(["compare", "--json"]).arg(&path).args(["--target", "class"]));
    let answer: Value = serde_json::from_str(&text).unwrap();
    let verdicts: Vec<&str> =
        answer["limits"].as_array().unwrap().iter().map(|row| row["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["within", "outside", "can't_tell"]);
    assert_eq!(answer["limits"][1]["says"], "show class, open cars");
    let words = answered(trueground().args(["compare", "--target", "class"]).arg(&path));
    assert!(
        words.contains("rail.FL: outside") && words.contains("not above 256 mm (show class, open cars)"),
        "{words}"
    );
    // Two targets, and none named; a name that is nearly right.
    let said = refused(trueground().arg("compare").arg(&path).arg("--target"));
    assert!(said.contains("the file has 2 targets") && said.contains("class"), "{said}");
    let said = refused(trueground().arg("compare").arg(&path).args(["--target", "clas"]));
    assert!(said.contains("there is no target clas") && said.contains("Did you mean class?"), "{said}");
    trueground().args(["compare", "--target"]).assert().code(2);
}

/// The roadster's file with something changed, kept as a file.
fn changed(folder: &tempfile::TempDir, change: impl Fn(&mut Value)) -> PathBuf {
    let text = std::fs::read_to_string(sample("show-roadster.json")).unwrap();
    let mut file: Value = serde_json::from_str(&text).unwrap();
    change(if file["input"].is_object() { &mut file["input"] } else { &mut file });
    let path = folder.path().join("changed.json");
    std::fs::write(&path, file.to_string()).unwrap();
    path
}

#[test]
fn the_newest_snapshot_is_compared_wherever_it_stands_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let turned = changed(&folder, |file| file["snapshots"].as_array_mut().unwrap().reverse());
    let of = |path: &Path| -> Value {
        serde_json::from_str(&answered(trueground().args(["compare", "--target", "--json"]).arg(path))).unwrap()
    };
    let front = |answer: &Value| answer["differences"]["rail.FL"]["value"].as_f64().unwrap();
    let (straight, turned) = (front(&of(&sample("show-roadster.json"))), front(&of(&turned)));
    assert!((straight - turned).abs() < 1e-6, "{straight} and {turned}");
}

/// A target that is meant 20 mm higher on the left leans by 20 mm between the rails' marks, and by more over the wheels' track.
#[test]
fn a_leaning_target_is_held_against_the_lean() {
    let folder = tempfile::tempdir().unwrap();
    let of = |path: &Path| -> Value {
        serde_json::from_str(&answered(trueground().args(["compare", "--target", "--json"]).arg(path))).unwrap()
    };
    let even = of(&sample("show-roadster.json"));
    let mut expected = 0.0;
    let leaning = changed(&folder, |file| {
        for point in ["rail.FL", "rail.RL"] {
            let height = &mut file["target"]["heights_mm"][point];
            *height = json!(height.as_f64().unwrap() + 20.0);
        }
    });
    let file: Value = serde_json::from_str(&std::fs::read_to_string(&leaning).unwrap()).unwrap();
    let vehicle = if file["input"].is_object() { &file["input"]["vehicle"] } else { &file["vehicle"] };
    let y = |id: &str| {
        let points = vehicle["ref_points"].as_array().unwrap();
        points.iter().find(|point| point["id"] == id).unwrap()["y_mm"].as_f64().unwrap()
    };
    for (left, right) in [("rail.FL", "rail.FR"), ("rail.RL", "rail.RR")] {
        expected -= 0.5 * 20.0 * vehicle["track_front_mm"].as_f64().unwrap() / (y(left) - y(right));
    }
    let leaning = of(&leaning);
    let lean = |answer: &Value| answer["lean"]["frame_rail"]["mm"]["value"].as_f64().unwrap();
    assert!((lean(&leaning) - lean(&even) - expected).abs() < 1e-6, "{} {}", lean(&leaning), lean(&even));
    assert_eq!(leaning["lean"]["frame_rail"]["mm"]["verdict"], "off");
    // Of the seams the target says nothing.
    assert_eq!(even["lean"].as_object().unwrap().keys().collect::<Vec<_>>(), ["frame_rail"]);
}

/// A target without tolerances of its own for rake and side to side: they have that of the heights, and nothing is "changed".
#[test]
fn every_number_against_a_target_is_on_or_off() {
    let folder = tempfile::tempdir().unwrap();
    let plain = changed(&folder, |file| {
        let target = file["target"].as_object_mut().unwrap();
        target.remove("rake_tolerance_deg");
        target.remove("side_to_side_tolerance_mm");
    });
    let answer = answered(trueground().args(["compare", "--target", "--json"]).arg(plain));
    let answer: Value = serde_json::from_str(&answer).unwrap();
    let verdicts = [
        &answer["rake"]["frame_rail"]["mm"],
        &answer["rake"]["frame_rail"]["deg"],
        &answer["lean"]["frame_rail"]["mm"],
        &answer["lean"]["frame_rail"]["deg"],
        &answer["twist"]["frame_rail"],
    ];
    for figure in verdicts {
        assert!(["on", "off", "can't_tell"].contains(&figure["verdict"].as_str().unwrap()), "{figure}");
    }
    assert_eq!(answer["rake"]["frame_rail"]["deg"]["verdict"], answer["rake"]["frame_rail"]["mm"]["verdict"]);
}

#[test]
fn a_mock_up_and_an_empty_snapshot_cannot_be_set_out() {
    let folder = tempfile::tempdir().unwrap();
    let set_out = |path: PathBuf, snapshot: &str| {
        refused(trueground().args(["setout", "--floor", "yard", "--snapshot", snapshot]).arg(path))
    };
    let stands = changed(&folder, |file| file["snapshots"][0]["standing"] = "mock_up".into());
    let name = |path: &Path| -> String {
        let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        let file = if file["input"].is_object() { &file["input"] } else { &file };
        file["snapshots"][0]["id"].as_str().unwrap().to_owned()
    };
    let first = name(&stands);
    assert!(set_out(stands, &first).contains("is a mock-up on rated stands"));
    let empty = changed(&folder, |file| file["snapshots"][0]["bounces"] = Value::Array(Vec::new()));
    let said = set_out(empty, &first);
    assert!(said.contains("has no height") || said.contains("no reading"), "{said}");
}

#[test]
fn what_is_not_there_is_said() {
    let roadster = sample("show-roadster.json");
    for (arguments, says) in [
        (["compare", "--from", "t28", "--to", "nowhere"].as_slice(), "there is no snapshot nowhere"),
        (&["compare", "--from", "t28", "--to", "t28"], "snapshot t28 is on both sides"),
        (&["setout", "--floor", "moon", "--target"], "there is no floor moon"),
        (&["setout", "--floor", "yard", "--snapshot", "t99"], "there is no snapshot t99"),
    ] {
        let said = refused(trueground().args(arguments).arg(&roadster));
        assert!(said.contains(says), "{said}");
    }
    let said = refused(trueground().args(["compare", "--target"]).arg(sample("settling-coupe.json")));
    assert!(said.contains("the file has no target"), "{said}");
    trueground().arg("compare").arg(&roadster).assert().code(2);
    trueground().arg("setout").arg(&roadster).assert().code(2);
}

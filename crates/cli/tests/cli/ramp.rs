//! `trueground ramp` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};

/// The show roadster, 16 mm lower in front and 12 mm behind, before an 11 degree trailer ramp of 500 mm.
pub(crate) const TRAILER: &str = r#"{"wheelbase_mm": 2565, "front_radius_mm": 321.7, "rear_radius_mm": 365.5, "points": [
  {"id": "oil_pan", "x_mm": -560, "z_mm": 162.92}, {"id": "exhaust", "x_mm": -1120, "z_mm": 112.45, "attach": "body"},
  {"id": "nose", "x_mm": 455, "z_mm": 275.26}, {"id": "tail", "x_mm": -3290, "z_mm": 311.16},
  {"id": "tie_rod", "x_mm": -95, "z_mm": 205, "attach": "front_axle"}, {"id": "diff", "x_mm": -2565, "z_mm": 196, "attach": "rear_axle"}],
  "outline": [[400, 280], [-500, 170], [-2400, 260]], "ground": {"kind": "ramp", "angle_deg": 11, "rise_mm": 500}, "allowance_mm": 0}"#;

fn of(text: &str) -> Value {
    serde_json::from_str(&answered(trueground().args(["ramp", "-", "--json"]).write_stdin(text))).unwrap()
}

fn with(changes: &[(&str, Value)]) -> String {
    let mut file: Value = serde_json::from_str(TRAILER).unwrap();
    for (key, value) in changes {
        match value {
            Value::Null => drop(file.as_object_mut().unwrap().remove(*key)),
            value => file[*key] = value.clone(),
        }
    }
    file.to_string()
}

#[test]
fn the_lowered_roadster_touches_on_the_trailer_ramp_and_did_not_before() {
    // Truth of the simulated car: breakover 11.63 degrees now; once lowered, by hand from its truth of 112.45 mm, 10.31; the ramp has 11.
    let lowered = of(&with(&[("outline", Value::Null)]));
    assert!((lowered["breakover_deg"].as_f64().unwrap() - 10.31).abs() < 0.01, "{lowered}");
    assert_eq!(lowered["limited_by"]["breakover"], "exhaust");
    let touch = &lowered["touches"][0];
    assert_eq!((touch["point"].as_str(), touch["contact"].as_bool()), (Some("exhaust"), Some(true)));
    assert_eq!(lowered["touches"].as_array().unwrap().len(), 1);
    // Over the edge at the top the bend is between the wheels: the front axle is more than 1120 mm beyond it.
    let edge = 2565.0 + 725.0 + 1000.0 + 500.0 / libm::tan(11_f64.to_radians());
    let at = lowered["front_axle_at_mm"].as_f64().unwrap();
    assert!((1000.0..1250.0).contains(&(at - edge)), "{at} against {edge}");

    let now = json!([{"id": "exhaust", "x_mm": -1120, "z_mm": 126.71}, {"id": "nose", "x_mm": 455, "z_mm": 292},
        {"id": "tail", "x_mm": -3290, "z_mm": 322}, {"id": "oil_pan", "x_mm": -560, "z_mm": 178.06}]);
    let now = of(&with(&[("outline", Value::Null), ("points", now)]));
    for (angle, truth) in [("approach_deg", 41.14), ("departure_deg", 26.78), ("breakover_deg", 11.63)] {
        assert!((now[angle].as_f64().unwrap() - truth).abs() < 0.02, "{angle}: {now}");
    }
    assert!(now["touches"].as_array().unwrap().is_empty() && now["min_gap_mm"].as_f64().unwrap() > 0.0);
    assert!(now.get("plank").is_none());
}

#[test]
fn the_answers_turned_round_hold_when_driven() {
    let text = with(&[("outline", Value::Null), ("allowance_mm", json!(25))]);
    let first = of(&text);
    let raise = first["lowest_safe"]["raise_mm"].as_f64().unwrap();
    assert!(raise > 0.0 && first["lowest_safe"]["point"] == "exhaust", "{first}");
    // A little higher it clears by the allowance, a little lower it does not.
    for (more, clears) in [(0.1, true), (-0.1, false)] {
        let mut file: Value = serde_json::from_str(&text).unwrap();
        for point in file["points"].as_array_mut().unwrap() {
            if point.get("attach").is_none_or(|attach| attach == "body") {
                point["z_mm"] = json!(point["z_mm"].as_f64().unwrap() + raise + more);
            }
        }
        assert_eq!(of(&file.to_string())["touches"].as_array().unwrap().is_empty(), clears, "{more}");
    }
    // The plank, laid into the profile by hand, saves it; one 100 mm shorter between the same kind of ends is not what was found.
    let plank = &first["plank"];
    let (from, to) = (plank["from_mm"].as_f64().unwrap(), plank["to_mm"].as_f64().unwrap());
    let foot = 2565.0 + 725.0 + 1000.0;
    let run = 500.0 / libm::tan(11_f64.to_radians());
    let height = |s: f64| ((s - foot) / run).clamp(0.0, 1.0) * 500.0;
    let mut profile = vec![[0.0, 0.0], [foot, 0.0], [foot + run, 500.0], [2.0 * foot + run, 500.0]];
    profile.retain(|[s, _]| *s < from || *s > to);
    profile.extend([[from, height(from)], [to, height(to)]]);
    profile.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let length = (to - from).hypot(height(to) - height(from));
    assert!((length - plank["length_mm"].as_f64().unwrap()).abs() < 1.0, "{plank}");
    let mut file: Value = serde_json::from_str(&text).unwrap();
    file.as_object_mut().unwrap().remove("ground");
    file["profile"] = json!(profile);
    assert!(of(&file.to_string())["touches"].as_array().unwrap().is_empty(), "{plank}");
}

#[test]
fn it_is_told_in_words() {
    let text = answered(trueground().args(["ramp", "-"]).write_stdin(TRAILER));
    assert!(text.starts_with("exhaust touches: "), "{text}");
    assert!(text.contains("Breakover 10.3°, at exhaust."), "{text}");
    assert!(text.contains("For this ground the body must stand "), "{text}");
    assert!(text.contains("A stiff plank of "), "{text}");
    assert!(text.ends_with("leave room for bounce and load.\n"), "{text}");
}

#[test]
fn a_kerb_is_two_points_over_each_other_and_the_outline_meets_it_along_its_lines() {
    // A plain board 140 mm over the ground, both wheels of one size: over a kerb of 200 mm on the flat between the wheels.
    let car = json!({"wheelbase_mm": 3000, "front_radius_mm": 350, "rear_radius_mm": 350, "outline": [[-500, 140], [-2500, 140]],
        "profile": [[0, 0], [1500, 0], [1500, 200], [1600, 200], [1600, 0], [9000, 0]], "allowance_mm": 0, "step_mm": 5});
    let answer = of(&car.to_string());
    assert_eq!(answer["point"], "outline");
    // With the front wheel down again and the rear one not yet up, the board is 60 mm into the kerb.
    assert!((answer["min_gap_mm"].as_f64().unwrap() + 60.0).abs() < 1e-9, "{answer}");
    assert_eq!(answer["approach_deg"], Value::Null);
}

#[test]
fn what_is_wrong_is_said_in_words() {
    for (changes, says) in [
        (
            vec![("profile", json!([[0, 0], [3000, 0], [2500, 50]])), ("ground", Value::Null)],
            "profile[2] is at 2500 mm, behind the point before it at 3000 mm: the profile runs backwards.",
        ),
        (
            vec![("profile", json!([[0, 0], [2000, 0]])), ("ground", Value::Null)],
            "profile is 2000 mm long: both wheels of a wheelbase of 2565 mm have no place on it.",
        ),
        (vec![("profile", json!([[5, 0], [5, 100]])), ("ground", Value::Null)], "profile has no length"),
        (vec![("profile", json!([[0, 0], [1, 1]]))], "profile and ground are given together"),
        (vec![("ground", Value::Null)], "profile is missing at the top of the file."),
        (vec![("points", json!([])), ("outline", Value::Null)], "The file has neither points nor an outline"),
        (
            vec![("points", json!([{"id": "a", "x_mm": 0, "z_mm": 1, "attach": "boddy"}]))],
            "points[0].attach is \"boddy\".\nhint: Did you mean body?",
        ),
        (
            vec![("points", json!([{"id": "a", "x_mm": 0, "z_mm": 1}, {"id": "a", "x_mm": 1, "z_mm": 1}]))],
            "points[1].id is \"a\", which is another's name.",
        ),
        (vec![("front_radius_mm", json!(0))], "front_radius_mm is 0 mm: 1 to 1500 mm is taken."),
        (vec![("ground", json!({"kind": "ramp", "angle_deg": 11}))], "rise_mm is missing in ground."),
        (vec![("ground", json!({"kind": "crest", "angle_deg": 11, "rise_mm": 2}))], "rise_mm is not a key in ground."),
        (vec![("ground", json!({"kind": "ditch"}))], "ground.kind is \"ditch\"."),
        (
            vec![("step_mm", json!(0.1)), ("ground", json!({"kind": "ramp", "angle_deg": 0.1, "rise_mm": 20000}))],
            "The run looks",
        ),
    ] {
        let said = refused(trueground().args(["ramp", "-", "--json"]).write_stdin(with(&changes)));
        assert!(said.contains(says), "{said}");
    }
}

fn roadster() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-data/show-roadster.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn over(file: &Value, arguments: &[&str]) -> Value {
    let text = file.to_string();
    serde_json::from_str(&answered(trueground().args(["ramp", "-", "--json"]).args(arguments).write_stdin(text)))
        .unwrap()
}

#[test]
fn a_cars_stance_is_driven_over_its_own_grounds_both_ways() {
    let file = roadster();
    // Truth of the simulated car once it is low: breakover 10.31 degrees at the exhaust, less than the ramp's 11.
    let low = over(&file, &["--ground", "trailer", "--target"]);
    assert_eq!((low["ground"].as_str(), low["predicted"].as_bool()), (Some("trailer"), Some(true)));
    for way in low["ways"].as_array().unwrap() {
        assert_eq!(
            (way["verdict"].as_str(), way["point"].as_str()),
            (Some("touches"), Some("exhaust pipe low bend, left"))
        );
        assert!(way["gap_mm"]["value"].as_f64().unwrap() < -2.0 * way["gap_mm"]["u"].as_f64().unwrap(), "{way}");
        assert!(way["lowest_safe"]["raise_mm"].as_f64().unwrap() > 25.0 && way["touches"][0]["contact"] == true);
    }
    // A ramp is the same to drive up nose first and tail first, but not for a car whose wheels differ.
    let driveway = over(&file, &["--ground", "driveway", "--snapshot", "t02"]);
    let way = &driveway["ways"][0];
    assert_eq!((way["verdict"].as_str(), way["facing"].as_str()), (Some("clears"), Some("nose_first")));
    assert!(way["ground_u_mm"].as_f64().unwrap() > 0.5 && way["car_u_mm"].as_f64().unwrap() > 1.0);
    let words =
        answered(trueground().args(["ramp", "-", "--ground", "trailer", "--target"]).write_stdin(file.to_string()));
    assert!(words.contains("On the 11\u{b0} ramp, nose first: touches."), "{words}");
    let checked =
        answered(trueground().args(["check", "-", "--only", "ramp", "--target"]).write_stdin(file.to_string()));
    assert!(checked.contains("On the 11\u{b0} ramp exhaust pipe low bend, left is 10 mm in the ground."), "{checked}");
    assert!(checked.contains("On the 9\u{b0} apron exhaust pipe low bend, left comes to 12 mm"), "{checked}");
}

#[test]
fn a_ground_that_makes_no_sense_is_named_with_its_field() {
    let said = |change: &dyn Fn(&mut Value), ground: &str| {
        let mut file = roadster();
        change(&mut file["grounds"][0]);
        refused(trueground().args(["ramp", "-", "--ground", ground]).write_stdin(file.to_string()))
    };
    let at = |i: usize, key: &'static str, value: f64| {
        move |ground: &mut Value| ground["string"]["stations"][i][key] = json!(value)
    };
    let backwards = said(&at(5, "along_mm", 80.0), "driveway");
    assert!(
        backwards.contains("80 mm lies behind the station before it, at 1100 mm: the profile runs backwards"),
        "{backwards}"
    );
    assert!(backwards.contains("1500 mm would be next"), "{backwards}");
    let huge = said(&at(3, "down_mm", 1e12), "driveway");
    assert!(huge.contains("string.stations[3].down_mm: 1000000000000 mm is outside -500 to 5000 mm"), "{huge}");
    let one = said(&|ground| ground["string"]["stations"] = json!([{"along_mm": 0, "down_mm": 300}]), "driveway");
    assert!(one.contains("the ground driveway has one station, and two at least make a profile"), "{one}");
    let equal = said(
        &|ground| {
            ground["string"]["stations"] = json!([{"along_mm": 5, "down_mm": 300}, {"along_mm": 5, "down_mm": 200}])
        },
        "driveway",
    );
    assert!(equal.contains("the ground driveway has no length"), "{equal}");
    let unknown = said(&|_| {}, "trailr");
    assert!(unknown.contains("there is no ground trailr") && unknown.contains("Did you mean trailer?\n"), "{unknown}");
    let which = refused(trueground().args(["ramp", "-"]).write_stdin(roadster().to_string()));
    assert!(which.contains("over which ground?") && which.contains("--ground driveway, trailer and apron"), "{which}");
}

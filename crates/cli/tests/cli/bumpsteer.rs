//! `trueground bumpsteer` as a person and a script meet it.

use crate::program::{answered, refused, trueground};
use serde_json::{Value, json};

/// A beam axle on a split wishbone, the drag link along the rail.
pub(crate) const WISHBONE: &str = r#"{"pitman_ball": [-820, 430, 470], "arm_ball": [-20, 560, 400],
  "kingpin": {"point": [0, 640, 330], "axis": [-0.11, -0.12, 1]}, "hub": [0, 700, 322],
  "guide": {"kind": "radius_rod", "pivot": [-980, 330, 290]}, "travel_mm": [-60, 60], "step_mm": 20,
  "turn": {"kingpin_distance_mm": 1250, "wheelbase_mm": 2800, "arm_mm": 150, "tie_rod_mm": 1200, "inner_deg": [20]}}"#;

fn with(key: &str, value: Value) -> String {
    let mut file: Value = serde_json::from_str(WISHBONE).unwrap();
    file[key] = value;
    file.to_string()
}

fn of(text: &str) -> Value {
    serde_json::from_str(&answered(trueground().args(["bumpsteer", "-", "--json"]).write_stdin(text))).unwrap()
}

#[test]
fn json_has_the_contracts_keys_and_the_curve_both_ends_every_step_and_0() {
    let json = of(&with("travel_mm", json!([-50, 45])));
    let keys: Vec<&String> = json.as_object().unwrap().keys().collect();
    assert_eq!(
        keys,
        [
            "bump_steer_curve",
            "steer_deg_per_mm_at_rest",
            "worst_deg",
            "worst_at_travel_mm",
            "drag_link_angle_deg",
            "best_pitman_ball",
            "turn"
        ]
    );
    let travels: Vec<f64> =
        json["bump_steer_curve"].as_array().unwrap().iter().map(|point| point["travel_mm"].as_f64().unwrap()).collect();
    assert_eq!(travels, [-50.0, -30.0, -10.0, 0.0, 10.0, 30.0, 45.0]);
    assert!(json["bump_steer_curve"][3]["steer_deg"].as_f64().unwrap().abs() < 1e-12);
    // By hand: −70 mm over √(800² + 130²) = 810.5 mm.
    assert!((json["drag_link_angle_deg"].as_f64().unwrap() + 4.936).abs() < 0.001);
}

#[test]
fn the_slopes_of_link_and_guide_give_the_steer_by_hand() {
    // The handbook's way: end mismatch = dz·(tan a_d − tan a_c) + dz²/2·(1/l_d − 1/l_c), steer = mismatch over the distance of
    // kingpin and link. An upright kingpin and a link straight along the car, so that nothing else enters.
    let text = json!({"pitman_ball": [-800, 560, 470], "arm_ball": [0, 560, 400], "kingpin": {"point": [0, 640, 330], "axis": [0, 0, 1]},
        "hub": [0, 700, 320], "guide": {"kind": "radius_rod", "pivot": [-980, 330, 290]}, "travel_mm": [-60, 60]});
    let json = of(&text.to_string());
    let (link, guide) = (-70.0 / 800.0, (400.0 - 290.0) / 980.0);
    let link_length = 800.0_f64.hypot(70.0);
    for point in json["bump_steer_curve"].as_array().unwrap() {
        let dz = point["travel_mm"].as_f64().unwrap();
        let guide_length = 980.0_f64.hypot(110.0);
        let mismatch = dz * (link - guide) + dz * dz / 2.0 * (1.0 / link_length - 1.0 / guide_length);
        let by_hand = (mismatch / 80.0).to_degrees();
        let ours = point["steer_deg"].as_f64().unwrap();
        // A tenth of it, as the handbook says, and the sign: the link pulls the arm back and the wheel to the right, or left.
        assert!((ours.abs() - by_hand.abs()).abs() <= 0.1 * by_hand.abs() + 0.02, "{dz}: {ours}, by hand {by_hand}");
    }
}

#[test]
fn parallel_and_equal_does_not_steer() {
    // The link lies along the line from pivot to arm ball and is as long: it follows the ball's arc exactly.
    let text = json!({"pitman_ball": [-980, 560, 290], "arm_ball": [0, 560, 400], "kingpin": {"point": [0, 640, 330], "axis": [0, 0, 1]},
        "hub": [0, 700, 320], "guide": {"kind": "radius_rod", "pivot": [-980, 330, 290]}, "travel_mm": [-60, 60]});
    let json = of(&text.to_string());
    assert!(json["worst_deg"].as_f64().unwrap() < 1e-9, "{json}");
    assert!(json["best_pitman_ball"]["raise_mm"].as_f64().unwrap().abs() < 1e-3, "{json}");
}

/// The sample roadster.
pub(crate) fn roadster() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-data/show-roadster.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn a_cars_file_gives_the_same_as_its_points_alone() {
    let car = roadster();
    let alone = of(&car["vehicle"]["steering"].to_string());
    assert_eq!(of(&car.to_string()), alone);
    assert_eq!(of(&json!({"input": car}).to_string()), alone);
    let mut bare = roadster();
    bare["vehicle"].as_object_mut().unwrap().remove("steering");
    let said = refused(trueground().args(["bumpsteer", "-"]).write_stdin(bare.to_string()));
    assert!(said.contains("steering is not described") && said.contains("vehicle.steering in the file"), "{said}");
    bare["vehicle"]["steering"] = car["vehicle"]["steering"].clone();
    bare["vehicle"]["steering"]["travel_mm"] = json!([60, -60]);
    let said = refused(trueground().args(["bumpsteer", "-"]).write_stdin(bare.to_string()));
    assert!(said.contains("vehicle.steering: travel_mm runs from 60 to -60 mm"), "{said}");
}

#[test]
fn it_is_told_in_words() {
    let text = answered(trueground().args(["bumpsteer", "-"]).write_stdin(WISHBONE));
    assert!(text.starts_with("wheel up mm  steers deg\n        -60 "), "{text}");
    assert!(text.contains("The drag link stands at 4.9°, its arm end lower."), "{text}");
    assert!(text.contains("Flattest with the pitman ball at "), "{text}");
    assert!(text.contains("           20.0       18.8               17.4\n"), "{text}");
    assert!(text.contains("Steering work belongs to a qualified person."), "{text}");
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    for (text, says) in [
        (
            with("travel_mm", json!([60, -60])),
            "travel_mm runs from 60 to -60 mm: its ends are reversed.\nhint: Write the lower end first: [-60, 60].",
        ),
        (with("travel_mm", json!([-500, 500])), "The drag link cannot reach at a travel of "),
        (
            with("guide", json!({"kind": "radius_rod", "pivot": [-50, 0, 322]})),
            "The guide does not let the hub rise by -60 mm.",
        ),
        (with("guide", json!({"kind": "wishbone"})), "guide.kind is \"wishbone\"."),
        (with("guide", json!({"kind": "parallel", "pivot": [0, 0, 0]})), "pivot is not a key in guide."),
        (with("guide", json!({"kind": "radius_rod", "pivot": [0, 0, 322]})), "guide.pivot and hub lie in one place"),
        (with("kingpin", json!({"point": [0, 640, 330], "axis": [0, 0, 0]})), "does not point up"),
        (with("kingpin", json!({"point": [0, 640, 330], "axis": [1, 0, 0]})), "does not point up"),
        (with("kingpin", json!({"point": [-20, 560, 330], "axis": [0, 0, 1]})), "arm_ball lies on the kingpin's axis"),
        (with("arm_ball", json!([-820, 430, 470])), "arm_ball and pitman_ball lie in one place."),
        (with("pitman_ball", json!([1, 2])), "pitman_ball has 2 numbers.\nhint: Write 3 numbers there: [x, y, z]."),
        (
            with(
                "turn",
                json!({"kingpin_distance_mm": 1250, "wheelbase_mm": 2800, "arm_mm": 20, "tie_rod_mm": 1200, "inner_deg": [20]}),
            ),
            "turn.tie_rod_mm is 1200 mm",
        ),
        (with("step", json!(5)), "step is not a key at the top of the file.\nhint: Did you mean step_mm?"),
    ] {
        let said = refused(trueground().args(["bumpsteer", "-", "--json"]).write_stdin(text));
        assert!(said.contains(says), "{said}");
    }
}

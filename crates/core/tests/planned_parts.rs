//! What planned work does to parts of a car that no height tells: what lies beyond a pie cut, a pinion on a wedge. Hand sums.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::checks::{Finding, LoadCase, Which, at_stance, findings};
use trueground_core::level::{Options, solve};
use trueground_core::plan::{Change, Taught, plan};

/// Rails at 300 mm all round, 600 mm behind the front axle and 300 mm ahead of the rear one, on a wheelbase of 2600 mm.
fn file(more: &Value) -> CarFile {
    let marks = [("FL", -700.0, 400.0), ("FR", -700.0, -400.0), ("RL", -2_300.0, 400.0), ("RR", -2_300.0, -400.0)];
    let point = |(corner, x, y): (&str, f64, f64)| json!({"id": corner, "corner": corner, "kind": "frame_rail", "x_mm": x, "y_mm": y});
    let reading = |(corner, ..): (&str, f64, f64)| json!({"ref": corner, "repeat": 1, "text": "300", "unit": "mm", "value_mm": 300.0});
    let tire = json!({"designation": "6.00-16", "free_diameter_mm": 710.0, "rim_diameter_mm": 406.4, "nominal_pressure_kpa": 200.0});
    let mut vehicle = json!({"label": "test car", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0,
        "ref_points": marks.map(point), "tires": {"FL": tire, "FR": tire, "RL": tire, "RR": tire}});
    for (key, value) in more.as_object().into_iter().flatten() {
        vehicle[key] = value.clone();
    }
    serde_json::from_value(json!({"vehicle": vehicle,
        "snapshots": [{"id": "now", "label": "now", "date": "2031-05-03", "floor": "f", "facing": "A",
            "bounces": [{"bounce_id": "b", "how": "rolled", "readings": marks.map(reading)}],
            "wheel_on_spot": {"FL": "S1", "FR": "S2", "RL": "S3", "RR": "S4"},
            "tire_pressure_kpa": {"FL": 200.0, "FR": 200.0, "RL": 200.0, "RR": 200.0}, "load_change_from_nominal": []}],
        "floors": [{"id": "f", "label": "shop", "spots": "S1 to S4", "survey": null}]}))
    .unwrap()
}

fn after(file: &CarFile, steps: &Value) -> Vec<Finding> {
    let solution = solve(file, &Options::default()).unwrap();
    let steps: Vec<Value> = serde_json::from_value(steps.clone()).unwrap();
    let change = Change::of_steps("c", "c", &steps, "steps").unwrap();
    let planned = plan(file, &solution, "now", &[&change], &Taught::default()).unwrap();
    let car = at_stance(file, &solution, Which::Planned(&planned), LoadCase::Nominal, Vec::new()).unwrap();
    findings(&car, &[])
}

fn value(found: &[Finding], check: &str, what: &str) -> f64 {
    let one = found.iter().find(|finding| finding.check == check && finding.what == what);
    one.unwrap_or_else(|| panic!("no {check} {what} in {:?}", found.iter().map(|one| &one.what).collect::<Vec<_>>()))
        .value
}

/// A wedge of 5° out of the rail 600 mm behind the front axle: sin 5° = 0.0871557, the straight frame is 52.293 lower at that axle and turns
/// nose-down by 52.293/2600 = 1.15238°.
#[test]
fn beyond_a_pie_cut_everything_turns_about_the_cut() {
    let point = |id: &str, x: f64, attach: &str| json!({"id": id, "x_mm": x, "z_mm": 250.0, "attach": attach});
    let file = file(&json!({
        "clearance_points": [point("bumper", 500.0, "body"), point("horn", 0.0, "frame"), point("cut", -600.0, "frame"),
            point("pan", -1_300.0, "body"), point("axle", 0.0, "front_axle")],
        "lamps": [{"id": "low", "attach": "body", "x_mm": 200.0, "z_mm": 700.0, "beam_drop_percent": 1.0}],
        "attitude": [{"label": "carburetor", "nose_down_deg": 0.0, "x_mm": -100.0}, {"label": "axle fill", "nose_down_deg": 0.0}],
        "travel": {"front": {"frame_gap_mm": 90.0}}}));
    let found = after(&file, &json!([{"kind": "pie_cut", "end": "front", "wedge_deg": 5.0, "arm_mm": 600.0}]));
    for (id, by_hand) in [
        // −52.293·(1 + 500/2600) + 1100·0.0871557
        ("bumper", 250.0 - 62.350 + 95.871),
        // The cross-member stays on its axle.
        ("horn", 250.0),
        // −52.293·(1 − 600/2600)
        ("cut", 250.0 - 40.226),
        ("pan", 250.0 - 26.147),
        ("axle", 250.0),
    ] {
        assert!((value(&found, "clearance", id) - by_hand).abs() < 0.01, "{id}: {}", value(&found, "clearance", id));
    }
    // −52.293·(1 + 200/2600) + 800·0.0871557
    assert!((value(&found, "lamps", "low") - (700.0 - 56.316 + 69.725)).abs() < 0.01);
    // 1.15238 nose-down of the straight frame, 5 up of what lies beyond the cut: tan 3.84762° = 6.7256 %.
    assert!((value(&found, "lamps", "low, beam") - (1.0 - 6.725_6)).abs() < 0.001);
    assert!((value(&found, "attitude", "carburetor") + 3.847_62).abs() < 1e-4);
    assert!(
        (value(&found, "attitude", "axle fill") - 1.152_38).abs() < 1e-4,
        "nobody said that it lies beyond the cut"
    );
    assert!((value(&found, "travel", "front, axle to frame") - 90.0).abs() < 1e-9, "the room over the axle stays");
}

/// Behind: 3° at 500 mm ahead of the rear axle, sin 3° = 0.0523360: 26.168 lower at that axle, and what hangs behind it is up again.
#[test]
fn a_cut_ahead_of_the_rear_axle_turns_the_tail() {
    let point = |id: &str, x: f64| json!({"id": id, "x_mm": x, "z_mm": 250.0, "attach": "body"});
    let file = file(
        &json!({"clearance_points": [point("tail", -3_300.0), point("over", -2_600.0), point("ahead", -2_100.0)]}),
    );
    let found = after(&file, &json!([{"kind": "pie_cut", "end": "rear", "wedge_deg": 3.0, "arm_mm": 500.0}]));
    // −26.168·3300/2600 + 1200·0.0523360; −26.168·2100/2600.
    for (id, by_hand) in [("tail", 250.0 - 33.213 + 62.803), ("over", 250.0), ("ahead", 250.0 - 21.136)] {
        assert!((value(&found, "clearance", id) - by_hand).abs() < 0.01, "{id}: {}", value(&found, "clearance", id));
    }
}

/// The frame is kicked up over the rear axle: 80 mm lower all the same, with the room over the axle as it was; a block takes it.
#[test]
fn travel_is_what_the_work_leaves() {
    let file = file(
        &json!({"travel": {"rear": {"frame_gap_mm": 90.0}}, "suspension": {"front": {"spring": "coil"}, "rear": {"spring": "parallel_leaf"}}}),
    );
    let left = |step: Value| value(&after(&file, &json!([step])), "travel", "rear, axle to frame");
    assert!((left(json!({"kind": "kick_up", "end": "rear", "height_mm": 80.0})) - 90.0).abs() < 1e-9);
    assert!((left(json!({"kind": "block", "end": "rear", "thickness_mm": 40.0})) - 50.0).abs() < 1e-9);
    assert!((left(json!({"kind": "c_notch", "end": "rear", "depth_mm": 30.0})) - 120.0).abs() < 1e-9);
}

/// A level shaft between a gearbox and a pinion that both fall 3° to the rear: 3° at each joint. A wedge that turns the pinion up by 2°
/// makes 5 of the rear one, and 2 of difference.
#[test]
fn a_wedge_under_the_spring_turns_the_pinion_and_nothing_else() {
    let file = file(&json!({"driveline": {"kind": "open", "transmission_deg": 3.0, "pinion_deg": 3.0,
        "front_joint": [-900.0, 400.0], "rear_joint": [-2_450.0, 400.0]}}));
    let found = after(&file, &json!([{"kind": "wedge", "end": "rear", "wedge_deg": 2.0}]));
    for (what, by_hand) in [("front joint", 3.0), ("rear joint", 5.0), ("difference of the joints", 2.0)] {
        assert!(
            (value(&found, "driveline", what) - by_hand).abs() < 0.01,
            "{what}: {}",
            value(&found, "driveline", what)
        );
    }
    let found = after(&file, &json!([{"kind": "wedge", "end": "rear", "wedge_deg": -2.0}]));
    assert!((value(&found, "driveline", "rear joint") - 1.0).abs() < 0.01);
}

/// No pack is described: the step says itself that eight leaves let the car down by 96 mm. 96·(8/6 − 1) = 32 with two out, and 10 of lost arch.
#[test]
fn leaves_out_without_a_described_pack_lower_every_point_behind() {
    let point = json!({"id": "pan", "x_mm": -1_300.0, "z_mm": 250.0, "attach": "body"});
    let file = file(&json!({"clearance_points": [point]}));
    let step = json!([{"kind": "leaf_out", "end": "rear", "leaves": [3, 4], "leaves_in_pack": 8, "sinks_mm": 96.0, "lost_arch_mm": 10.0}]);
    // Half of 42 in the middle of the wheelbase.
    assert!((value(&after(&file, &step), "clearance", "pan") - (250.0 - 21.0)).abs() < 1e-6);
    // Nothing about the pack at all: it asks, and nothing is planned.
    let solution = solve(&file, &Options::default()).unwrap();
    let bare: Vec<Value> = vec![json!({"kind": "leaf_out", "end": "rear", "leaves": [3]})];
    let change = Change::of_steps("c", "c", &bare, "steps").unwrap();
    let refused = plan(&file, &solution, "now", &[&change], &Taught::default()).unwrap_err();
    assert!(
        refused.message().contains("leaves_in_pack is missing") && refused.hint().contains("the pack with its leaves"),
        "{refused:?}"
    );
}

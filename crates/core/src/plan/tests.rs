//! Every kind of change against sums by hand: the table of the trade, and numbers worked out beside the code.

use super::*;
use crate::capture::CarFile;
use crate::level::{Options, Solution, solve};
use serde_json::{Value, json};

pub(super) fn car(change: impl Fn(&mut Value)) -> (CarFile, Solution) {
    let point = |kind: &str, corner: &str, x: f64, y: f64| json!({"id": format!("{kind}.{corner}"), "corner": corner, "kind": kind, "x_mm": x, "y_mm": y});
    let mut points = Vec::new();
    for (corner, x, y) in
        [("FL", -300.0, 400.0), ("FR", -300.0, -400.0), ("RL", -2300.0, 400.0), ("RR", -2300.0, -400.0)]
    {
        points.push(point("frame_rail", corner, x, y));
        points.push(point("body_seam", corner, x, 1.5 * y));
    }
    let readings: Vec<Value> = points
        .iter()
        .map(|point| json!({"ref": point["id"], "repeat": 1, "text": "300", "unit": "mm", "value_mm": 300.0}))
        .collect();
    let tire = json!({"designation": "6.00-16", "free_diameter_mm": 710.0, "rim_diameter_mm": 406.4, "nominal_pressure_kpa": 200.0});
    let mut file = json!({
        "vehicle": {
            "label": "test car", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0, "mass_kg_approx": 1000.0,
            "ref_points": points, "tires": {"FL": tire, "FR": tire, "RL": tire, "RR": tire},
            "suspension": {
                "front": {"kind": "one transverse leaf", "spring_base_mm": 800.0, "axle_ride_rate_n_per_mm": {"value": 40.0, "rel_u": 0.1}},
                "rear": {"spring": "parallel_leaf", "spring_base_mm": 1000.0, "axle_ride_rate_n_per_mm": {"value": 50.0, "rel_u": 0.1}}
            },
            "roll_share_front": {"value": 0.4, "u": 0.05}, "lean_gain": {"value": 1.1, "u": 0.03}
        },
        "snapshots": [{"id": "now", "label": "now", "date": "2031-05-03", "floor": "f", "facing": "A",
            "bounces": [{"bounce_id": "b", "how": "rolled", "readings": readings}],
            "wheel_on_spot": {"FL": "S1", "FR": "S2", "RL": "S3", "RR": "S4"},
            "tire_pressure_kpa": {"FL": 200.0, "FR": 200.0, "RL": 200.0, "RR": 200.0}, "load_change_from_nominal": []}],
        "floors": [{"id": "f", "label": "shop", "spots": "S1 to S4", "survey": null}]
    });
    change(&mut file);
    let file: CarFile = serde_json::from_value(file).expect("a car");
    let solution = solve(&file, &Options::default()).expect("solved");
    (file, solution)
}

fn planned(steps: Value) -> Result<Planned, String> {
    planned_on(|_| {}, steps)
}

fn planned_on(with: impl Fn(&mut Value), steps: Value) -> Result<Planned, String> {
    let (file, solution) = car(with);
    let steps: Vec<Value> = serde_json::from_value(steps).expect("a list");
    let change = Change::of_steps("c", "c", &steps, "changes[0].steps").map_err(|refusal| refusal.to_string())?;
    plan(&file, &solution, "now", &[&change], &Taught::default())
        .map_err(|problem| format!("{} {}", problem.message(), problem.hint()))
}

/// Front and rear, mm, of one step.
fn moves(step: Value) -> [f64; 2] {
    let planned = planned(json!([step])).expect("planned");
    planned.effect.frame_mm.map(|part| part.value)
}

#[test]
fn a_leaf_out_takes_the_pack_that_the_car_describes() {
    let step = json!([{"kind": "leaf_out", "end": "rear", "leaves": [3]}]);
    let said = planned(step.clone()).expect_err("nothing says how the spring sinks");
    assert!(said.contains("leaves_in_pack is missing"), "{said}");
    // Eight equal leaves that sink 96 mm: 96·(8/7 − 1).
    let leaves = vec![json!({"thickness_mm": 6.0}); 8];
    let pack = json!({"load_n": 2600.0, "leaves": leaves, "readings": [{"load_n": 0.0, "height_mm": 200.0}, {"load_n": 2600.0, "height_mm": 104.0}]});
    let described = |file: &mut Value| file["vehicle"]["leaf_packs"] = json!({"rear": pack});
    let effect = planned_on(described, step).expect("planned").effect;
    assert!((effect.frame_mm[1].value + 13.714).abs() < 1e-3, "{effect:?}");
    // A step that says it itself is not overruled.
    let own = json!([{"kind": "leaf_out", "end": "rear", "leaves": [3], "leaves_in_pack": 4, "sinks_mm": 60.0}]);
    let effect = planned_on(described, own).expect("planned").effect;
    assert!((effect.frame_mm[1].value + 20.0).abs() < 1e-9, "{effect:?}");
}

#[test]
fn each_kind_moves_the_car_as_the_trade_says() {
    let leaves = vec![json!({"thickness_mm": 6.0}); 8];
    let pack = json!({"load_n": 2600.0, "leaves": leaves, "readings": [{"load_n": 0.0, "height_mm": 200.0}, {"load_n": 2600.0, "height_mm": 104.0}]});
    for (step, front, rear) in [
        (json!({"kind": "spring", "end": "front", "amount_mm": -16.0}), -16.0, 0.0),
        // Eight equal leaves that sink 96 mm, one out: 96·(8/7 − 1) = 13.714.
        (json!({"kind": "leaf_out", "end": "rear", "leaves": [3], "pack": pack}), 0.0, -13.714),
        (
            json!({"kind": "leaf_out", "end": "front", "leaves": [5], "leaves_in_pack": 8, "sinks_mm": 96.0}),
            -13.714,
            0.0,
        ),
        // Two out of eight, and 6 mm of arch: 96·(8/6 − 1) + 6 = 38.
        (
            json!({"kind": "leaf_out", "end": "front", "leaves": [5, 7], "leaves_in_pack": 8, "sinks_mm": 96.0, "lost_arch_mm": 6.0}),
            -38.0,
            0.0,
        ),
        (json!({"kind": "reversed_eyes", "end": "rear", "eye_diameter_mm": 32.0}), 0.0, -32.0),
        // A spring maker's rules (`eye_rules` of the published leaf springs): one eye half its diameter, a Berlin eye half of a reversed one.
        (json!({"kind": "reversed_eyes", "end": "rear", "eye_diameter_mm": 32.0, "eyes": "one"}), 0.0, -16.0),
        (json!({"kind": "reversed_eyes", "end": "rear", "eye_diameter_mm": 32.0, "eyes": "both_berlin"}), 0.0, -16.0),
        (json!({"kind": "reversed_eyes", "end": "rear", "eye_diameter_mm": 32.0, "eyes": "one_berlin"}), 0.0, -8.0),
        // Eight equal leaves: an eighth of 40 mm.
        (json!({"kind": "rearched_leaf", "end": "front", "arch_change_mm": -40.0, "pack": pack}), -5.0, 0.0),
        (json!({"kind": "perch", "end": "front", "lower_mm": 20.0}), -20.0, 0.0),
        (json!({"kind": "hanger", "end": "rear", "up_mm": 30.0}), 0.0, -15.0),
        // Parallel leaves: half of 30 mm; hanging lifts, standing lowers.
        (json!({"kind": "shackle", "end": "rear", "sketch": "hanging", "length_change_mm": 30.0}), 0.0, 15.0),
        (json!({"kind": "shackle", "end": "rear", "sketch": "standing", "length_change_mm": 30.0}), 0.0, -15.0),
        // Transverse: 20·cos 45° = 14.142, the other way round.
        (json!({"kind": "shackle", "end": "front", "sketch": "hanging", "length_change_mm": 20.0}), -14.142, 0.0),
        (json!({"kind": "block", "end": "rear", "thickness_mm": 50.0}), 0.0, -50.0),
        (json!({"kind": "block", "end": "rear", "thickness_mm": 50.0, "spring": "over_axle"}), 0.0, 50.0),
        (json!({"kind": "shim", "end": "front", "thickness_mm": 6.0}), 6.0, 0.0),
        (json!({"kind": "shim", "end": "front", "thickness_mm": 6.0, "side": "left"}), 3.0, 0.0),
        (json!({"kind": "wedge", "end": "front", "wedge_deg": 2.0}), 0.0, 0.0),
        (json!({"kind": "dropped_axle", "end": "front", "drop_mm": 76.0}), -76.0, 0.0),
        (json!({"kind": "dropped_spindle", "end": "front", "drop_mm": 50.0}), -50.0, 0.0),
        (json!({"kind": "flipped_axle", "end": "rear", "lower_mm": 110.0}), 0.0, -110.0),
        // Loaded pitch (320 − 4000/40)/8 = 27.5 mm; one turn at 1.5.
        (
            json!({"kind": "coil_cut", "end": "front", "turns_removed": 1, "turns": 8, "free_length_mm": 320, "rate_n_per_mm": 40, "load_n": 4000, "wheel_over_spring": 1.5}),
            -41.25,
            0.0,
        ),
        // 300 − 4000/50 = 220 against 320 − 4000/40 = 220, and 10 mm shorter.
        (
            json!({"kind": "coil", "end": "front", "free_length_before_mm": 320, "rate_before_n_per_mm": 40, "free_length_after_mm": 290, "rate_after_n_per_mm": 50, "load_n": 4000}),
            -10.0,
            0.0,
        ),
        // 6 turns × 2 mm × 1.6.
        (json!({"kind": "coil_over", "end": "rear", "turns": -6, "pitch_mm": 2, "wheel_over_spring": 1.6}), 0.0, -19.2),
        (json!({"kind": "air", "end": "rear", "amount_mm": -80}), 0.0, -80.0),
        (json!({"kind": "crossmember", "end": "front", "flattened_mm": 25}), -25.0, 0.0),
        (json!({"kind": "kick_up", "end": "rear", "height_mm": 100}), 0.0, -100.0),
        // 600·sin 5° = 52.293.
        (json!({"kind": "pie_cut", "end": "front", "wedge_deg": 5, "arm_mm": 600}), -52.293, 0.0),
        (json!({"kind": "pie_cut", "end": "front", "sweep_mm": 52.293, "arm_mm": 600}), -52.293, 0.0),
        (json!({"kind": "c_notch", "end": "rear", "depth_mm": 50}), 0.0, 0.0),
        (json!({"kind": "channel", "depth_mm": 75}), 0.0, 0.0),
        (json!({"kind": "section", "section_mm": 75, "core_height_mm": 500}), 0.0, 0.0),
        (json!({"kind": "tire", "end": "front", "free_diameter_change_mm": -20}), -10.0, 0.0),
        (json!({"kind": "wheel", "end": "rear", "width_change_mm": 25.4, "offset_change_mm": -10}), 0.0, 0.0),
        // 75 kg·g·1300/2600/40 = 9.194 in front, /50 = 7.355 behind.
        (json!({"kind": "load", "mass_kg": 75, "x_mm": -1300}), -9.194, -7.355),
    ] {
        let [ours_front, ours_rear] = moves(step.clone());
        assert!(
            (ours_front - front).abs() < 1e-3 && (ours_rear - rear).abs() < 1e-3,
            "{step}: {ours_front}, {ours_rear}"
        );
    }
}

#[test]
fn side_effects_go_where_they_belong() {
    let effect = |step: Value| planned(json!([step])).expect("planned").effect;
    let channel = effect(json!({"kind": "channel", "depth_mm": 75}));
    assert_eq!(
        (channel.body_over_frame_mm.value, channel.in_the_middle().map(|part| part.value)),
        (-75.0, [0.0, -75.0])
    );
    let tire = effect(json!({"kind": "tire", "end": "front", "free_diameter_change_mm": -20}));
    assert_eq!((tire.hub_mm[0].value, tire.travel_mm[0].value, tire.room_besides()[0].value), (-10.0, 0.0, 0.0));
    let axle = effect(json!({"kind": "dropped_axle", "end": "front", "drop_mm": 76.0}));
    assert_eq!((axle.hub_mm[0].value, axle.axle_mm[0].value, axle.travel_mm[0].value), (0.0, -76.0, 0.0));
    assert_eq!(effect(json!({"kind": "block", "end": "rear", "thickness_mm": 50.0})).travel_mm[1].value, -50.0);
    assert_eq!(effect(json!({"kind": "c_notch", "end": "rear", "depth_mm": 50.0})).travel_mm[1].value, 50.0);
    // Kicked up over the axle: the frame comes down, what is above the axle stays.
    assert_eq!(effect(json!({"kind": "kick_up", "end": "rear", "height_mm": 100.0})).room_besides()[1].value, 100.0);
    assert_eq!(effect(json!({"kind": "pie_cut", "end": "front", "wedge_deg": 5, "arm_mm": 600})).caster_deg.value, 5.0);
    let held = planned_on(
        |file| file["vehicle"]["radius_rod"] = json!({"frame_pivot_x_mm": -900.0, "length_mm": 900.0}),
        json!([{"kind": "pie_cut", "end": "front", "wedge_deg": 5, "arm_mm": 600}]),
    );
    assert_eq!(held.expect("planned").effect.caster_deg.value, 0.0);
    // 0.4·1.1·6/800 mm a mm, half of it up.
    let shim = effect(json!({"kind": "shim", "end": "front", "thickness_mm": 6.0, "side": "left"}));
    assert!((shim.lean.value - 0.0033).abs() < 1e-12);
    // 50 kg at 400 mm on the left: −50·9.80665·400·1.1/(½·20·800² + ½·25·1000²).
    let load = effect(json!({"kind": "load", "mass_kg": 50, "x_mm": 0, "y_mm": 400}));
    assert!((load.lean.value + 215_746.3 / 18_900_000.0).abs() < 1e-9);
}

#[test]
fn softer_tires_press_in_by_their_rate_and_later_steps_see_earlier_ones() {
    // A wheel carries 1000·g/4 = 2451.7 N: 11.144 mm at 220 N/mm. At 150 kPa the rate is 0.825 of it: 2.364 mm more.
    let [_, rear] = moves(json!({"kind": "pressure", "end": "rear", "to_kpa": 150}));
    assert!((rear + 2.364).abs() < 0.01, "{rear}");
    let both = planned(
        json!([{"kind": "pressure", "end": "rear", "to_kpa": 150}, {"kind": "pressure", "end": "rear", "to_kpa": 200}]),
    );
    assert!(both.expect("planned").effect.frame_mm[1].value.abs() < 1e-9, "there and back again");
}

#[test]
fn a_point_moves_in_proportion_and_two_millimetres_of_doubt_are_added_once() {
    let (file, solution) = car(|_| {});
    let steps = [
        json!({"kind": "spring", "end": "front", "amount_mm": -16.0, "u_mm": 3.0}),
        json!({"kind": "spring", "end": "rear", "amount_mm": -12.0}),
    ];
    let change = Change::of_steps("both", "both", &steps, "steps").expect("steps");
    let planned = plan(&file, &solution, "now", &[&change], &Taught::default()).expect("planned");
    let stance = planned.stance(&file, &solution);
    let now = solution
        .sum(&[crate::level::Term { snapshot: "now", figure: "lines_nominal.frame_rail.front_mean_mm", weight: 1.0 }])
        .expect("told");
    let line = &stance.lines["frame_rail"];
    // σ = 300/2600: −16·(1 − σ) − 12·σ.
    let moved = line.front_mean_mm.value.expect("told") - now.value.expect("told");
    assert!((moved + 16.0 * (2300.0 / 2600.0) + 12.0 * (300.0 / 2600.0)).abs() < 1e-9, "{moved}");
    let u = line.front_mean_mm.u.expect("told");
    let expected = (now.u.expect("told").powi(2) + 4.0 + (3.0_f64 * 2300.0 / 2600.0).powi(2)).sqrt();
    assert!((u - expected).abs() < 1e-9, "{u}, {expected}");
    assert_eq!(stance.basis, "predicted");
}

#[test]
fn what_cannot_be_done_or_read_is_said_with_its_place() {
    for (steps, says) in [
        (json!([{"kind": "blok", "end": "rear"}]), "changes[0].steps[0].kind is \"blok\". Did you mean block?"),
        (json!([{"end": "rear"}]), "kind is missing in changes[0].steps[0]."),
        (
            json!([{"kind": "block", "end": "rear", "thikness_mm": 3}]),
            "thikness_mm is not a key in changes[0].steps[0]. Did you mean thickness_mm?",
        ),
        (json!([{"kind": "block", "thickness_mm": 3}]), "end is missing in changes[0].steps[0]"),
        (json!([{"kind": "block", "end": "raer", "thickness_mm": 3}]), "Did you mean rear?"),
        (json!([{"kind": "block", "end": "front", "thickness_mm": 30}]), "a block has no seat there."),
        (
            json!([{"kind": "block", "end": "rear", "thickness_mm": 3000}]),
            "thickness_mm is 3000 mm: 0 to 150 mm is taken.",
        ),
        (
            json!([{"kind": "block", "end": "rear", "thickness_mm": 30, "amount_mm": -30}]),
            "amount_mm and thickness_mm are given together",
        ),
        (json!([{"kind": "block", "end": "rear"}]), "thickness_mm is missing"),
        (json!([{"kind": "shackle", "end": "rear", "length_change_mm": 20}]), "sketch is missing"),
        (
            json!([{"kind": "leaf_out", "end": "rear", "leaves": [1], "sinks_mm": 90, "leaves_in_pack": 7}]),
            "the main leaf",
        ),
        (
            json!([{"kind": "leaf_out", "end": "rear", "leaves": [9], "sinks_mm": 90, "leaves_in_pack": 7}]),
            "a pack of 7 has not",
        ),
        (
            json!([{"kind": "leaf_out", "end": "rear", "leaves": [2], "pack": {"load_n": 100, "leafs": []}}]),
            "leafs is not a key",
        ),
        (
            json!([{"kind": "leaf_out", "end": "rear", "leaves": [2], "pack": {"length_mm": 1000, "width_mm": 45, "load_n": 100, "leaves": []}}]),
            "leaves has 0 leaves",
        ),
        (json!([{"kind": "pie_cut", "end": "front", "sweep_mm": 290, "arm_mm": 300}]), "at most half of the arm"),
        (json!([{"kind": "tire", "end": "front", "marking": "round"}]), "changes[0].steps[0].marking"),
        (json!([{"kind": "c_notch", "end": "rear", "amount_mm": -20}]), "C-notch moves nothing"),
        (
            json!([{"kind": "coil_cut", "end": "front", "turns_removed": 9, "turns": 8, "free_length_mm": 300, "rate_n_per_mm": 40, "load_n": 100}]),
            "8 working turns",
        ),
        (json!([{"kind": "section", "section_mm": 200, "core_height_mm": 150}]), "the core is 150 mm high"),
        (json!(["block"]), "changes[0].steps[0]"),
    ] {
        let refusal = planned(steps.clone()).expect_err("refused");
        assert!(refusal.contains(says), "{steps}: {refusal}");
    }
}

#[test]
fn other_words_beside_the_known_ones_say_nothing() {
    let bare = json!({"kind": "block", "end": "rear", "thickness_mm": 30});
    let noted = json!({"kind": "block", "end": "rear", "thickness_mm": 30, "bought_at": "a swap meet", "photo": 7});
    assert_eq!(moves(noted), moves(bare));
}

#[test]
fn what_springs_have_shown_is_reckoned_with() {
    let (file, solution) = car(|_| {});
    let steps = [
        json!({"kind": "reversed_eyes", "end": "rear", "eye_diameter_mm": 30.0}),
        json!({"kind": "spring", "end": "front", "amount_mm": -10.0}),
    ];
    let change = Change::of_steps("c", "c", &steps, "steps").expect("steps");
    let ratio = Some(crate::uncertainty::Quantity::new(1.2, 0.1));
    let planned = plan(&file, &solution, "now", &[&change], &Taught { ratio: [ratio, ratio] }).expect("planned");
    let [front, rear] = planned.effect.frame_mm;
    assert!((rear.value + 36.0).abs() < 1e-9 && (rear.u - 3.0).abs() < 1e-9, "{rear:?}");
    assert_eq!(front.value, -10.0, "an amount is what the person says");
}

#[test]
fn days_to_measure_again_and_the_list_to_tick() {
    let event = |kind: &str| -> crate::capture::Event {
        let resets = matches!(kind, "leaves_out");
        serde_json::from_value(json!({"date": "2031-05-03", "what": "work", "kind": kind, "resets_settling": resets}))
            .expect("an event")
    };
    let leaves = event("leaves_out");
    let due = |measured: &[&str], today: &str| next_due(&leaves, measured, today).map(|due| (due.day, due.date));
    assert_eq!(due(&[], "2031-05-03"), Some((0, "2031-05-03".to_owned())));
    assert_eq!(due(&["2031-05-03"], "2031-05-04"), Some((3, "2031-05-06".to_owned())));
    assert_eq!(due(&["2031-05-03"], "2031-05-12"), Some((7, "2031-05-10".to_owned())), "the last that has passed");
    assert_eq!(due(&["2031-05-10"], "2031-05-11"), Some((14, "2031-05-17".to_owned())));
    assert_eq!(due(&["2031-05-17"], "2031-05-18"), Some((28, "2031-05-31".to_owned())));
    assert_eq!(due(&["2031-07-26"], "2031-07-27"), None, "after twelve weeks");
    assert_eq!(next_due(&event("tires"), &["2031-05-03"], "2031-06-01"), None, "tires do not settle");
    assert_eq!(next_due(&event("note"), &[], "2031-06-01"), None);
    let codes: Vec<&str> = tasks(crate::capture::EventKind::LeavesOut).iter().map(|task| task.code).collect();
    for code in ["u_bolts_first_drive", "u_bolts_200_km", "hoses", "lock_to_lock", "exhaust", "lamps", "alignment"] {
        assert!(codes.contains(&code), "{code}");
    }
}

//! Plans of the show roadster against the truth of its simulation: what each possible change does to every point, and what is measured
//! against it afterwards.

use serde_json::Value;
use trueground_core::capture::CarFile;
use trueground_core::checks::{LoadCase, Which, at_stance, findings};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::plan::search::{Asked, Keep, search};
use trueground_core::plan::{Change, Planned, Taught, after, changes, parts, plan};
use trueground_core::target::Target;

struct Demo {
    file: CarFile,
    truth: Value,
    solution: Solution,
}

fn demo() -> Demo {
    let mut scenario: Value = serde_json::from_str(include_str!("data/demo-03-show-target.json")).expect("a scenario");
    let file: CarFile = serde_json::from_value(scenario["input"].take()).expect("its input");
    let solution = solve(&file, &Options::default()).expect("solved");
    Demo { file, truth: scenario["truth"].take(), solution }
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

impl Demo {
    fn plan(&self, changes: &[&Change]) -> Planned {
        plan(&self.file, &self.solution, "t28", changes, &Taught::default()).expect("planned")
    }

    fn changes(&self) -> Vec<Change> {
        changes(&self.file).expect("changes")
    }
}

/// A linear body on two axles against one that also turns: at most 0.3 mm where springs and tires move by 16 mm.
#[test]
fn every_change_moves_every_point_as_the_simulation_says() {
    let demo = demo();
    for change in demo.changes() {
        let truth = &demo.truth["changes"][&change.id];
        let planned = demo.plan(&[&change]);
        for point in &demo.file.vehicle.ref_points {
            let ours = planned.effect.rise(point, demo.file.vehicle.wheelbase_mm).value;
            let true_change = number(&truth["change_mm"][&point.id]);
            assert!((ours - true_change).abs() < 0.3, "{}, {}: {ours}, true {true_change}", change.id, point.id);
        }
    }
}

#[test]
fn planned_heights_are_as_sure_as_they_say_and_checks_run_on_them() {
    let demo = demo();
    let (mut squares, mut count) = (0.0, 0.0);
    for change in demo.changes() {
        let truth = &demo.truth["changes"][&change.id];
        let planned = demo.plan(&[&change]);
        let stance = planned.stance(&demo.file, &demo.solution);
        for (point, height) in &stance.heights {
            let (value, u) = height.value.zip(height.u).expect("told");
            let error = (value - number(&truth["level_heights_nominal_mm"][point])) / u;
            assert!(error.abs() < 3.0, "{}, {point}: {error:.2} u", change.id);
            squares += error * error;
            count += 1.0;
        }
        let car = at_stance(&demo.file, &demo.solution, Which::Planned(&planned), LoadCase::Nominal, Vec::new());
        let found = findings(&car.expect("checked"), &[]);
        let value = |check: &str, what: &str| {
            found
                .iter()
                .find(|one| one.check == check && one.what == what)
                .unwrap_or_else(|| panic!("no {check} of {what}"))
                .value
        };
        for (point, height) in truth["clearance_mm"].as_object().expect("points") {
            assert!((value("clearance", point) - number(height)).abs() < 1.0, "{}, {point}", change.id);
        }
        let caster = value("caster", "change") - number(&truth["caster_change_deg"]);
        assert!(caster.abs() < 0.02, "{}: caster by {caster}", change.id);
        assert!((value("lamps", "lamp") - number(&truth["lamp_height_mm"])).abs() < 0.3, "{}", change.id);
    }
    // A prediction from a true model is surer than the 2 mm it adds.
    assert!((squares / count).sqrt() < 1.1, "{}", (squares / count).sqrt());
}

#[test]
fn steps_in_order_are_the_sum_of_their_changes() {
    let demo = demo();
    let all = demo.changes();
    let named = |id: &str| all.iter().find(|change| change.id == id).expect("there");
    let joined = demo.plan(&[named("front_minus_leaf"), named("rear_pack_12")]);
    let both = demo.plan(&[named("both")]);
    assert_eq!(joined.effect, both.effect);
    assert_eq!((joined.id.as_str(), joined.steps.len()), ("front_minus_leaf+rear_pack_12", 2));
    assert_eq!(joined.steps[0].front_mm.value, -16.0);
    assert_eq!(joined.steps[1].rear_mm.value, -12.0);
}

/// Between the two snapshots springs went down by 3.5 and 2 mm.
#[test]
fn what_was_measured_stands_against_what_was_predicted() {
    let demo = demo();
    let steps = [
        serde_json::json!({"kind": "spring", "end": "front", "amount_mm": -3.5}),
        serde_json::json!({"kind": "spring", "end": "rear", "amount_mm": -2.0}),
    ];
    let change = Change::of_steps("settled", "settled", &steps, "steps").expect("steps");
    let planned = demo.plan(&[&change]);
    let after = after(&demo.file, &demo.solution, &planned, "t02").expect("held against");
    for (point, difference) in &after.comparison.differences {
        let (value, u) = difference.value.zip(difference.u).expect("told");
        assert!(value.abs() < 3.0 * u, "{point}: {value} ± {u}");
    }
    assert_eq!(after.ends.len(), 2);
    assert!(after.ends.iter().all(|end| end.ratio.is_none()), "a few millimetres teach nothing");
}

#[test]
fn parts_reach_the_target_or_it_is_said_that_none_does() {
    let mut demo = demo();
    let part = |id: &str, slot: &str, end: &str, by: f64| serde_json::json!({"id": id, "slot": slot, "steps": [{"kind": "spring", "end": end, "amount_mm": by}], "price": 10.0, "hours": 1.0});
    let all = [
        part("a", "front", "front", -24.0),
        part("b", "front", "front", -12.0),
        part("c", "rear", "rear", -5.0),
        part("d", "rear", "rear", -30.0),
    ];
    demo.file.parts = serde_json::from_value(Value::from(all.to_vec())).expect("parts");
    let parts = parts(&demo.file).expect("read");
    let target = Target::of(&demo.file).expect("a target");
    let keep = Keep::default();
    let asked =
        Asked { from: "t28", target: &target, parts: &parts, keep: &keep, wanted: 9, taught: Taught::default() };
    let found = search(&demo.file, &demo.solution, &asked, &mut |_| true).expect("searched");
    // True rails 269.3 and 331.8, wanted 246 and 326: 24 in front reaches it.
    assert!(found.reaches && found.proved && found.combinations == 9.0 && found.answers.len() == 9);
    let best: Vec<&str> = found.answers[0].parts.iter().map(|i| parts[*i].change.id.as_str()).collect();
    assert_eq!(best[0], "a");
    let without = Asked { parts: &parts[1..], ..asked.clone() };
    let none = search(&demo.file, &demo.solution, &without, &mut |_| true).expect("searched");
    assert!(!none.reaches && none.proved && none.answers[0].worst > 1.0);
    // The exhaust touches the trailer's ramp wherever the target is reached.
    let keep = Keep { no_touch: true, ..Keep::default() };
    let kept = search(&demo.file, &demo.solution, &Asked { keep: &keep, ..asked }, &mut |_| true).expect("searched");
    let (nearest, why) = kept.nearest_but.expect("something nearer is left out");
    assert!(!kept.reaches && nearest.worst < kept.answers[0].worst && why.contains("trailer ramp"), "{why}");
}

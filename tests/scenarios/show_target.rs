//! The roadster against its target on two floors: what is off beyond doubt, what is not, and that shop and yard agree once each
//! floor is taken out. What is true stands in the demo's own description.

use serde_json::Value;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::compare::{Comparison, Difference, Load, Stance, Target, Verdict, compare};
use trueground_core::level::{Options, Solution, solve};

struct Demo {
    file: CarFile,
    truth: Value,
    solution: Solution,
    target: Target,
}

fn demo() -> Demo {
    let mut document: Value = serde_json::from_str(include_str!("data/demo-03-show-target.json")).expect("JSON");
    let file: CarFile = serde_json::from_value(document["input"].take()).expect("a file");
    let solution = solve(&file, &Options::default()).expect("adjustable");
    let target = Target::of(&file).expect("a target");
    Demo { file, truth: document["truth"].take(), solution, target }
}

impl Demo {
    fn against_target(&self, snapshot: &str) -> Comparison {
        let (this, other) = (Stance::Measured(snapshot), Stance::Target(&self.target));
        compare(&self.file, &self.solution, this, other, Load::Nominal).expect("points in common")
    }

    fn true_of(&self, snapshot: &str) -> &Value {
        let all = self.truth["snapshots"].as_array().expect("snapshots");
        all.iter().find(|of| of["id"] == snapshot).expect("that snapshot")
    }

    fn true_heights(&self, snapshot: &str) -> BTreeMap<String, f64> {
        serde_json::from_value(self.true_of(snapshot)["level_heights_nominal_mm"].clone()).expect("heights")
    }
}

fn told(difference: &Difference) -> (f64, f64) {
    (difference.value.expect("a value"), difference.u.expect("a u"))
}

#[test]
fn the_front_is_off_beyond_doubt_on_both_floors_and_the_rear_is_not() {
    let demo = demo();
    for snapshot in ["t28", "t02"] {
        let found = demo.against_target(snapshot);
        let truth = demo.true_heights(snapshot);
        assert_eq!(found.differences.len(), 4, "the target names the rails only");
        for (point, difference) in &found.differences {
            let (value, u) = told(difference);
            let off_by = truth[point] - demo.target.heights_mm[point];
            assert!((value - off_by).abs() <= 2.5 * u, "{snapshot} {point}: {value} ± {u}, truly {off_by}");
            match difference.verdict {
                Verdict::Off => assert!(off_by.abs() > 6.0, "{snapshot} {point} is said to be off, truly {off_by}"),
                Verdict::On => assert!(off_by.abs() < 6.0, "{snapshot} {point} is said to be on, truly {off_by}"),
                verdict => assert_eq!(verdict, Verdict::CantTell),
            }
            // Front 19 to 24 mm above the target, rear 3 to 6: beyond doubt only in front.
            assert_eq!(difference.verdict == Verdict::Off, point.starts_with("rail.F"), "{snapshot} {point}");
        }
        // Wanted 2.52° ± 0.25; truly 1.97° and 2.01°.
        let rake = &found.rake["frame_rail"].deg;
        let true_deg = demo.true_of(snapshot)["stance_nominal"]["frame_rail"]["rake_deg"].as_f64().expect("a rake");
        let (value, u) = told(rake);
        assert!((value - (true_deg - 2.52)).abs() <= 2.5 * u, "{snapshot}: rake {value} ± {u}");
        assert_eq!(rake.verdict, Verdict::Off, "{snapshot}");
        // 0.3 mm of twist, a lean of less than 2: nothing to correct.
        assert_ne!(found.twist["frame_rail"].verdict, Verdict::Off, "{snapshot}");
        assert_ne!(found.lean["frame_rail"].mm.verdict, Verdict::Off, "{snapshot}");
    }
}

#[test]
fn shop_and_yard_agree_once_each_floor_is_taken_out() {
    let demo = demo();
    let raw = |snapshot: &str, point: &str| {
        demo.true_of(snapshot)["height_above_local_floor_mm"][point].as_f64().expect("a height")
    };
    // As the tape has it the right front stood still and the left came down by 10 mm: that is the floors.
    assert!(
        raw("t02", "rail.FL") - raw("t28", "rail.FL") < -9.0 && raw("t02", "rail.FR") - raw("t28", "rail.FR") > -1.0
    );
    let (later, earlier) = (Stance::Measured("t02"), Stance::Measured("t28"));
    let found = compare(&demo.file, &demo.solution, later, earlier, Load::Nominal).expect("points in common");
    let (before, after) = (demo.true_heights("t28"), demo.true_heights("t02"));
    for (point, difference) in &found.differences {
        let (value, u) = told(difference);
        let truth = after[point] - before[point];
        assert!((value - truth).abs() <= 2.5 * u, "{point}: {value} ± {u}, truly {truth}");
        // Truly 2 to 3.5 mm lower: less than the two floors can part.
        assert_ne!(difference.verdict, Verdict::Changed, "{point}");
    }
    // Left and right came down together.
    for (left, right) in
        [("rail.FL", "rail.FR"), ("rail.RL", "rail.RR"), ("seam.FL", "seam.FR"), ("seam.RL", "seam.RR")]
    {
        let (a, u_a) = told(&found.differences[left]);
        let (b, u_b) = told(&found.differences[right]);
        assert!((a - b).abs() <= 2.0 * libm::hypot(u_a, u_b), "{left} {a}, {right} {b}");
    }
}

//! All checks on one stance, and every check under every load, against solving the file once. The aim is 5 ms for all checks.

use std::hint::black_box;

use criterion::Criterion;
use serde_json::{Value, json};
use trueground_benches::{Ratio, criterion, print};
use trueground_core::capture::CarFile;
use trueground_core::checks::{LoadCase, Rule, Which, at_stance, findings, under_loads};
use trueground_core::level::{Options, solve};

const GROUP: &str = "what follows from the roadster's last snapshot";
const JOB: &str = "all checks, under 5 ms";
const LOADS: &str = "all checks under every load";
const YARDSTICK: &str = "level solve of the file";
const ROADSTER: &str = include_str!("../sample-data/show-roadster.json");

fn main() {
    let mut sample: Value = serde_json::from_str(ROADSTER).expect("a sample");
    let vehicle = &mut sample["vehicle"];
    vehicle["driveline"] =
        json!({"transmission_deg": 3.0, "pinion_deg": 2.5, "front_joint": [-900, 420], "rear_joint": [-2400, 395]});
    vehicle["attitude"] = json!([{"label": "carburetor flange", "nose_down_deg": 1.0}]);
    vehicle["tank"] = json!({"litres": 60, "x_mm": -3000});
    let file: CarFile = serde_json::from_value(sample).expect("an exchange file");
    let solution = solve(&file, &Options::default()).expect("it adjusts");
    let which = Which::Snapshot(&file.snapshots[file.snapshots.len() - 1].id);
    let rules: Vec<Rule> = Rule::ALL.iter().map(|(_, rule)| *rule).collect();

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| {
        turn.iter(|| {
            let car = at_stance(&file, &solution, black_box(which), LoadCase::Nominal, rules.clone());
            findings(&car.expect("a stance"), &[])
        });
    });
    group.bench_function(LOADS, |turn| {
        turn.iter(|| under_loads(&file, &solution, black_box(which), &rules, &[]).expect("a table"));
    });
    group.bench_function(YARDSTICK, |turn| {
        turn.iter(|| solve(black_box(&file), &Options::default()).expect("it adjusts"))
    });
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 1 ×" });
    print(Ratio { group: GROUP, job: LOADS, yardstick: YARDSTICK, goal: "≤ 2 ×" });
    criterion.final_summary();
}

//! Two snapshots against each other, with every difference, the split and what was taken out, against solving them.

use std::hint::black_box;

use criterion::Criterion;
use serde_json::Value;
use trueground_benches::{Ratio, criterion, print};
use trueground_core::capture::CarFile;
use trueground_core::compare::{Load, Stance, compare};
use trueground_core::level::{Options, solve};

const GROUP: &str = "two days of the coupe, ten in the file";
const JOB: &str = "compare";
const YARDSTICK: &str = "level solve of the file";
const COUPE: &str = include_str!("../sample-data/settling-coupe.json");

fn main() {
    let sample: Value = serde_json::from_str(COUPE).expect("a sample");
    let input = sample.get("input").unwrap_or(&sample).clone();
    let file: CarFile = serde_json::from_value(input).expect("an exchange file");
    let solution = solve(&file, &Options::default()).expect("it adjusts");
    let [later, earlier] = [file.snapshots.len() - 1, 1].map(|place| file.snapshots[place].id.as_str());

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| {
        turn.iter(|| {
            let (this, other) = (Stance::Measured(black_box(later)), Stance::Measured(earlier));
            compare(&file, &solution, this, other, Load::Nominal).expect("they have points in common")
        });
    });
    group.bench_function(YARDSTICK, |turn| {
        turn.iter(|| solve(black_box(&file), &Options::default()).expect("it adjusts"))
    });
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 1 ×" });
    criterion.final_summary();
}

//! `trueground weight`: where the weight of a car sits.

use crate::input::FileArguments;
use crate::table::{plus_minus, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::weight::{Weight, WeightAnswer, work_out};

/// Where the weight sits: how far back and how high, and what a slope puts on the rear axle
///
/// FILE is JSON: {"wheelbase_mm", "front_kg", "rear_kg"} from a scale ticket; with "front_with_rear_raised_kg", "rear_raised_mm" and
/// "axle_height_mm" its height too, and "grades_percent": [2, 5, 10], nose up, the rear axle on slopes. Springs blocked, tanks as always; a
/// car that is raised stands on rated stands, never on a jack. Of a car's file "weighed" under "vehicle" is taken.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

fn of_car(vehicle: &Vehicle) -> Result<Weight, Refusal> {
    let weight = Weight::of_car(vehicle);
    bench_sum::described(weight.as_ref(), ["weight", "weighed"], |weight| Ok(weight.clone()))
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, Weight::read, of_car, |weight| Ok(work_out(weight)), words)
}

fn words(_: &Weight, answer: &WeightAnswer) -> String {
    let behind = answer.behind_front_axle_mm;
    let mut out = format!(
        "{} kg, {:.1} % of it in front: {} mm (± {}) behind the front axle.\n",
        whole(answer.total_kg),
        100.0 * answer.front_share,
        whole(behind.value),
        plus_minus(behind.u)
    );
    if let Some(height) = answer.height_mm {
        let _ = writeln!(out, "{} mm (± {}) above the ground.", whole(height.value), plus_minus(height.u));
    }
    for slope in &answer.on_slopes {
        let nose = if slope.grade_percent < 0.0 { "down" } else { "up" };
        let _ = writeln!(
            out,
            "{} % nose {nose}: {:.1} % on the rear axle.",
            slope.grade_percent.abs(),
            100.0 * slope.rear_share
        );
    }
    out
}

//! `trueground radiator`: what a sectioned radiator keeps of its core.

use crate::input::FileArguments;
use crate::{Answer, bench_sum};
use clap::Args;
use trueground_core::bench::Refusal;
use trueground_core::car::{Radiator, Vehicle};
use trueground_core::checks::cooling::{CoreLeft, read, work_out};

/// Cooling area left after height was taken out of a radiator
///
/// FILE is JSON: {"core_height_mm": 500, "core_width_mm": 440, "sectioned_mm": 75}. Of a car's file "radiator" under "vehicle" is taken.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

fn of_car(vehicle: &Vehicle) -> Result<Radiator, Refusal> {
    bench_sum::described(vehicle.radiator.as_ref(), ["radiator", "radiator"], |radiator| Ok(radiator.clone()))
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, read, of_car, |radiator| Ok(work_out(radiator)), words)
}

fn words(_: &Radiator, left: &CoreLeft) -> String {
    format!(
        "{:.0} % of the core is left (± {:.0}): {:.1} of {:.1} dm².\nWhat the engine needs is for its maker to say; look at fan and shroud too.\n",
        left.left_percent,
        (2.0 * left.left_u_percent).max(1.0),
        left.left_mm2 / 10_000.0,
        left.before_mm2 / 10_000.0
    )
}

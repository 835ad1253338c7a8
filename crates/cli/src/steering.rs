//! `trueground steering`: ratio and turns of a steering box with its arms.

use crate::input::FileArguments;
use crate::table::{Column, Table};
use crate::{Answer, bench_sum};
use clap::Args;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::steering_box::{SteeringBox, SteeringTable, Steers, Told, work_out};
use trueground_core::wording::shown;

/// Steering ratio and turns from lock to lock, with other boxes and arms beside
///
/// FILE is JSON: {"box_ratio" or "turns_lock_to_lock" (counted), "pitman_arm_mm", "steering_arm_mm", "wheel_sweep_deg": 62, "beside": [{"label",
/// "box_ratio", "pitman_arm_mm", "steering_arm_mm"}]}. The sweep is one road wheel from lock to lock. Both arms are taken square to the drag link. Of a
/// car's file "steering_box" under "vehicle" is taken.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

fn of_car(vehicle: &Vehicle) -> Result<SteeringBox, Refusal> {
    bench_sum::described(vehicle.steering_box.as_ref(), ["steering box", "steering_box"], SteeringBox::of_car)
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, SteeringBox::read, of_car, |steering| Ok(work_out(steering)), words)
}

fn words(_: &SteeringBox, answer: &SteeringTable) -> String {
    let mut table = Table::new(&[
        (Column::Words, ""),
        (Column::Numbers, "box"),
        (Column::Numbers, "at the wheels"),
        (Column::Numbers, "turns"),
        (Column::Numbers, "±"),
        (Column::Numbers, "pull"),
    ]);
    let one = |told: Told| format!("{:.1}", told.value);
    let mut row = |name: &str, steers: &Steers| {
        let effort = steers.effort.map_or_else(String::new, |part| format!("{:.0} %", 100.0 * part));
        table.row([
            shown(name),
            one(steers.box_ratio),
            one(steers.overall_ratio),
            format!("{:.2}", steers.turns.value),
            format!("{:.2}", 2.0 * steers.turns.u),
            effort,
        ]);
    };
    row("as it is", &answer.now);
    for other in &answer.beside {
        row(other.label.as_deref().unwrap_or_default(), other);
    }
    table.lines() + "Pull at the rim of the steering wheel, against as it is; friction left out.\n"
}

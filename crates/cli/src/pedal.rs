//! `trueground pedal`: ratio, push, pressure and travel of a pedal.

use crate::input::FileArguments;
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::pedal::{Pedal, PedalAnswer, work_out};

/// Pedal ratio, and the push, line pressure and pad travel that follow
///
/// FILE is JSON: {"pad_mm": 300, "rod_mm": 50, "foot_n": 300, "bore_mm": 25.4, "stroke_mm": 20}: from the pivot to the middle of the pad and to
/// the push rod's pin, the foot's push, the master cylinder's bore and the stroke in use; the last three may be left out. Of a car's
/// file "pedal" under "vehicle" is taken.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

fn of_car(vehicle: &Vehicle) -> Result<Pedal, Refusal> {
    bench_sum::described(vehicle.pedal.as_ref(), ["pedal", "pedal"], Pedal::of_car)
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, Pedal::read, of_car, |pedal| Ok(work_out(pedal)), words)
}

fn words(pedal: &Pedal, answer: &PedalAnswer) -> String {
    let mut out = format!("Ratio {:.2} to 1 (± {:.2}).\n", answer.ratio, 2.0 * answer.ratio_u);
    let _ = writeln!(
        out,
        "{:.0} N of the foot make {:.0} N (± {:.0}) at the rod.",
        pedal.foot_n,
        answer.push_n,
        2.0 * answer.push_u_n
    );
    if let Some(mpa) = answer.pressure_mpa {
        // 1 MPa is 145.038 lbf/in².
        let _ = writeln!(out, "{mpa:.2} MPa in the line, {:.0} psi.", mpa * 145.038);
    }
    if let Some(travel) = answer.pad_travel_mm {
        let _ = writeln!(out, "The pad goes {travel:.0} mm for that stroke, free play apart.");
    }
    out.push_str("Brake work belongs to a qualified person.\n");
    out
}

//! `trueground wedge`: the shim or cut for a wanted caster.

use crate::input::FileArguments;
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::wedge::{At, Wedge, WedgeAnswer, work_out};

/// The wedge for a wanted caster: a shim under the spring, or a cut through a wishbone, a rod or an axle
///
/// FILE is JSON: {"caster_deg": 4, "wanted_deg": 7, "pad_mm": 100, "axle": "below_spring" or "above_spring"} for a shim;
/// {"caster_deg", "wanted_deg", "cut_depth_mm": 48, "cut_from_axle_mm", "rod_mm"} for a cut with its point at the far wall. Caster on level
/// ground: square takes the floor's slope out. Of a car's file "wanted_caster" under "vehicle" is taken.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

fn of_car(vehicle: &Vehicle) -> Result<Wedge, Refusal> {
    bench_sum::described(vehicle.wanted_caster.as_ref(), ["wanted caster", "wanted_caster"], Wedge::of_car)
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, Wedge::read, of_car, |wedge| Ok(work_out(wedge)), words)
}

fn words(wedge: &Wedge, answer: &WedgeAnswer) -> String {
    let way = if answer.turn_deg < 0.0 { "less" } else { "more" };
    let size = format!("{:.1} mm (± {:.1})", answer.thickness_mm, 2.0 * answer.thickness_u_mm);
    let mut out = format!("{:.1}° {way} caster (± {:.1}).\n", answer.turn_deg.abs(), 2.0 * answer.turn_u_deg);
    let _ = match wedge.at {
        At::Pad(pad, _) => {
            writeln!(out, "A shim {pad:.0} mm long, {size} at its thick end, thick to the {}.", answer.thick_end)
        }
        At::Cut(depth, _) => {
            writeln!(out, "A wedge of {size} at its base through {depth:.0} mm of depth; the cut {}.", answer.thick_end)
        }
    };
    for caution in &answer.cautions {
        let _ = writeln!(out, "{caution}");
    }
    out
}

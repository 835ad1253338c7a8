//! `trueground bumpsteer`: how far the front wheels steer by themselves over bumps.

use crate::input::FileArguments;
use crate::table::{Column, Table, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;
use trueground_core::checks::bumpsteer::{BumpSteer, Linkage, TurnAnswer, work_out};

/// How far the front wheels steer by themselves over bumps, and the best height of the pitman ball
///
/// FILE is JSON, each place [x, y, z] in mm: {"pitman_ball", "arm_ball", "kingpin": {"point", "axis"}, "hub", "guide", "travel_mm": [-60, 60],
/// "step_mm": 5}. The guide is {"kind": "radius_rod", "pivot"}, {"kind": "parallel"}, {"kind": "leaf", "eye", "radius_mm"} or {"kind":
/// "four_bar", "lower": {"frame": [x, z], "axle": [x, z]}, "upper": {…}}. "turn": {"kingpin_distance_mm", "wheelbase_mm", "arm_mm",
/// "tie_rod_mm", "inner_deg": [10, 20]} adds both wheels in a turn. Of a car's file "steering" under "vehicle" is taken, as its points were
/// measured; check --only bumpsteer has it at a stance.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run_or_of_car(&arguments.input, Linkage::read, of_car, work_out, words)
}

/// The steering as its points were measured.
fn of_car(vehicle: &Vehicle) -> Result<Linkage, Refusal> {
    let Some(steering) = &vehicle.steering else {
        let hint = "Measure its points: in the app under Car, Steering, or as vehicle.steering in the file.";
        return Err(Refusal::new("The car\u{2019}s steering is not described.", hint));
    };
    let placed = |refusal: Refusal| Refusal::new(format!("vehicle.steering: {}", refusal.message), refusal.hint);
    Linkage::of(steering).map_err(placed)
}

fn words(_: &Linkage, answer: &BumpSteer) -> String {
    let mut table =
        Table::new(&[(Column::Numbers, "wheel up mm"), (Column::Numbers, "steers deg"), (Column::Words, "")]);
    for point in &answer.bump_steer_curve {
        table.row([whole(point.travel_mm), format!("{:.2}", point.steer_deg.abs()), side(point.steer_deg).to_owned()]);
    }
    let mut out = table.lines();
    out.push('\n');
    let _ = writeln!(
        out,
        "At most {:.2}°, with the wheel {} mm {}.",
        answer.worst_deg,
        whole(answer.worst_at_travel_mm.abs()),
        if answer.worst_at_travel_mm < 0.0 { "down" } else { "up" }
    );
    let rest = answer.steer_deg_per_mm_at_rest;
    let _ = writeln!(
        out,
        "At rest {:.3}° for each mm up{}.",
        rest.abs(),
        match side(rest) {
            "" => String::new(),
            side => format!(", {side}"),
        }
    );
    let link = answer.drag_link_angle_deg;
    let higher = if link < 0.0 { "lower" } else { "higher" };
    let _ = writeln!(out, "The drag link stands at {:.1}°, its arm end {higher}.", link.abs());
    let best = &answer.best_pitman_ball;
    let (by, way) = (best.raise_mm, if best.raise_mm < 0.0 { "lower" } else { "higher" });
    let _ = writeln!(
        out,
        "Flattest with the pitman ball at {} mm, {} mm {way}: {:.2}° root mean square in the place of {:.2}°. The box goes by as much.",
        whole(best.z_mm),
        whole(by.abs()),
        best.rms_deg,
        best.rms_now_deg
    );
    if let Some(turn) = &answer.turn {
        turns(&mut out, turn);
    }
    out.push_str(
        "\nSteering work belongs to a qualified person. Turn from lock to lock and bump to bump before driving.\n",
    );
    out
}

fn side(deg: f64) -> &'static str {
    match deg {
        _ if deg >= 0.0005 => "left",
        _ if deg <= -0.0005 => "right",
        _ => "",
    }
}

fn turns(out: &mut String, turn: &TurnAnswer) {
    let mut table = Table::new(&[
        (Column::Numbers, "inner wheel deg"),
        (Column::Numbers, "outer deg"),
        (Column::Numbers, "without scrub deg"),
    ]);
    for row in &turn.rows {
        table.row([row.inner_deg, row.outer_deg, row.ackermann_outer_deg].map(|deg| format!("{deg:.1}")));
    }
    let _ = writeln!(
        out,
        "\n{}The arms lean in by {:.1}°; pointing at the middle of the rear axle they would by {:.1}°.",
        table.lines(),
        turn.arm_angle_deg,
        turn.arm_angle_to_rear_axle_deg
    );
}

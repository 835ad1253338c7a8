//! `trueground ramp`: a car driven over a piece of ground.

use crate::input::FileArguments;
use crate::table::{Column, Table, whole};
use crate::{Answer, bench_sum};
use clap::Args;
use std::fmt::Write as _;
use trueground_core::checks::ramp::{Plank, Ramp, RampAnswer, work_out};
use trueground_core::wording::{listed, shown};

/// Where a car touches on a ramp, an apron, a hump or a measured driveway, and what saves it
///
/// FILE is JSON: {"wheelbase_mm", "front_radius_mm", "rear_radius_mm", "points": [{"id", "x_mm", "z_mm", "attach"}], "profile": [[s, z],
/// …]}, with "outline": [[x, z], …] of the body's underside, "step_mm" (5) and "allowance_mm" (25) where wanted. The car faces +s; x is
/// counted from the front axle, positive forward; attach is body, front_axle or rear_axle. In the place of the profile "ground":
/// {"kind": "ramp", "angle_deg", "rise_mm"}, {"kind": "crest", "angle_deg"} or {"kind": "hump", "length_mm", "height_mm", "flat_mm", "shape"}.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    bench_sum::run(&arguments.input, Ramp::read, work_out, words)
}

fn words(ramp: &Ramp, answer: &RampAnswer) -> String {
    let run = &answer.run;
    let (point, at) = (shown(&run.point), whole(run.front_axle_at_mm));
    let mut out = if run.min_gap_mm < 0.0 {
        format!("{point} touches: {} mm into the ground", whole(-run.min_gap_mm))
    } else {
        format!("{point} comes nearest: {} mm over the ground", whole(run.min_gap_mm))
    };
    let _ = writeln!(out, ", with the front axle at {at} mm.");
    if run.touches.is_empty() {
        let _ = writeln!(out, "Everything stays {} mm clear or more.", ramp.allowance_mm);
    } else {
        out.push('\n');
        out.push_str(&touches(answer).lines());
        let _ = writeln!(
            out,
            "Places are those of the front axle; too near is what is missing of {} mm.",
            ramp.allowance_mm
        );
    }
    out.push('\n');
    for (name, angle, point) in [
        ("Approach", answer.approach_deg, &answer.limited_by.approach),
        ("Departure", answer.departure_deg, &answer.limited_by.departure),
        ("Breakover", answer.breakover_deg, &answer.limited_by.breakover),
    ] {
        if let Some((deg, point)) = angle.zip(point.as_ref()) {
            let _ = writeln!(out, "{name} {deg:.1}°, at {}.", shown(point));
        }
    }
    inverse(&mut out, ramp, answer);
    if run.positions_skipped > 0 {
        let _ = writeln!(
            out,
            "In {} of {} positions a part of the car was beyond the ground, and is not looked at there.",
            run.positions_skipped, run.positions
        );
    }
    out.push_str("The car stands still at each place: leave room for bounce and load.\n");
    out
}

fn touches(answer: &RampAnswer) -> Table {
    let mut table = Table::new(&[
        (Column::Words, "point"),
        (Column::Numbers, "from mm"),
        (Column::Numbers, "to mm"),
        (Column::Numbers, "too near mm"),
        (Column::Words, ""),
    ]);
    for touch in &answer.run.touches {
        table.row([
            shown(&touch.point),
            whole(touch.from_mm),
            whole(touch.to_mm),
            whole(touch.deepest_mm),
            if touch.contact { "touches" } else { "" }.to_owned(),
        ]);
    }
    table
}

fn inverse(out: &mut String, ramp: &Ramp, answer: &RampAnswer) {
    if let Some(lowest) = &answer.lowest_safe {
        let (by, then) = (lowest.raise_mm, whole(lowest.lowest_body_mm));
        let point = shown(&lowest.point);
        if by > 0.0 {
            let _ = writeln!(
                out,
                "For this ground the body must stand {} mm higher, its lowest point at {then} mm ({point} decides).",
                whole(by.ceil())
            );
        } else {
            let _ = writeln!(
                out,
                "For this ground the body may come down by {} mm, its lowest point to {then} mm ({point} decides).",
                whole((-by).floor())
            );
        }
        if !lowest.axle_points.is_empty() {
            let _ = writeln!(
                out,
                "On the axles {} comes nearer than {} mm: only larger tires help there.",
                listed(&lowest.axle_points),
                ramp.allowance_mm
            );
        }
    }
    match answer.plank {
        Some(Plank::Saves { length_mm, from_mm, to_mm }) => {
            let _ = writeln!(
                out,
                "A stiff plank of {} mm, laid from {} to {} mm under each wheel line, saves it. Wider than the tire, and tied so that it cannot slip.",
                whole(length_mm),
                whole(from_mm),
                whole(to_mm)
            );
        }
        Some(Plank::None { longest_tried_mm }) => {
            let _ = writeln!(out, "No single plank up to {} mm saves it.", whole(longest_tried_mm));
        }
        None => {}
    }
}

//! `trueground ramp`: a car driven over a piece of ground.

mod on_ground;

use crate::Answer;
use crate::car_file::is_series as is_no_car;
use crate::output::{Problem, json};
use crate::table::{Column, Table, whole};
use crate::target_choice::FileAndTarget;
use clap::Args;
use clap::builder::PossibleValuesParser;
use std::fmt::Write as _;
use trueground_core::checks::LoadCase;
use trueground_core::checks::ramp::{Plank, Ramp, RampAnswer, work_out};
use trueground_core::wording::{listed, shown};

/// Where a car touches on a ramp, an apron, a hump or a measured driveway, and what saves it
///
/// FILE is JSON: {"wheelbase_mm", "front_radius_mm", "rear_radius_mm", "points": [{"id", "x_mm", "z_mm", "attach"}], "profile": [[s, z],
/// …]}, with "outline": [[x, z], …] of the body's underside, "step_mm" (5) and "allowance_mm" (25) where wanted. The car faces +s; x is
/// counted from the front axle, positive forward; attach is body, front_axle or rear_axle. In the place of the profile "ground":
/// {"kind": "ramp", "angle_deg", "rise_mm"}, {"kind": "crest", "angle_deg"} or {"kind": "hump", "length_mm", "height_mm", "flat_mm", "shape"}.
///
/// Or FILE is a car's exchange file, and --ground names one of its "grounds": the last snapshot is driven over it unless another or a
/// target is named, nose first and backed in, with the doubt of car and ground carried to the gap.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileAndTarget,
    /// The ground in a car's file to drive over
    #[arg(long, value_name = "NAME")]
    ground: Option<String>,
    /// The snapshot that is driven over it
    #[arg(long, value_name = "ID", conflicts_with = "target")]
    snapshot: Option<String>,
    /// What is aboard of a car
    #[arg(long, value_name = "NAME", default_value = "nominal", value_parser = PossibleValuesParser::new(LoadCase::ALL.map(|(name, _)| name)))]
    load: String,
}

impl Arguments {
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        self.input.check("ramp")
    }
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let file = arguments.input.input()?;
    let text = file.read()?;
    let load =
        LoadCase::ALL.iter().find(|(name, _)| *name == arguments.load).map_or(LoadCase::Nominal, |(_, load)| *load);
    let (snapshot, input) = (arguments.snapshot.as_deref(), &arguments.input);
    match &arguments.ground {
        Some(ground) => on_ground::run(&on_ground::Asked { text: &text, file: &file, input, ground, snapshot, load }),
        None if is_no_car(&text) => {
            let refused = |refusal| Problem::from(refusal).at(&file.name());
            let ramp = Ramp::read(&text).map_err(refused)?;
            let answer = work_out(&ramp).map_err(refused)?;
            if input.json { json(&answer) } else { Ok(words(&ramp, &answer)) }
        }
        None => Err(on_ground::which(&text).at(&file.name())),
    }
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
    inverse(&mut out, ramp.allowance_mm, answer);
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

fn inverse(out: &mut String, kept_mm: f64, answer: &RampAnswer) {
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
                kept_mm
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

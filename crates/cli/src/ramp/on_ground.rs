//! A car's stance driven over a ground that its file keeps.

use super::{inverse, touches};
use crate::car_file::of;
use crate::output::{Problem, json};
use crate::stance_choice::{at, refused};
use crate::table::whole;
use crate::target_choice::FileAndTarget;
use crate::{Answer, input::InputFile};
use serde::Serialize;
use std::fmt::Write as _;
use trueground_core::checks::over_ground::{Drive, Facing, OverGround, drive};
use trueground_core::checks::ramp::{RampAnswer, work_out};
use trueground_core::checks::{AtStance, LoadCase, Verdict};
use trueground_core::ground::OwnGround;
use trueground_core::wording::{listed, shown};

/// What was asked of a car's file.
#[derive(Debug)]
pub(super) struct Asked<'a> {
    pub(super) text: &'a str,
    pub(super) file: &'a InputFile,
    pub(super) input: &'a FileAndTarget,
    pub(super) ground: &'a str,
    pub(super) snapshot: Option<&'a str>,
    pub(super) load: LoadCase,
}

/// One way onto the ground, as JSON.
#[derive(Serialize)]
struct Way<'a> {
    facing: Facing,
    gap_mm: Measured,
    car_u_mm: f64,
    ground_u_mm: f64,
    point: &'a str,
    verdict: Verdict,
    front_axle_at_mm: f64,
    beyond_measured: bool,
    #[serde(flatten)]
    answer: RampAnswer,
}

#[derive(Serialize)]
struct Measured {
    value: f64,
    u: f64,
    known: &'static str,
}

#[derive(Serialize)]
struct Reply<'a> {
    ground: &'a str,
    predicted: bool,
    ways: Vec<Way<'a>>,
}

pub(super) fn run(asked: &Asked<'_>) -> Answer {
    let at_file = |problem: Problem| problem.at(&asked.file.name());
    let file = of(asked.text).map_err(at_file)?;
    let ground = OwnGround::named(&file, asked.ground).map_err(|e| at_file(refused(e)))?;
    at(&file, asked.input, asked.snapshot, asked.load, Vec::new(), |car, predicted| {
        answer(asked, car, ground, predicted)
    })
    .map_err(at_file)
}

/// Which ground is meant: none was named.
pub(super) fn which(text: &str) -> Problem {
    let file = match of(text) {
        Ok(file) => file,
        Err(problem) => return problem,
    };
    let known: Vec<&str> = OwnGround::offered(&file).map(OwnGround::called).collect();
    let hint = match known[..] {
        [] => "Measure one in the app, or add \"grounds\" to the file; then name it: --ground NAME.".to_owned(),
        _ => format!("Name one of them: --ground {}.", listed(&known)),
    };
    Problem::new("This is a car: over which ground?", hint)
}

fn answer(asked: &Asked<'_>, car: &AtStance<'_>, ground: &OwnGround, predicted: bool) -> Answer {
    let mut both = Vec::new();
    for facing in Facing::ALL {
        let drive = drive(car, ground, facing).map_err(refused)?;
        let over = drive.over().map_err(refused)?;
        let mut answer = work_out(&drive.ramp).map_err(Problem::from)?;
        counted_on_ground(&drive, &mut answer);
        both.push((drive, over, answer));
    }
    if asked.input.json {
        let ways = both.iter().map(|(drive, over, answer)| Way {
            facing: drive.facing,
            gap_mm: Measured {
                value: over.gap.value,
                u: over.gap.u,
                known: if predicted || over.beyond_measured { "assumed" } else { "measured" },
            },
            car_u_mm: over.car_u_mm,
            ground_u_mm: over.ground_u_mm,
            point: drive.called(&over.run.point),
            verdict: over.verdict,
            front_axle_at_mm: over.front_axle_at_mm,
            beyond_measured: over.beyond_measured,
            answer: answer.clone(),
        });
        return json(&Reply { ground: ground.called(), predicted, ways: ways.collect() });
    }
    let mut out = String::new();
    if predicted {
        out.push_str("Predicted for the target, not measured.\n\n");
    }
    for (drive, over, answer) in &both {
        words(&mut out, ground, drive, over, answer);
    }
    out.push_str("Backing out the same way it touches at the same places. The car stands still at each: leave room for bounce and load.\n");
    Ok(out)
}

/// The outline is the frame rail here, and places are counted as the ground is driven in.
fn counted_on_ground(drive: &Drive<'_>, answer: &mut RampAnswer) {
    let name = |name: &mut String| *name = drive.called(name).to_owned();
    name(&mut answer.run.point);
    answer.run.front_axle_at_mm = drive.on_ground(answer.run.front_axle_at_mm);
    for touch in &mut answer.run.touches {
        name(&mut touch.point);
        (touch.from_mm, touch.to_mm) = (drive.on_ground(touch.from_mm), drive.on_ground(touch.to_mm));
    }
    let limits = &mut answer.limited_by;
    [&mut limits.approach, &mut limits.departure, &mut limits.breakover].into_iter().flatten().for_each(name);
    if let Some(lowest) = &mut answer.lowest_safe {
        name(&mut lowest.point);
    }
    if let Some(trueground_core::checks::ramp::Plank::Saves { from_mm, to_mm, .. }) = &mut answer.plank {
        let ends = [*from_mm, *to_mm].map(|s| drive.on_ground(s));
        (*from_mm, *to_mm) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    }
}

fn words(out: &mut String, ground: &OwnGround, drive: &Drive<'_>, over: &OverGround, answer: &RampAnswer) {
    let (gap, band) = (over.gap.value, whole((2.0 * over.gap.u).max(1.0)));
    let (point, words) = (shown(drive.called(&over.run.point)), ground.words());
    let from = ground.counted_from();
    let at = match over.front_axle_at_mm {
        at if at < 0.0 => format!("{} mm before {from}", whole(-at)),
        at => format!("{} mm past {from}", whole(at)),
    };
    let how = if gap < 0.0 {
        format!("{} mm into the ground", whole(-gap))
    } else {
        format!("{} mm over the ground", whole(gap))
    };
    let said = match over.verdict {
        Verdict::Touches => "touches",
        Verdict::Clears => "clears",
        _ => "can't tell",
    };
    let facing = drive.facing.words();
    let _ = writeln!(out, "On {words}, {facing}: {said}.");
    let _ = writeln!(out, "{point} is {how}, ±{band}, with the front axle {at}.");
    let _ = writeln!(
        out,
        "Of that ±{} comes from the car and ±{} from the ground{}.",
        whole(2.0 * over.car_u_mm),
        whole(2.0 * over.ground_u_mm),
        if over.beyond_measured { ", which is taken to go straight on beyond its stations" } else { "" }
    );
    if answer.run.touches.is_empty() {
        let _ = writeln!(out, "Everything stays {} mm clear or more.", drive.ramp.allowance_mm);
    } else {
        let _ = write!(out, "\n{}", touches(answer).lines());
        let _ = writeln!(
            out,
            "Places are those of the front axle; too near is what is missing of {} mm.",
            drive.ramp.allowance_mm
        );
    }
    inverse(out, drive.ramp.allowance_mm, answer);
    out.push('\n');
}

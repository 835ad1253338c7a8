//! `trueground fit`: the wheels in their openings, and others in their place.

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use clap::Args;
use serde::Serialize;
use std::fmt::Write as _;
use trueground_core::car::{OtherWheel, Vehicle};
use trueground_core::checks::Verdict;
use trueground_core::checks::fitment::{GapBasis, GapIn, InOpening, Standing, WheelState, in_opening};
use trueground_core::corner::Corner;
use trueground_core::uncertainty::Quantity;
use trueground_core::validate::vehicle_faults;
use trueground_core::wording::{listed, shown};

/// The wheels in their openings: what another wheel and tire touches first, at rest, at full bump, at full lock, at both
///
/// FILE is a car's exchange file with, under "vehicle", "tires" and "fitment": {"wheels": {"FL": {"rim_width_mm", "offset_mm" or
/// "backspacing_mm", "section_width_mm", "max_load_kg", "gaps": {"fender_outer": {"at_rest_mm", "at_bump_mm", "at_lock_mm", "height_mm",
/// "along_mm", "u_mm"}}}}, "steer": {"lock_inner_deg", "lock_outer_deg", "kingpin_to_face_mm" or "scrub_radius_mm", "kingpin_lean_deg"},
/// "others": [{"label", "axle": "front", "marking": "205/55R16 91V", "rim_width_mm", "offset_mm", "spacer_mm"}]}. Gaps are to fender_outer,
/// fender_inner, frame, spring, rod, shock, ahead, behind and above, from the tire's widest part. Full bump needs "travel": {"front":
/// {"frame_gap_mm", "stop_gap_mm"}} or a measured at_bump_mm. A gap that clears does not make a wheel or a spacer approved.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
    /// Only this wheel: FL, FR, RL or RR
    #[arg(long, value_name = "CORNER")]
    wheel: Option<String>,
    /// Only this other wheel, by its label
    #[arg(long, value_name = "LABEL")]
    other: Option<String>,
}

/// A number of the answer.
#[derive(Serialize)]
struct Told {
    value: f64,
    u: f64,
}

impl From<Quantity> for Told {
    fn from(quantity: Quantity) -> Self {
        Self { value: quantity.value, u: quantity.u }
    }
}

#[derive(Serialize)]
struct Row {
    place: &'static str,
    state: WheelState,
    basis: GapBasis,
    now_mm: Told,
    #[serde(skip_serializing_if = "Option::is_none")]
    then_mm: Option<Told>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<Verdict>,
    #[serde(skip_serializing_if = "Option::is_none")]
    touches_from_deg: Option<f64>,
}

#[derive(Serialize)]
struct Wheel {
    wheel: Corner,
    #[serde(skip_serializing_if = "Option::is_none")]
    other: Option<String>,
    section_width_mm: Told,
    free_radius_mm: Told,
    #[serde(skip_serializing_if = "Option::is_none")]
    outer_edge_moves_mm: Option<Told>,
    #[serde(skip_serializing_if = "Option::is_none")]
    inner_edge_moves_mm: Option<Told>,
    #[serde(skip_serializing_if = "Option::is_none")]
    scrub_radius_mm: Option<Told>,
    #[serde(skip_serializing_if = "Option::is_none")]
    behind_middle_mm: Option<Told>,
    gaps: Vec<Row>,
    #[serde(skip_serializing_if = "Option::is_none")]
    first: Option<String>,
}

#[derive(Serialize)]
struct Wheels {
    wheels: Vec<Wheel>,
    caution: &'static str,
}

const CAUTION: &str = "A gap that clears does not make a wheel or a spacer approved.";

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let name = arguments.input.file.name();
    let vehicle = read(&arguments.input.file)?.vehicle;
    let found = openings(arguments, &vehicle).map_err(|problem| problem.at(&name))?;
    if arguments.input.json {
        let wheels = found.iter().map(|(found, other)| wheel(found, *other)).collect();
        return json(&Wheels { wheels, caution: CAUTION });
    }
    let mut out = String::new();
    for (found, other) in &found {
        words(&mut out, found, *other);
    }
    let _ = writeln!(out, "{CAUTION}");
    Ok(out)
}

type Opening<'v> = (InOpening, Option<&'v OtherWheel>);

fn openings<'v>(arguments: &Arguments, vehicle: &'v Vehicle) -> Result<Vec<Opening<'v>>, Problem> {
    if let Some(fault) = vehicle_faults(vehicle).into_iter().next() {
        return Err(Problem::new(format!("{fault}."), sentence(&fault.hint)));
    }
    let Some(fitment) = vehicle.fitment.as_ref().filter(|fitment| !fitment.wheels.is_empty()) else {
        let hint = "Add \"fitment\": {\"wheels\": {\"FL\": {\"rim_width_mm\": 152, \"offset_mm\": 20, \"gaps\": {\"fender_outer\": {\"at_rest_mm\": 24}}}}}.";
        return Err(Problem::new("vehicle.fitment has no wheel: no gap was measured.", hint));
    };
    let corner = match &arguments.wheel {
        None => None,
        Some(typed) => Some(
            Corner::from_code(typed)
                .ok_or_else(|| Problem::new(format!("{} is no wheel.", shown(typed)), "Name FL, FR, RL or RR."))?,
        ),
    };
    let labels: Vec<&str> = fitment.others.iter().map(|other| other.label.as_str()).collect();
    if let Some(label) = &arguments.other
        && !labels.contains(&label.as_str())
    {
        return Err(Problem::new(
            format!("There is no other wheel {}.", shown(label)),
            format!("Name one of them: {}.", listed(&labels)),
        ));
    }
    let others: Vec<&OtherWheel> = fitment
        .others
        .iter()
        .filter(|other| arguments.other.as_ref().is_none_or(|label| other.label == *label))
        .collect();
    let mut found = Vec::new();
    for (at, _) in fitment.wheels.iter().filter(|(at, _)| corner.is_none_or(|corner| corner == **at)) {
        let mut any = false;
        for other in others.iter().filter(|other| other.is_for(*at)) {
            any = true;
            found.extend(
                in_opening(vehicle, *at, Some(*other), &Standing::AS_MEASURED).map(|found| (found, Some(*other))),
            );
        }
        if !any {
            found.extend(in_opening(vehicle, *at, None, &Standing::AS_MEASURED).map(|found| (found, None)));
        }
    }
    if found.is_empty() {
        let message = match corner {
            Some(corner) if !fitment.wheels.contains_key(&corner) => format!("vehicle.fitment.wheels has no {corner}."),
            _ => "No wheel can be worked out: the car has no tires, or their width is not in their marking.".to_owned(),
        };
        return Err(Problem::new(
            message,
            "Add vehicle.tires for all four corners, and section_width_mm where the marking has no width.",
        ));
    }
    Ok(found)
}

fn wheel(found: &InOpening, other: Option<&OtherWheel>) -> Wheel {
    let size = found.other.as_ref().unwrap_or(&found.now);
    let gaps = found.gaps.iter().map(|gap| Row {
        place: gap.place.code(),
        state: gap.state,
        basis: gap.basis,
        now_mm: gap.now.into(),
        then_mm: gap.then.map(Told::from),
        verdict: gap.verdict(other.is_some()),
        touches_from_deg: gap.from_deg.map(|[from, _]| from),
    });
    let scrub = found.scrub.and_then(|(now, then)| if other.is_some() { then } else { Some(now) });
    Wheel {
        wheel: found.corner,
        other: other.map(|other| other.label.clone()),
        section_width_mm: size.section_width.into(),
        free_radius_mm: size.free_radius.into(),
        outer_edge_moves_mm: found.edges.map(|[outer, _]| outer.into()),
        inner_edge_moves_mm: found.edges.map(|[_, inner]| inner.into()),
        scrub_radius_mm: scrub.map(Told::from),
        behind_middle_mm: found.behind_middle.map(Told::from),
        gaps: gaps.collect(),
        first: found.first(other.is_some()).map(first_words),
    }
}

fn first_words(gap: &GapIn) -> String {
    format!("{}, {}", gap.place.words(), gap.state.words())
}

fn words(out: &mut String, found: &InOpening, other: Option<&OtherWheel>) {
    let with = other.map_or_else(String::new, |other| format!(", {}", shown(&other.label)));
    let _ = writeln!(out, "{}{with}", found.corner.words());
    if let Some([outer, inner]) = found.edges {
        let way = |q: Quantity, out: &str, back: &str| {
            format!("{} mm {} (± {})", whole(q.value.abs()), if q.value < 0.0 { back } else { out }, plus_minus(q.u))
        };
        let _ = writeln!(
            out,
            "Outer edge {}, inner edge {}.",
            way(outer, "farther out", "farther in"),
            way(inner, "farther in", "farther out")
        );
    } else if other.is_some() {
        out.push_str(
            "Sideways nothing can be told: rim width with offset or backspacing is missing for one of the two.\n",
        );
    }
    let mut table = Table::new(&[
        (Column::Words, ""),
        (Column::Words, ""),
        (Column::Words, ""),
        (Column::Numbers, "mm"),
        (Column::Numbers, "±"),
        (Column::Numbers, "now"),
        (Column::Words, ""),
    ]);
    for gap in &found.gaps {
        let told = gap.told(other.is_some());
        let from = gap.from_deg.map_or_else(String::new, |[from, lock]| format!("from {from:.0}° of {lock:.0}° on"));
        let least = match (gap.basis, gap.state) {
            (GapBasis::AtLeast, WheelState::FullLockAndBump) => "or more: a bound",
            (GapBasis::AtLeast, _) => "or more: no height given",
            _ => "",
        };
        table.row([
            gap.verdict(other.is_some()).map_or("can't tell", Verdict::words).to_owned(),
            gap.place.words().to_owned(),
            gap.state.words().to_owned(),
            told.map_or_else(|| "?".to_owned(), |told| whole(told.value)),
            told.map_or_else(String::new, |told| plus_minus(told.u)),
            whole(gap.now.value),
            if from.is_empty() { least.to_owned() } else { from },
        ]);
    }
    out.push_str(&table.lines());
    if let Some(first) = found.first(other.is_some()) {
        let _ = writeln!(out, "Nearest: {}.", first_words(first));
    }
    if let Some((now, then)) = found.scrub {
        let then = then.map_or_else(String::new, |then| format!(", with the other {} mm", whole(then.value)));
        let _ = writeln!(out, "Scrub radius {} mm{then}.", whole(now.value));
    }
    out.push('\n');
}

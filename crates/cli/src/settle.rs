//! `trueground settle`: whether the springs have stopped settling, from a car's snapshots or from a bare series of heights.

mod drift;

use crate::Answer;
use crate::car_file::{self, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use crate::table::{Column, Table, plus_minus, whole};
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::fmt::Write as _;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{
    Drift, End, Law, LineSettling, Model, Series, Settled, Settling, drifts_of_car, settle, settle_car,
};
use trueground_core::wording::shown;

/// Whether the springs have settled, and how far the car will still come down
///
/// FILE is a car's exchange file, or {"series": [{"day", "height_mm", "u_mm"}], "events": [{"day", "what",
/// "resets_settling"}]}. Day 0 is the last event that resets settling; of a series without one, its own day 0.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
    /// Law of settling
    #[arg(long, value_enum, default_value_t = Asked::Best)]
    model: Asked,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Asked {
    /// Fast at first, then ever slower, to a rest
    Exponential,
    /// Ever slower, without end; the rest is that of day 365
    Logarithmic,
    /// The one that fits better; a tie goes to the exponential
    Best,
}

impl From<Asked> for Model {
    fn from(asked: Asked) -> Self {
        match asked {
            Asked::Exponential => Self::Law(Law::Exponential),
            Asked::Logarithmic => Self::Law(Law::Logarithmic),
            Asked::Best => Self::Best,
        }
    }
}

/// The answer of a car as JSON.
#[derive(Serialize)]
struct Lines<'l> {
    lines: &'l [LineSettling],
    drift: &'l [Drift],
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let (file, model) = (&arguments.input.file, Model::from(arguments.model));
    let text = file.read()?;
    let at = |problem: Problem| problem.at(&file.name());
    if car_file::is_series(&text) {
        let series = Series::read(&text).map_err(|refusal| at(refusal.into()))?;
        let settling = settle(&series, model).map_err(|refusal| at(refusal.into()))?;
        return if arguments.input.json { json(&settling) } else { Ok(words(&settling)) };
    }
    let car = car_file::of(&text).map_err(at)?;
    let solution =
        solve(&car, &Options::default()).map_err(|e| at(Problem::new(sentence(e.message()), sentence(e.hint()))))?;
    let lines = settle_car(&car, &solution, model).map_err(|refusal| at(refusal.into()))?;
    let drift = drifts_of_car(&car, &solution, &lines).map_err(|refusal| at(refusal.into()))?;
    if arguments.input.json {
        return json(&Lines { lines: &lines, drift: &drift });
    }
    let mut out = format!("{}\n", shown(&car.vehicle.label));
    if lines.is_empty() {
        out.push_str("No snapshot since the work on the springs. Measure on days 0, 3, 7 and 14 after it.\n");
    }
    for line in &lines {
        let end = if line.end == End::Front { "front" } else { "rear" };
        let _ = write!(out, "\n{}, {end}, since {}\n{}", line.kind.words(), line.day_0, table(line));
        out.push_str(&words(&line.settling));
    }
    out.push_str(&drift::words(&drift));
    out.push_str("\n± is two standard uncertainties: 95 in 100 lie within it.\n");
    Ok(out)
}

fn table(line: &LineSettling) -> String {
    let head = [
        (Column::Numbers, "day"),
        (Column::Words, "date"),
        (Column::Numbers, "height mm"),
        (Column::Numbers, "±"),
        (Column::Words, ""),
    ];
    let mut table = Table::new(&head);
    for height in &line.heights {
        let taken_out = height.taken_out_mm.round();
        let note = match taken_out {
            0.0 => String::new(),
            _ => format!("{} mm of load and pressure taken out", whole(-taken_out)),
        };
        table.row([whole(height.day), height.date.clone(), whole(height.height_mm), plus_minus(height.u_mm), note]);
    }
    table.lines()
}

fn words(settling: &Settling) -> String {
    let (Some(rest), Some(remaining)) = (settling.final_height_mm, settling.remaining_mm) else {
        return "Too early to say: five days of reading are needed at least.\n".to_owned();
    };
    let law = match settling.model {
        Some(Law::Logarithmic) => "slows down without end (logarithm)",
        _ => "comes to rest (exponential)",
    };
    let band =
        |figure: trueground_core::trend::SettleFigure| format!("{} ± {} mm", whole(figure.value), plus_minus(figure.u));
    let mut out = match (settling.verdict, settling.settled_on_day) {
        (Settled::TooEarly, _) => "Too early to say. Measure again in a week or two.\n".to_owned(),
        (Settled::Settled, Some(day)) => format!("Settled since day {}.\n", whole(day)),
        (_, Some(day)) => format!("Still settling; less than 2 mm to come from about day {}.\n", whole(day)),
        (_, None) => "Still settling.\n".to_owned(),
    };
    let _ = writeln!(out, "It {law} at {}; {} to come.", band(rest), band(remaining));
    if let Some(horizon) = settling.horizon_day {
        let _ = writeln!(out, "The logarithm has no end: its rest is taken on day {}.", whole(horizon));
    }
    if let Some(other) = settling.other {
        let name = if other.model == Law::Exponential { "exponential" } else { "logarithm" };
        let how = if other.delta_aicc.abs() < 2.0 { "fits as well" } else { "fits less well" };
        let _ = writeln!(out, "The {name} {how} (AICc {:+.1}).", other.delta_aicc);
    }
    for height in &settling.doubtful {
        let what = if height.used {
            "is far off the curve. Read that day's snapshot again."
        } else {
            "does not fit the other days and was left out."
        };
        let _ = writeln!(out, "Day {}: {} mm {what}", whole(height.day), whole(height.height_mm));
    }
    out
}

//! `trueground settle`: whether the springs have stopped settling, from a car's snapshots or from a bare series of heights.

mod ahead;
mod drift;
mod line;
mod said;

use crate::Answer;
use crate::car_file::{self, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use clap::{Args, ValueEnum};
use serde::Serialize;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{
    Drift, Law, LineSettling, Model, NextDate, Series, drifts_of_car, next_date_of_car, settle, settle_car,
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
    /// Also say how the car will stand on this day, YYYY-MM-DD, point by point
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The day on which it is asked, YYYY-MM-DD; the next useful date to measure is not before it [default: today]
    #[arg(long, value_name = "DATE")]
    today: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Asked {
    /// Fast at first, then ever slower, to a rest
    Exponential,
    /// Ever slower, without end; the rest is that of day 365
    Logarithmic,
    /// Both, where many days carry it
    Both,
    /// The one that fits better; a tie goes to the exponential
    Best,
}

impl From<Asked> for Model {
    fn from(asked: Asked) -> Self {
        match asked {
            Asked::Exponential => Self::Law(Law::Exponential),
            Asked::Logarithmic => Self::Law(Law::Logarithmic),
            Asked::Both => Self::Law(Law::Both),
            Asked::Best => Self::Best,
        }
    }
}

/// The answer of a car as JSON.
#[derive(Serialize)]
struct Lines<'l> {
    lines: &'l [LineSettling],
    drift: &'l [Drift],
    next: Option<&'l NextDate>,
    #[serde(skip_serializing_if = "Option::is_none")]
    forecast: Option<&'l ahead::Heights>,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let (file, model) = (&arguments.input.file, Model::from(arguments.model));
    let text = file.read()?;
    let at = |problem: Problem| problem.at(&file.name());
    if car_file::is_series(&text) {
        let series = Series::read(&text).map_err(|refusal| at(refusal.into()))?;
        let settling = settle(&series, model).map_err(|refusal| at(refusal.into()))?;
        return if arguments.input.json { json(&settling) } else { Ok(said::words(&settling)) };
    }
    let car = car_file::of(&text).map_err(at)?;
    let solution =
        solve(&car, &Options::default()).map_err(|e| at(Problem::new(sentence(e.message()), sentence(e.hint()))))?;
    let lines = settle_car(&car, &solution, model).map_err(|refusal| at(refusal.into()))?;
    let drift = drifts_of_car(&car, &solution, &lines).map_err(|refusal| at(refusal.into()))?;
    let today = arguments.today.clone().unwrap_or_else(ahead::today);
    let next = next_date_of_car(&lines, &today).map_err(|refusal| at(refusal.into()))?;
    let forecast = match &arguments.on {
        Some(date) => Some(ahead::Heights::on(&car, &solution, date).map_err(at)?),
        None => None,
    };
    if arguments.input.json {
        return json(&Lines { lines: &lines, drift: &drift, next: next.as_ref(), forecast: forecast.as_ref() });
    }
    let mut out = format!("{}\n", shown(&car.vehicle.label));
    if lines.is_empty() {
        out.push_str("No snapshot since the work on the springs. Measure on days 0, 3, 7 and 14 after it.\n");
    }
    for line in &lines {
        out.push('\n');
        out.push_str(&line::words(line));
    }
    if let Some(forecast) = &forecast {
        out.push_str(&forecast.words());
    }
    out.push_str(&drift::words(&drift));
    out.push_str(&next.as_ref().map_or_else(String::new, ahead::next));
    out.push_str("\n± is two standard uncertainties: 95 in 100 lie within it.\n");
    Ok(out)
}

//! What is to come: the next useful date to measure, and how the car will stand on a day.

use crate::car_file::sentence;
use crate::output::Problem;
use crate::table::{Column, Table, plus_minus, whole};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::time::SystemTime;
use trueground_core::capture::{CarFile, day_after};
use trueground_core::compare::{Forecast, SplitFigure};
use trueground_core::level::Solution;
use trueground_core::stance::Figure;
use trueground_core::trend::{Brings, End, NextDate};
use trueground_core::wording::shown;

const SECONDS_A_DAY: u64 = 86_400;

/// Today by the clock (UTC).
pub(super) fn today() -> String {
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap_or_default();
    let days = i64::try_from(since.as_secs() / SECONDS_A_DAY).unwrap_or_default();
    day_after("1970-01-01", days).unwrap_or_default()
}

/// "Measure next on 2031-06-20: the first verdict of the rear (fender lip)."
pub(super) fn next(next: &NextDate) -> String {
    let what = match next.brings {
        Brings::OneDayMore => "one day more of those that a curve needs",
        Brings::Verdict => "the first day that can tell where it ends",
        Brings::Settled => "the first day that can tell that it has settled",
        Brings::SurerRest => "no verdict yet, but the surest rest of the days to come",
    };
    let end = if next.end == End::Front { "front" } else { "rear" };
    let mut out = format!("\nMeasure next on {}: {what} ({}, {end}).\n", next.date, next.kind.words());
    if let (Some(now), Some(then)) = (next.rest_u_now_mm, next.rest_u_then_mm) {
        let _ = writeln!(out, "Its rest is known to ± {} mm, then to ± {} mm.", plus_minus(now), plus_minus(then));
    }
    out
}

/// A car on a day to come.
#[derive(Debug, Serialize)]
pub(super) struct Heights {
    date: String,
    /// The snapshot it sets out from.
    snapshot: String,
    front_mean_mm: SplitFigure,
    rear_mean_mm: SplitFigure,
    heights: BTreeMap<String, Figure>,
}

impl Heights {
    pub(super) fn on(car: &CarFile, solution: &Solution, date: &str) -> Result<Self, Problem> {
        let forecast = Forecast::on(car, solution, date)
            .map_err(|problem| Problem::new(sentence(problem.message()), sentence(problem.hint())))?;
        Ok(Self {
            date: date.to_owned(),
            heights: forecast.heights(car, solution),
            snapshot: forecast.snapshot,
            front_mean_mm: forecast.front_mm,
            rear_mean_mm: forecast.rear_mm,
        })
    }

    pub(super) fn words(&self) -> String {
        let head = [(Column::Words, "point"), (Column::Numbers, "height mm"), (Column::Numbers, "±")];
        let mut table = Table::new(&head);
        for (point, figure) in &self.heights {
            let (value, band) = match figure.value.zip(figure.u) {
                Some((value, u)) => (whole(value), plus_minus(u)),
                None => ("can't tell".to_owned(), String::new()),
            };
            table.row([shown(point), value, band]);
        }
        format!("\nForecast for {}, from snapshot {}\n{}", shown(&self.date), shown(&self.snapshot), table.lines())
    }
}

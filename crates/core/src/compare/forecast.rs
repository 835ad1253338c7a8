//! Where a car's settling will end, or stand on a day to come, as a stance: its last snapshot, front and rear gone on their way.

use super::stance::{Quantity, SplitFigure, Stance, Sum};
use crate::capture::{CarFile, days_between};
use crate::car::{PointKind, RefPoint};
use crate::level::{Problem, Solution};
use crate::stance::Figure;
use crate::trend::{End, LineSettling, Model, SettleFigure, Settled, settle_car};
use crate::wording::shown;
use std::collections::BTreeMap;

/// The stance a car will come to rest in. Every point goes with the line through the two means; left less right stays as it is.
///
/// The rest's doubt counts as independent of the snapshot's. They share the tape's zero and the floor, so that ± is a little too
/// wide, never too narrow.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// The day it is for, `YYYY-MM-DD`; absent: where the settling ends.
    pub date: Option<String>,
    /// The snapshot it sets out from.
    pub snapshot: String,
    /// The kind of point whose settling it is.
    pub kind: PointKind,
    /// Where that kind's front marks lie, mean of x, mm.
    pub front_x_mm: f64,
    /// The same behind; less than in front.
    pub rear_x_mm: f64,
    /// The front mean's height then, mm.
    pub front_mm: SplitFigure,
    /// The rear mean's, mm.
    pub rear_mm: SplitFigure,
}

impl Forecast {
    /// Where the settling of a car's file will end, by the kind of point that is surest; a frame's before a fender's where both are alike.
    ///
    /// # Errors
    /// Nothing settles, or it is too early to say.
    pub fn of(file: &CarFile, solution: &Solution) -> Result<Self, Problem> {
        Self::at(file, solution, None)
    }

    /// Where it will stand on a day, `YYYY-MM-DD`, not before the last snapshot.
    ///
    /// # Errors
    /// As [`Self::of`]; or no day, or one that has been.
    pub fn on(file: &CarFile, solution: &Solution, date: &str) -> Result<Self, Problem> {
        Self::at(file, solution, Some(date))
    }

    fn at(file: &CarFile, solution: &Solution, date: Option<&str>) -> Result<Self, Problem> {
        let hint = "Measure on five days or more after the work; then the settling says where it ends.";
        let lines = settle_car(file, solution, Model::Best)
            .map_err(|refused| Problem::new(refused.to_string(), "Correct it, then ask again."))?;
        if let Some(date) = date {
            check(date, &lines)?;
        }
        let all = PointKind::ALL.into_iter().filter_map(|kind| Self::of_kind(file, solution, &lines, kind, date));
        let doubt = |forecast: &Self| forecast.front_mm.u.hypot(forecast.rear_mm.u);
        all.min_by(|a, b| doubt(a).total_cmp(&doubt(b)))
            .ok_or_else(|| Problem::new("it is too early to say where the settling ends", hint))
    }

    fn of_kind(
        file: &CarFile,
        solution: &Solution,
        lines: &[LineSettling],
        kind: PointKind,
        date: Option<&str>,
    ) -> Option<Self> {
        let end = |end: End| lines.iter().find(|line| line.kind == kind && line.end == end);
        let (front, rear) = (end(End::Front)?, end(End::Rear)?);
        let height = |line: &LineSettling| {
            let answer = Some(line.answer()).filter(|answer| answer.verdict != Settled::TooEarly)?;
            let SettleFigure { value, u } = match date {
                None => answer.final_height_mm?,
                Some(date) => line.law.as_ref()?.on_day(days_between(&line.day_0, date)? as f64),
            };
            Some(SplitFigure { value, u })
        };
        let snapshot = front.heights.last()?.snapshot.clone();
        let stance = solution.snapshots.iter().find(|stance| stance.id == snapshot)?;
        let [front_x_mm, rear_x_mm] = super::pair::marks_x_mm(stance.marks(&file.vehicle, kind))?;
        let (front_mm, rear_mm) = (height(front)?, height(rear)?);
        let date = date.map(str::to_owned);
        Some(Self { date, snapshot, kind, front_x_mm, rear_x_mm, front_mm, rear_mm })
    }

    /// Its heights by point, at nominal load, mm; a point that the snapshot does not tell is not told here either.
    pub fn heights(&self, file: &CarFile, solution: &Solution) -> BTreeMap<String, Figure> {
        let told = |point: &RefPoint| {
            let quantity = Quantity {
                terms: vec![("heights", point.id.clone(), 1.0)],
                follows: vec![(point, 1.0)],
                leans: 0.0,
                of_target: Box::new(|_| None),
            };
            let mut sum = Sum::new(true);
            sum.add(Stance::Forecast(self), 1.0, &quantity)?;
            Some((point.id.clone(), sum.figure(solution)?))
        };
        file.vehicle.ref_points.iter().filter_map(told).collect()
    }
}

/// A day that is one, and has not been when the car was measured last.
fn check(date: &str, lines: &[LineSettling]) -> Result<(), Problem> {
    let last = lines.iter().filter_map(|line| line.heights.last()).map(|height| height.date.as_str()).max();
    let Some(last) = last else { return Ok(()) };
    match days_between(last, date) {
        Some(ahead) if ahead >= 0 => Ok(()),
        Some(_) => {
            let message = format!("{} lies before the last snapshot, of {last}", shown(date));
            Err(Problem::new(message, "Ask for a day to come; what was measured stands in its snapshot."))
        }
        None => Err(Problem::new(format!("{} is no day", shown(date)), "Write it as 2031-05-03.")),
    }
}

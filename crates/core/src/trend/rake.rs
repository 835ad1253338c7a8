//! Rake and lean of a car after its springs have settled, on a chart: a drift is said only where it is one.

use super::breaks::{BreakKind, breaks};
use super::dated::{last_reset, on_its_wheels};
use super::drift::{READINGS_TO_A_FALSE_ALARM, chart};
use super::of_car::LineSettling;
use super::settling::{SettleFigure, Settled};
use crate::bench::Refusal;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::level::Solution;
use crate::stance::{Figure, Line};
use chrono::NaiveDate;
use serde::Serialize;

/// What is on the chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ChartOf {
    /// Rear mean less front mean, mm; more is more nose-down.
    RakeMm,
    /// Left side up, mm over the front track.
    LeanMm,
}

impl ChartOf {
    const ALL: [Self; 2] = [Self::RakeMm, Self::LeanMm];

    const fn name(self) -> &'static str {
        match self {
            Self::RakeMm => "rake_mm",
            Self::LeanMm => "lean_mm",
        }
    }

    const fn of(self, line: &Line) -> Figure {
        match self {
            Self::RakeMm => line.rake_mm,
            Self::LeanMm => line.lean_mm,
        }
    }
}

/// Whether it drifts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DriftVerdict {
    /// The last readings lie where the first ones did.
    Steady,
    /// They do not, beyond their scatter.
    Drifting,
    /// Too few readings since the car has settled, or it has not.
    #[serde(rename = "can't_tell")]
    CantTell,
}

/// Why nothing can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DriftUnknown {
    /// Front or rear has not settled since the work on the springs.
    NotSettled,
    /// Fewer than five readings since.
    FewReadings,
}

/// One figure of a kind of point over the days since the car has settled.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drift {
    /// The kind of point.
    pub kind: PointKind,
    /// Which figure.
    pub figure: ChartOf,
    /// The day from which on snapshots are on the chart, `YYYY-MM-DD`; absent where the car has not settled.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// In one word.
    pub verdict: DriftVerdict,
    /// Why it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unknown: Option<DriftUnknown>,
    /// How many more snapshots the first verdict needs; 0 where there is one.
    pub more_readings: usize,
    /// The fading mean of the last reading less the centre, mm; absent where nothing can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moved_mm: Option<SettleFigure>,
    /// The snapshot with which the last signal began; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moved_since: Option<String>,
    /// In so many readings of a car that does not drift, one signal is to be expected.
    pub readings_to_a_false_alarm: f64,
    /// Every snapshot on the chart, in order.
    pub points: Vec<DriftPoint>,
}

/// One snapshot on the chart, at nominal load and pressures, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DriftPoint {
    /// The snapshot's name.
    pub snapshot: String,
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// The figure.
    pub value_mm: f64,
    /// Its standard uncertainty with what it shares with the others (k = 1).
    pub u_mm: f64,
    /// Limits; absent for the first four readings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limits: Option<DriftLimits>,
}

/// Where a reading and the fading mean should lie, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DriftLimits {
    /// Mean of the readings before it, at most of the first eight.
    pub centre_mm: f64,
    /// A reading below is out.
    pub lower_mm: f64,
    /// A reading above is.
    pub upper_mm: f64,
    /// The mean that fades.
    pub fading_mean_mm: f64,
    /// It should not lie below.
    pub fading_lower_mm: f64,
    /// Nor above.
    pub fading_upper_mm: f64,
    /// True where the reading lies outside: read it again.
    pub is_out: bool,
    /// True where the fading mean lies outside: a drift.
    pub is_drift: bool,
}

/// Charts rake and lean of every kind of point, from the day on which front and rear had settled; of a car without work on its
/// springs, from its first snapshot.
///
/// # Errors
/// A day that is no date.
pub fn drifts_of_car(file: &CarFile, solution: &Solution, lines: &[LineSettling]) -> Result<Vec<Drift>, Refusal> {
    let dated = on_its_wheels(file)?;
    let reset = last_reset(file)?;
    let mut drifts = Vec::new();
    for kind in PointKind::ALL {
        for figure in ChartOf::ALL {
            let mut all = Vec::new();
            for (date, snapshot) in &dated {
                let stance = solution.snapshots.iter().find(|stance| stance.id == snapshot.id);
                let of = stance.and_then(|stance| stance.lines_nominal.get(kind.code())).map(|line| figure.of(line));
                let Some((value, u)) = of.and_then(|figure| figure.value.zip(figure.u)) else { continue };
                all.push((
                    *date,
                    DriftPoint {
                        snapshot: snapshot.id.clone(),
                        date: date.to_string(),
                        value_mm: value,
                        u_mm: u,
                        limits: None,
                    },
                ));
            }
            // A mark that took the place of another begins the chart anew.
            let marks = |point: &DriftPoint| {
                let stance = solution.snapshots.iter().find(|stance| stance.id == point.snapshot);
                stance.map(|stance| stance.marks(&file.vehicle, kind).map(|mark| mark.map(|point| &point.id)))
            };
            let last = all.last().and_then(|(_, point)| marks(point));
            all.retain(|(_, point)| marks(point) == last);
            let Some((first, _)) = all.first() else { continue };
            let since = match reset {
                None => Some(*first),
                Some((work, _)) => settled_day(kind, lines)
                    .and_then(|day| work.checked_add_days(chrono::Days::new(day.ceil().max(0.0) as u64))),
            };
            // Work that moved the car at once is no drift: the chart begins anew with it.
            let since = since.max(since.and(moved_at_once(file, *first)?));
            all.retain(|(date, _)| since.is_some_and(|since| *date >= since));
            let mut points: Vec<DriftPoint> = Vec::new();
            let path = format!("lines_nominal.{}.{}", kind.code(), figure.name());
            for (_, point) in all {
                if !points.last().is_some_and(|last| is_the_same(solution, last, &point, &path)) {
                    points.push(point);
                }
            }
            let since = since.map(|date| date.to_string());
            drifts.push(Drift::of(kind, figure, since, points, solution, &path));
        }
    }
    Ok(drifts)
}

/// The last day on which work moved the car at once.
fn moved_at_once(file: &CarFile, first: NaiveDate) -> Result<Option<NaiveDate>, Refusal> {
    let last = breaks(file, first)?.into_iter().rfind(|work| work.kind == BreakKind::Step);
    Ok(last.and_then(|work| first.checked_add_days(chrono::Days::new(work.day as u64))))
}

/// The day on which both ends had settled.
fn settled_day(kind: PointKind, lines: &[LineSettling]) -> Option<f64> {
    let of_kind: Vec<&LineSettling> = lines.iter().filter(|line| line.kind == kind).collect();
    let settled =
        |line: &&LineSettling| line.answer().settled_on_day.filter(|_| line.answer().verdict == Settled::Settled);
    let days: Option<Vec<f64>> = of_kind.iter().map(settled).collect();
    days.filter(|days| days.len() == 2)?.into_iter().max_by(f64::total_cmp)
}

/// True for a second placement of the same stance: its figures are the same unknowns.
fn is_the_same(solution: &Solution, last: &DriftPoint, point: &DriftPoint, path: &str) -> bool {
    let change = || solution.change(&last.snapshot, &point.snapshot, path);
    last.date == point.date && change().and_then(|change| change.u).is_some_and(|u| u < 1e-9)
}

impl Drift {
    fn of(
        kind: PointKind,
        figure: ChartOf,
        since: Option<String>,
        mut points: Vec<DriftPoint>,
        solution: &Solution,
        path: &str,
    ) -> Self {
        let names: Vec<&str> = points.iter().map(|point| point.snapshot.as_str()).collect();
        let values: Vec<f64> = points.iter().map(|point| point.value_mm).collect();
        let charted = solution.covariance(&names, path).map(|covariance| chart(&values, &covariance));
        let charted = charted.unwrap_or_else(|| vec![None; points.len()]);
        let last = charted.last().copied().flatten();
        let first_of_signal = charted.iter().rposition(|at| !at.is_some_and(|at| at.is_drift)).map_or(0, |at| at + 1);
        let moved_since = points.get(first_of_signal).map(|point| point.snapshot.clone());
        for (point, at) in points.iter_mut().zip(&charted) {
            point.limits = at.map(|at| DriftLimits {
                centre_mm: at.centre,
                lower_mm: at.reading.lower,
                upper_mm: at.reading.upper,
                fading_mean_mm: at.fading_mean,
                fading_lower_mm: at.fading.lower,
                fading_upper_mm: at.fading.upper,
                is_out: at.is_out,
                is_drift: at.is_drift,
            });
        }
        let (verdict, unknown) = match (last, &since) {
            (_, None) => (DriftVerdict::CantTell, Some(DriftUnknown::NotSettled)),
            (None, _) => (DriftVerdict::CantTell, Some(DriftUnknown::FewReadings)),
            (Some(last), _) if last.is_drift => (DriftVerdict::Drifting, None),
            _ => (DriftVerdict::Steady, None),
        };
        Self {
            kind,
            figure,
            verdict,
            unknown,
            more_readings: charted.iter().position(Option::is_some).map_or(5_usize.saturating_sub(points.len()), |_| 0),
            moved_mm: last.map(|last| SettleFigure { value: last.fading_mean - last.centre, u: last.fading_u }),
            moved_since: moved_since.filter(|_| verdict == DriftVerdict::Drifting),
            readings_to_a_false_alarm: READINGS_TO_A_FALSE_ALARM,
            since,
            points,
        }
    }
}

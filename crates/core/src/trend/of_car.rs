//! The settling of a car: one series for the front and one for the rear of each kind of point, from its snapshots.

use super::breaks::{Break, breaks, stored};
use super::cause::MovedBy;
use super::choice::{Candidate, Chosen, Heights, SharedRate, told};
use super::dated::{Begun, last_reset, on_its_wheels};
use super::laid_law::LaidLaw;
use super::line_heights::LineHeights;
use super::settling::{Model, SettleFigure, Settling};
use super::timeline::Timeline;
use crate::bench::Refusal;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::level::Solution;
use serde::Serialize;

/// Which end of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Mean of left and right in front.
    Front,
    /// The same behind.
    Rear,
}

impl End {
    pub(super) const ALL: [Self; 2] = [Self::Front, Self::Rear];

    pub(super) const fn mean(self) -> &'static str {
        match self {
            Self::Front => "front_mean_mm",
            Self::Rear => "rear_mean_mm",
        }
    }
}

/// One height of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SnapshotHeight {
    /// The snapshot's name.
    pub snapshot: String,
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began; negative before it.
    pub day: f64,
    /// At nominal load and pressures, mm.
    pub height_mm: f64,
    /// Its standard uncertainty (k = 1), mm.
    pub u_mm: f64,
    /// What load and pressures of the day were taken out, mm; 0 where nothing was.
    pub taken_out_mm: f64,
    /// Kilometres on the clock since the settling began, where both were booked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub km: Option<f64>,
    /// What moved the car that day, cause by cause; the nominal height is without it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub moved_by: Vec<MovedBy>,
    /// The height as the curve has it, where work since then has moved the car at once, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_curve_mm: Option<f64>,
}

/// Work that moved one end of the car at once, and by how much.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began.
    pub day: f64,
    /// In the person's words.
    pub what: String,
    /// Upwards, mm.
    pub step_mm: SettleFigure,
}

/// How one end of one kind of point settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineSettling {
    /// The kind of point.
    pub kind: PointKind,
    /// Which end.
    pub end: End,
    /// The day on which the settling began, `YYYY-MM-DD`.
    pub day_0: String,
    /// Every height of the line in order, those before day 0 too.
    pub heights: Vec<SnapshotHeight>,
    /// What they say, each end by itself over days.
    #[serde(flatten)]
    pub settling: Settling,
    /// Every law by every clock that was laid through this line by itself, the best first; the second is the runner-up.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub candidates: Vec<Candidate>,
    /// One rate for front and rear, where one can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shared: Option<SharedRate>,
    /// The answer that the heights of both ends ask for, where it is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chosen: Option<Chosen>,
    /// Work since day 0 that moved this end at once.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<Step>,
    /// Stretches on which the car was stored, from and to in days since day 0; those days do not count. The last may not have ended.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stored: Vec<(f64, Option<f64>)>,
    /// The law of the answer that counts, for any day; none with too few days.
    #[serde(skip)]
    pub law: Option<LaidLaw>,
}

impl LineSettling {
    /// The answer that counts: the one the heights ask for.
    pub fn answer(&self) -> &Settling {
        self.chosen.as_ref().map_or(&self.settling, |chosen| &chosen.settling)
    }
}

/// Works out the settling of every line of a car.
///
/// Day 0 is that of the last event with `resets_settling`, else of the first snapshot; earlier snapshots take no part. Every height
/// has its full uncertainty, with what it shares with the others (the tape's zero, a floor's levelling): for the law's bend that
/// is too much by a little, for the final height about right. Work since day 0 that moved the car is a step, and stored days do not count.
///
/// # Errors
/// A day that is no date, or heights that no law can be laid through.
pub fn settle_car(file: &CarFile, solution: &Solution, model: Model) -> Result<Vec<LineSettling>, Refusal> {
    let dated = on_its_wheels(file)?;
    let reset = last_reset(file)?;
    let Some(day_0) = reset.map(|(date, _)| date).or_else(|| dated.first().map(|(date, _)| *date)) else {
        return Ok(Vec::new());
    };
    let begun = Begun {
        day_0,
        reset: reset.map(|(_, event)| event),
        first_km: dated.first().and_then(|(_, snapshot)| snapshot.odometer_km),
    };
    let breaks = breaks(file, day_0)?;
    let stored = stored(&breaks);
    let days = Timeline::without(&stored);
    let mut lines = Vec::new();
    for kind in PointKind::ALL {
        let of = |end| LineHeights::of(file, solution, &dated, kind, end, &begun);
        let mut ends: Vec<LineHeights> =
            End::ALL.into_iter().map(of).filter(|line| !line.taking_part.is_empty()).collect();
        let steps: Vec<Vec<&Break>> = ends.iter().map(|line| line.steps(&breaks, &days, model)).collect();
        let km = ends.iter().max_by_key(|line| line.taking_part.len()).and_then(LineHeights::km);
        let heights: Vec<Heights> =
            ends.iter().zip(&steps).map(|(line, steps)| line.heights(solution, &days, steps)).collect();
        let all = told(&heights, &days, km.as_ref(), model)?;
        for ((line, steps), told) in ends.drain(..).zip(steps).zip(all) {
            let sizes = told.law.as_ref().map_or_else(Vec::new, |law| law.steps());
            let steps: Vec<Step> =
                steps.into_iter().zip(sizes).map(|(event, step_mm)| Step::of(event, step_mm)).collect();
            lines.push(LineSettling {
                kind,
                end: line.end,
                day_0: day_0.to_string(),
                heights: line.on_curve(&steps),
                settling: told.settling.no_surer_than(told.chosen.as_ref().map(|chosen| &chosen.settling)),
                candidates: told.candidates,
                shared: told.shared,
                chosen: told.chosen,
                steps,
                stored: stored.iter().map(|(from, to)| (*from, to.is_finite().then_some(*to))).collect(),
                law: told.law,
            });
        }
    }
    Ok(lines)
}

impl Step {
    fn of(event: &Break, step_mm: SettleFigure) -> Self {
        Self { date: event.date.clone(), day: event.day, what: event.what.clone(), step_mm }
    }
}

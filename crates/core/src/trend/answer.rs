//! What a series of heights says: the law that fits, the height it comes to rest at, and whether it has.

use super::fitted::{Fitted, laws_laid};
use super::laid_law::{Common, LaidLaw};
use super::law::{HORIZON_DAY, Law};
use super::points::Points;
use super::series::Series;
use super::settling::{BandPoint, Model, Other, SettleFigure, Settling};
use super::timeline::{Clock, Timeline};
use super::verdict::{AHEAD_DAYS, Judged, judged};
use crate::bench::Refusal;

/// Fewer days of reading say nothing of a law.
const FEWEST_DAYS: usize = 5;
/// Steps of the band from first to last reading, and again ahead of it.
const STEPS: usize = 48;

/// How many days of reading a law needs: with one degree of freedom to spare, for a law found by its AICc; a step needs one more.
pub(super) fn days_needed(model: Model, steps: usize) -> usize {
    let law = if let Model::Law(law) = model { law } else { Law::Exponential };
    FEWEST_DAYS.max(law.parameters() + steps + 2)
}

/// Works a settling out.
///
/// # Errors
/// No height since the settling began, or heights that no law can be laid through.
pub fn settle(series: &Series, model: Model) -> Result<Settling, Refusal> {
    let rows = series.since_day_0();
    let Some((first, last)) = rows.first().zip(rows.last()).map(|(first, last)| (first.x, last.x)) else {
        let message = format!("There is no height from day {} on.", series.day_0());
        return Err(Refusal::new(message, "Measure after the work on the springs, best on days 0, 3, 7 and 14."));
    };
    let points = Points::plain(rows);
    let timeline = Timeline::days();
    let laid = Laid::of(&points, &timeline, model)?;
    Ok(laid.map_or_else(
        || Settling::too_few(Clock::Days, days_needed(model, 0)),
        |laid| answer(&laid.by_itself(&timeline), (first, last), laid.other()),
    ))
}

/// The laws laid through one line's heights by one clock, the one they ask for first.
#[derive(Debug, Clone)]
pub(super) struct Laid {
    pub(super) fitted: Vec<Fitted>,
}

impl Laid {
    /// None with too few days for any law.
    ///
    /// # Errors
    /// Heights that no law can be laid through.
    pub(super) fn of(points: &Points, timeline: &Timeline, model: Model) -> Result<Option<Self>, Refusal> {
        let mut days: Vec<f64> = points.rows.iter().map(|row| row.x).collect();
        days.dedup();
        if days.len() < FEWEST_DAYS {
            return Ok(None);
        }
        let fitted = laws_laid(points, timeline.horizon, model);
        // With steps, or for the richest law, five days may be too few.
        if fitted.is_empty() && points.rows.len() >= days_needed(model, points.steps.len()) {
            let message = "No law of settling can be laid through these heights.".to_owned();
            return Err(Refusal::new(message, "Look for a height or a u that is far from the others."));
        }
        Ok((!fitted.is_empty()).then_some(Self { fitted }))
    }

    /// The law they ask for, taken at its word.
    fn by_itself(&self, timeline: &Timeline) -> LaidLaw {
        LaidLaw::new(self.fitted[0].clone(), timeline.clone(), Common::default())
    }

    /// The law that was not chosen.
    pub(super) fn other(&self) -> Option<Other> {
        let (chosen, other) = (&self.fitted[0], self.fitted.get(1)?);
        Some(Other { model: other.laid.law, delta_aicc: other.aicc() - chosen.aicc() })
    }
}

/// What one law says.
pub(super) fn answer(laid_law: &LaidLaw, (first, last): (f64, f64), other: Option<Other>) -> Settling {
    let (fitted, timeline) = (&laid_law.fitted, &laid_law.timeline);
    let (laid, law) = (&fitted.laid, fitted.laid.law);
    let parameters = laid.of_law();
    let figure = |(value, u): (f64, f64)| SettleFigure { value, u };
    let Judged { rest, remaining, ahead, settled_on, verdict, lacking } = judged(laid_law, other);
    let settled_on_day = settled_on.and_then(|x| timeline.day(x));
    let by_name = law.names(timeline.clock).iter().enumerate();
    let mut doubtful = fitted.doubtful();
    for height in &mut doubtful {
        height.day = timeline.day(height.day).unwrap_or(last);
    }
    Settling {
        model: Some(law),
        clock: timeline.clock,
        parameters: by_name.map(|(i, name)| (*name, figure((parameters[i], laid.u(i))))).collect(),
        sum_weighted_squares: Some(laid.sum),
        final_height_mm: Some(rest),
        horizon_day: (law.is_endless() || ahead.is_some()).then_some(HORIZON_DAY),
        remaining_mm: Some(remaining),
        ahead,
        settled_on_day,
        verdict,
        lacking,
        days_needed: None,
        other,
        band: band(laid_law, (first, last), settled_on_day),
        doubtful,
    }
}

fn band(law: &LaidLaw, (first, last): (f64, f64), settled_on: Option<f64>) -> Vec<BandPoint> {
    let span = last - first;
    let (near, far) = (last + span.max(AHEAD_DAYS), last + 2.0 * span.max(AHEAD_DAYS));
    let ahead = settled_on.map_or(near, |day| (day + 0.2 * span).clamp(near, far));
    let step = |from: f64, to: f64, i: usize| from + (to - from) * i as f64 / STEPS as f64;
    let days =
        (0..=STEPS).map(|i| step(first, last, i)).chain((1..=STEPS / 2).map(|i| step(last, 2.0 * ahead - last, i)));
    days.map(|day| {
        let SettleFigure { value, u } = law.on_day(day);
        BandPoint { day, height_mm: value, u_mm: u }
    })
    .collect()
}

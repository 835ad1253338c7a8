//! What a series of heights says: the law that fits, the height it comes to rest at, and whether it has.

use super::fit::Points;
use super::fitted::{Fitted, laws_laid};
use super::laid_law::{Common, LaidLaw};
use super::law::{HORIZON_DAY, Law};
use super::series::Series;
use super::timeline::{Clock, Timeline};
use crate::bench::Refusal;
use serde::Serialize;
use std::collections::BTreeMap;

/// Less than this to come counts as settled, mm.
const SETTLED_MM: f64 = 2.0;
/// Settled is said only where no more than this is to come at 90 %, one-sided, mm.
const NEVER_SETTLED_MM: f64 = 3.0;
/// One-sided 90 % of a normal distribution.
const ONE_SIDED: f64 = 1.282;
/// A rest less sure than this (k = 1) is no forecast, mm.
const SUREST_NEEDED_MM: f64 = 5.0;
/// Fewer days of reading say nothing of a law.
const FEWEST_DAYS: usize = 5;
/// An AICc so much above leaves no support for the other law (K. P. Burnham, D. R. Anderson, *Model Selection and Multimodel Inference*).
const CLEAR: f64 = 10.0;
/// Steps of the band from first to last reading, and again ahead of it.
const STEPS: usize = 48;

/// The band goes on for that many days at least: two months are what a builder plans by.
const AHEAD_DAYS: f64 = 60.0;

/// Which law is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Model {
    /// This one.
    Law(Law),
    /// The one with the lower AICc; a tie goes to the exponential.
    Best,
}

/// A number with its standard uncertainty (k = 1).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SettleFigure {
    /// mm, or days or kilometres for a rate.
    pub value: f64,
    /// In the same unit.
    pub u: f64,
}

/// Parameters by name.
pub type ParameterMap = BTreeMap<&'static str, SettleFigure>;

/// Whether it has settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Settled {
    /// Less than 2 mm is to come.
    Settled,
    /// More is.
    Settling,
    /// The days do not tell yet.
    TooEarly,
}

/// The law that was not chosen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Other {
    /// Which.
    pub model: Law,
    /// Its AICc less the chosen one's.
    pub delta_aicc: f64,
}

/// A height that does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DoubtfulHeight {
    /// Days since the settling began.
    pub day: f64,
    /// As given.
    pub height_mm: f64,
    /// (law − height)/(u·√r).
    pub standardised_residual: f64,
    /// False where it was left out.
    pub used: bool,
}

/// The curve at one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BandPoint {
    /// Days since the settling began.
    pub day: f64,
    /// The law's height there, mm.
    pub height_mm: f64,
    /// Standard uncertainty of the law there, without a reading's noise, mm.
    pub u_mm: f64,
}

/// Why it is too early to say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TooEarly {
    /// Fewer than five days of reading.
    FewDays,
    /// The stretch is shorter than twice the law's own time, or than a quarter of a logarithm's year.
    ShortStretch,
    /// The height at rest is less sure than 5 mm (k = 1).
    UnsureRest,
}

/// How a height settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Settling {
    /// The law; absent with fewer than five days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model: Option<Law>,
    /// By what the law counts.
    pub clock: Clock,
    /// By name; empty with fewer than five days.
    pub parameters: ParameterMap,
    /// Σ (residual/u)².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sum_weighted_squares: Option<f64>,
    /// The height it comes to rest at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub final_height_mm: Option<SettleFigure>,
    /// With the logarithm: the day that is called final.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub horizon_day: Option<f64>,
    /// The law at the last reading less the final height: what is still to come, positive downwards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remaining_mm: Option<SettleFigure>,
    /// Day on which less than 2 mm was left, a place on the law; it may lie ahead.
    pub settled_on_day: Option<f64>,
    /// In one word.
    pub verdict: Settled,
    /// What is lacking, where it is too early to say.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lacking: Vec<TooEarly>,
    /// The law that was not chosen, where both could be fitted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other: Option<Other>,
    /// The law from the first reading to the last, and on as far as it is worth drawing.
    pub band: Vec<BandPoint>,
    /// Heights off the law by more than 3.29 of their standard deviations, largest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub doubtful: Vec<DoubtfulHeight>,
}

impl Settling {
    /// An end by itself is not called settled where the answer that counts is not.
    pub(super) fn no_surer_than(self, counts: Option<&Self>) -> Self {
        match counts {
            Some(counts) if self.verdict == Settled::Settled => {
                Self { verdict: counts.verdict, lacking: counts.lacking.clone(), ..self }
            }
            _ => self,
        }
    }

    pub(super) fn too_early(clock: Clock) -> Self {
        Self {
            model: None,
            clock,
            parameters: ParameterMap::new(),
            sum_weighted_squares: None,
            final_height_mm: None,
            horizon_day: None,
            remaining_mm: None,
            settled_on_day: None,
            verdict: Settled::TooEarly,
            lacking: vec![TooEarly::FewDays],
            other: None,
            band: Vec::new(),
            doubtful: Vec::new(),
        }
    }
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
        || Settling::too_early(Clock::Days),
        |laid| laid.answer(&timeline, (first, last), Common::default()),
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
        let bears = |law: Law| points.rows.len() > law.parameters() + points.steps.len() + 1;
        let fewest = if let Model::Law(law) = model { law } else { Law::Exponential };
        if fitted.is_empty() && bears(fewest) {
            let message = "No law of settling can be laid through these heights.".to_owned();
            return Err(Refusal::new(message, "Look for a height or a u that is far from the others."));
        }
        Ok((!fitted.is_empty()).then_some(Self { fitted }))
    }

    /// What they say; `days` are the first and last of the calendar.
    pub(super) fn answer(&self, timeline: &Timeline, days: (f64, f64), common: Common) -> Settling {
        answer(&LaidLaw::new(self.fitted[0].clone(), timeline.clone(), common), days, self.other())
    }

    /// The law that was not chosen.
    pub(super) fn other(&self) -> Option<Other> {
        let (chosen, other) = (&self.fitted[0], self.fitted.get(1)?);
        Some(Other { model: other.laid.law, delta_aicc: other.aicc() - chosen.aicc() })
    }
}

/// What one law says, as far as a verdict needs it.
#[derive(Debug)]
pub(super) struct Judged {
    pub(super) rest: SettleFigure,
    pub(super) remaining: SettleFigure,
    /// On the clock.
    settled_on: Option<f64>,
    pub(super) verdict: Settled,
    lacking: Vec<TooEarly>,
}

/// The verdict of one law.
pub(super) fn judged(laid_law: &LaidLaw, other: Option<Other>) -> Judged {
    let (fitted, laid) = (&laid_law.fitted, &laid_law.fitted.laid);
    let last = fitted.last();
    let (rest, remaining) = (laid_law.rest(), laid_law.left_after(laid_law.timeline.day(last).unwrap_or(last)));
    let settled_on =
        laid.law.x_with_less_left(laid.of_law(), SETTLED_MM, laid.horizon).filter(|_| fitted.last_three_fit());
    let lacking = lacking(fitted, rest, other);
    let may_be_left = remaining.value.abs() + ONE_SIDED * remaining.u;
    let verdict = match settled_on {
        _ if !lacking.is_empty() => Settled::TooEarly,
        Some(x) if x <= last && may_be_left <= NEVER_SETTLED_MM => Settled::Settled,
        _ => Settled::Settling,
    };
    Judged { rest, remaining, settled_on, verdict, lacking }
}

/// What one law says.
pub(super) fn answer(laid_law: &LaidLaw, (first, last): (f64, f64), other: Option<Other>) -> Settling {
    let (fitted, timeline) = (&laid_law.fitted, &laid_law.timeline);
    let (laid, law) = (&fitted.laid, fitted.laid.law);
    let parameters = laid.of_law();
    let figure = |(value, u): (f64, f64)| SettleFigure { value, u };
    let Judged { rest, remaining, settled_on, verdict, lacking } = judged(laid_law, other);
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
        horizon_day: law.is_endless().then_some(HORIZON_DAY),
        remaining_mm: Some(remaining),
        settled_on_day,
        verdict,
        lacking,
        other,
        band: band(laid_law, (first, last), settled_on_day),
        doubtful,
    }
}

/// Why it is too early to say; nothing where it is not.
fn lacking(fitted: &Fitted, rest: SettleFigure, other: Option<Other>) -> Vec<TooEarly> {
    let (laid, span) = (&fitted.laid, fitted.last() - fitted.first());
    let own_time = laid.law.tau().is_some_and(|tau| span < 2.0 * laid.parameters[tau]);
    let endless =
        laid.law.is_endless() && span < laid.horizon / 4.0 && other.is_some_and(|other| other.delta_aicc < CLEAR);
    let short = (own_time || endless).then_some(TooEarly::ShortStretch);
    let unsure = (rest.u.is_nan() || rest.u > SUREST_NEEDED_MM).then_some(TooEarly::UnsureRest);
    short.into_iter().chain(unsure).collect()
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

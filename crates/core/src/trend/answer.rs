//! What a series of heights says: the law that fits, the height it comes to rest at, and whether it has.

use super::law::{HORIZON_DAY, Law, LawFit};
use super::series::Series;
use crate::bench::Refusal;
use crate::curve_fit::Observed;
use crate::least_squares::Fit;
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
/// An AICc within this of the other's is a tie.
const TIE: f64 = 2.0;
/// An AICc so much above leaves no support for the other law (K. P. Burnham, D. R. Anderson, *Model Selection and Multimodel Inference*).
const CLEAR: f64 = 10.0;
/// A height further off the law than this, in its own standard deviations, is left out once.
const LEFT_OUT: f64 = 4.0;
/// And only where the others check it that much.
const CHECKED: f64 = 0.2;
/// At most one height in so many.
const ONE_IN: usize = 8;
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
    /// mm, or days for a rate.
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

/// How a height settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Settling {
    /// The law; absent with fewer than five days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model: Option<Law>,
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
    fn too_early() -> Self {
        Self {
            model: None,
            parameters: ParameterMap::new(),
            sum_weighted_squares: None,
            final_height_mm: None,
            horizon_day: None,
            remaining_mm: None,
            settled_on_day: None,
            verdict: Settled::TooEarly,
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
    let points = series.since_day_0();
    if points.is_empty() {
        let message = format!("There is no height from day {} on.", series.day_0());
        return Err(Refusal::new(message, "Measure after the work on the springs, best on days 0, 3, 7 and 14."));
    }
    let mut days: Vec<f64> = points.iter().map(|point| point.x).collect();
    days.dedup();
    if days.len() < FEWEST_DAYS {
        return Ok(Settling::too_early());
    }
    let laws: &[Law] = match &model {
        Model::Law(law) => std::slice::from_ref(law),
        Model::Best => &Law::ALL,
    };
    let mut fitted: Vec<Fitted> = laws.iter().filter_map(|law| Fitted::of(*law, &points)).collect();
    if fitted.is_empty() {
        let message = "No law of settling can be laid through these heights.".to_owned();
        return Err(Refusal::new(message, "Look for a height or a u that is far from the others."));
    }
    // The laws stand in the order in which they win a tie.
    let chosen = if fitted.len() > 1 && fitted[1].aicc() < fitted[0].aicc() - TIE { 1 } else { 0 };
    let chosen = fitted.swap_remove(chosen);
    let other = fitted.first().map(|other| Other { model: other.law, delta_aicc: other.aicc() - chosen.aicc() });
    Ok(Settling { other, ..chosen.answer(other) })
}

/// A law laid through the heights.
struct Fitted {
    law: Law,
    laid: LawFit,
    /// The heights that were used.
    points: Vec<Observed>,
    /// Those that were left out, with how far off they were.
    left_out: Vec<DoubtfulHeight>,
}

impl Fitted {
    fn of(law: Law, points: &[Observed]) -> Option<Self> {
        let mut points = points.to_vec();
        let mut left_out = Vec::new();
        let most = points.len() / ONE_IN;
        let mut laid = law.fit(&points).ok()?;
        while left_out.len() < most {
            let Some((worst, w)) = worst(&laid.fit, &points) else { break };
            let mut others = points.clone();
            let point = others.remove(worst);
            // Only where all the others then fit: a law that fits nothing finds fault with every day.
            let Some(better) = law.fit(&others).ok().filter(|better| worst_of(&better.fit, &others) < LEFT_OUT) else {
                break;
            };
            left_out.push(DoubtfulHeight { day: point.x, height_mm: point.y, standardised_residual: w, used: false });
            (laid, points) = (better, others);
        }
        Some(Self { law, laid, points, left_out })
    }

    /// Akaike's criterion corrected for few heights (Hurvich and Tsai 1989); a height left out counts as one parameter.
    fn aicc(&self) -> f64 {
        let (n, k) =
            ((self.points.len() + self.left_out.len()) as f64, (self.law.parameters() + self.left_out.len()) as f64);
        self.laid.fit.sum_weighted_squares + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0)
    }

    fn answer(&self, other: Option<Other>) -> Settling {
        let (law, fit) = (self.law, &self.laid.fit);
        let parameters = &fit.parameters;
        let (first, last) = (self.points[0].x, self.points[self.points.len() - 1].x);
        let figure = |(value, u): (f64, f64)| SettleFigure { value, u };
        let (rest, remaining) = (figure(self.laid.rest()), figure(self.laid.left_after(last)));
        let settled_on_day = law.day_with_less_left(parameters, SETTLED_MM).filter(|_| self.last_three_fit());
        let too_short = match law {
            Law::Exponential => last - first < 2.0 * parameters[2],
            Law::Logarithmic => last - first < HORIZON_DAY / 4.0 && other.is_some_and(|other| other.delta_aicc < CLEAR),
        };
        let may_be_left = remaining.value.abs() + ONE_SIDED * remaining.u;
        let verdict = match settled_on_day {
            _ if too_short || rest.u > SUREST_NEEDED_MM => Settled::TooEarly,
            Some(day) if day <= last && may_be_left <= NEVER_SETTLED_MM => Settled::Settled,
            _ => Settled::Settling,
        };
        let by_name = law.names().into_iter().enumerate();
        Settling {
            model: Some(law),
            parameters: by_name.map(|(i, name)| (name, figure((parameters[i], fit.u(i))))).collect(),
            sum_weighted_squares: Some(fit.sum_weighted_squares),
            final_height_mm: Some(rest),
            horizon_day: (law == Law::Logarithmic).then_some(HORIZON_DAY),
            remaining_mm: Some(remaining),
            settled_on_day,
            verdict,
            other: None,
            band: self.band(first, last, settled_on_day),
            doubtful: self.doubtful(),
        }
    }

    /// Whether the last three heights lie within 2u of the law: a car that has just been worked on again does not.
    fn last_three_fit(&self) -> bool {
        let within = |(residual, point): (&f64, &Observed)| residual.abs() <= 2.0 * point.u;
        self.laid.fit.residuals.iter().zip(&self.points).rev().take(3).all(within)
    }

    fn band(&self, first: f64, last: f64, settled_on_day: Option<f64>) -> Vec<BandPoint> {
        let span = last - first;
        let (near, far) = (last + span.max(AHEAD_DAYS), last + 2.0 * span.max(AHEAD_DAYS));
        let ahead = settled_on_day.map_or(near, |day| (day + 0.2 * span).clamp(near, far));
        let step = |from: f64, to: f64, i: usize| from + (to - from) * i as f64 / STEPS as f64;
        let days =
            (0..=STEPS).map(|i| step(first, last, i)).chain((1..=STEPS / 2).map(|i| step(last, 2.0 * ahead - last, i)));
        days.map(|day| {
            let (height_mm, u_mm) = self.laid.at(day);
            BandPoint { day, height_mm, u_mm }
        })
        .collect()
    }

    fn doubtful(&self) -> Vec<DoubtfulHeight> {
        let mut doubtful = self.left_out.clone();
        for (row, point) in self.points.iter().enumerate() {
            if let Some(w) = self.laid.fit.standardised(row, point.u).filter(|w| w.abs() > 3.29) {
                doubtful.push(DoubtfulHeight {
                    day: point.x,
                    height_mm: point.y,
                    standardised_residual: w,
                    used: true,
                });
            }
        }
        doubtful.sort_by(|a, b| b.standardised_residual.abs().total_cmp(&a.standardised_residual.abs()));
        doubtful
    }
}

/// The height furthest off the law, if it is far off and checked by the others.
fn worst(fit: &Fit, points: &[Observed]) -> Option<(usize, f64)> {
    let rows = (0..points.len()).filter(|row| 1.0 - fit.leverage[*row] > CHECKED);
    let off = rows.filter_map(|row| Some((row, fit.standardised(row, points[row].u)?)));
    off.filter(|(_, w)| w.abs() > LEFT_OUT).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
}

fn worst_of(fit: &Fit, points: &[Observed]) -> f64 {
    let off = points.iter().enumerate().filter_map(|(row, point)| fit.standardised(row, point.u));
    off.fold(0.0, |worst, w| worst.max(w.abs()))
}

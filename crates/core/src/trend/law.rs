//! How a sprung height goes down after work on the springs: two laws, each with a rate that is found by search.
//!
//! # Source
//! Exponential approach: NIST StRD Misra1a has its form; common practice, no source, for springs bedding in. Logarithm of time: the
//! usual law of steel relaxing under load (log-time law, from memory of ACI 318 and PCI texts).

use crate::curve_fit::{self, Curve, Observed};
use crate::least_squares::{self, Fit, LeastSquaresError};
use nalgebra::DMatrix;
use serde::{Deserialize, Serialize};

/// The day at which a logarithm, which never ends, is called final.
pub(super) const HORIZON_DAY: f64 = 365.0;

/// Rates tried in the search, evenly on a logarithmic scale.
const TRIED: usize = 48;

/// The slowest rate tried over the stretch from first to last day.
const SLOWEST_OF_SPAN: f64 = 20.0;

/// How a height goes with the days since the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Law {
    /// h = final + amplitude · exp(−day/tau).
    Exponential,
    /// h = h0 − b · ln(1 + day/day0).
    Logarithmic,
}

impl Law {
    /// Both, the one that wins a tie first.
    pub const ALL: [Self; 2] = [Self::Exponential, Self::Logarithmic];

    /// How many parameters it has.
    pub const fn parameters(self) -> usize {
        self.names().len()
    }

    /// Its parameters' names, the rate last.
    pub const fn names(self) -> [&'static str; 3] {
        match self {
            Self::Exponential => ["final_mm", "amplitude_mm", "tau_days"],
            Self::Logarithmic => ["h0_mm", "b_mm", "day0_days"],
        }
    }

    /// Weights of the parameters in the height at which it comes to rest (the logarithm: at [`HORIZON_DAY`]).
    pub fn at_rest(self, parameters: &[f64]) -> [f64; 3] {
        match self {
            Self::Exponential => [1.0, 0.0, 0.0],
            Self::Logarithmic => self.weights(parameters, HORIZON_DAY),
        }
    }

    /// The height at which it comes to rest, mm.
    pub fn rest_mm(self, parameters: &[f64]) -> f64 {
        match self {
            Self::Exponential => parameters[0],
            Self::Logarithmic => self.value(parameters, HORIZON_DAY),
        }
    }

    /// Slopes of the height at `day`, by parameter.
    pub fn weights(self, parameters: &[f64], day: f64) -> [f64; 3] {
        let mut weights = [0.0; 3];
        self.slopes(parameters, day, &mut weights);
        weights
    }

    /// The first day, from day 0 on, at which less than `left_mm` is still to come; none if that is never.
    pub fn day_with_less_left(self, parameters: &[f64], left_mm: f64) -> Option<f64> {
        let [_, size, rate] = [parameters[0], parameters[1].abs(), parameters[2]];
        let day = match self {
            // amplitude · exp(−day/tau) = left
            Self::Exponential => rate * libm::log(size / left_mm),
            // b · ln((day0 + horizon)/(day0 + day)) = left
            Self::Logarithmic => (rate + HORIZON_DAY) * libm::exp(-left_mm / size) - rate,
        };
        let day = day.max(0.0);
        day.is_finite().then_some(day)
    }

    /// The best fit to the points, searched over every rate that the days could show.
    ///
    /// # Errors
    /// Fewer points than parameters, all on one day, or a number that is not finite.
    pub(super) fn fit(self, points: &[Observed]) -> Result<LawFit, LeastSquaresError> {
        let (least, most) = self.rates(points);
        let step = libm::log(most / least) / (TRIED - 1) as f64;
        let rates = (0..TRIED).map(|tried| least * libm::exp(step * tried as f64));
        let mut tried: Vec<Tried> = rates.filter_map(|rate| self.try_rate(points, rate).ok()).collect();
        let Some(best) = tried.iter().min_by(|a, b| a.sum.total_cmp(&b.sum)) else {
            return Err(LeastSquaresError::NotDetermined { column: 2 });
        };
        // A rate outside of what was tried is one that the days cannot show: it stays at the edge.
        let fit = match curve_fit::fit(&self, points, &best.parameters) {
            Ok(fit) if fit.parameters[2] >= least && fit.parameters[2] <= most => fit,
            _ => self.at_edge(points, &best.parameters)?,
        };
        tried.retain(|tried| tried.parameters[2] <= (most / SLOWEST_OF_SPAN).max(fit.parameters[2]));
        Ok(LawFit { law: self, fit, tried })
    }

    /// From a twentieth of the shortest step between two days to twenty times the whole stretch.
    fn rates(self, points: &[Observed]) -> (f64, f64) {
        let mut days: Vec<f64> = points.iter().map(|point| point.x).collect();
        days.sort_by(f64::total_cmp);
        let span = days.last().zip(days.first()).map_or(1.0, |(last, first)| last - first).max(1e-6);
        let step = days.windows(2).map(|pair| pair[1] - pair[0]).filter(|step| *step > 0.0).fold(span, f64::min);
        match self {
            Self::Exponential => (step.max(span * 1e-4) / 20.0, span * SLOWEST_OF_SPAN),
            Self::Logarithmic => (step.max(span * 1e-4) / 50.0, span * SLOWEST_OF_SPAN),
        }
    }

    /// Both other parameters, which are linear, at a rate.
    fn try_rate(self, points: &[Observed], rate: f64) -> Result<Tried, LeastSquaresError> {
        let mut design = DMatrix::zeros(points.len(), 2);
        for (row, point) in points.iter().enumerate() {
            let weights = self.weights(&[0.0, 0.0, rate], point.x);
            (design[(row, 0)], design[(row, 1)]) = (weights[0], weights[1]);
        }
        let observed: Vec<f64> = points.iter().map(|point| point.y).collect();
        let u: Vec<f64> = points.iter().map(|point| point.u).collect();
        let fit = least_squares::fit(&design, &observed, &u)?;
        Ok(Tried { parameters: [fit.parameters[0], fit.parameters[1], rate], sum: fit.sum_weighted_squares, fit })
    }

    /// The fit where the days say nothing of the rate: it is then known within its own size, and no better.
    fn at_edge(self, points: &[Observed], near: &[f64; 3]) -> Result<Fit, LeastSquaresError> {
        let mut points = points.to_vec();
        points.push(Observed { x: f64::INFINITY, y: near[2], u: near[2] });
        let mut fit = curve_fit::here(&WithRate(self), &points, near)?;
        fit.residuals.pop();
        fit.leverage.pop();
        fit.degrees_of_freedom -= 1;
        Ok(fit)
    }
}

impl Curve for Law {
    fn value(&self, parameters: &[f64], day: f64) -> f64 {
        match self {
            Self::Exponential => parameters[0] + parameters[1] * libm::exp(-day / parameters[2]),
            Self::Logarithmic => parameters[0] - parameters[1] * libm::log1p(day / parameters[2]),
        }
    }

    fn slopes(&self, parameters: &[f64], day: f64, slopes: &mut [f64]) {
        let (size, rate) = (parameters[1], parameters[2]);
        slopes[0] = 1.0;
        match self {
            Self::Exponential => {
                let left = libm::exp(-day / rate);
                slopes[1] = left;
                slopes[2] = size * left * day / (rate * rate);
            }
            Self::Logarithmic => {
                slopes[1] = -libm::log1p(day / rate);
                slopes[2] = size * day / (rate * (rate + day));
            }
        }
    }
}

/// A law laid through heights.
#[derive(Debug, Clone)]
pub(super) struct LawFit {
    law: Law,
    pub(super) fit: Fit,
    /// What other rates can do, up to one as slow as the stretch of days is long.
    tried: Vec<Tried>,
}

impl LawFit {
    /// Height of the law on a day, mm, with its standard uncertainty.
    pub(super) fn at(&self, day: f64) -> (f64, f64) {
        self.sum_of(|law, parameters| (law.value(parameters, day), law.weights(parameters, day)))
    }

    /// Height at rest, mm, with its standard uncertainty.
    pub(super) fn rest(&self) -> (f64, f64) {
        self.sum_of(|law, parameters| (law.rest_mm(parameters), law.at_rest(parameters)))
    }

    /// What is still to come after a day, mm, with its standard uncertainty.
    pub(super) fn left_after(&self, day: f64) -> (f64, f64) {
        self.sum_of(|law, parameters| {
            let (now, rest) = (law.weights(parameters, day), law.at_rest(parameters));
            let weights = std::array::from_fn(|i| now[i] - rest[i]);
            (law.value(parameters, day) - law.rest_mm(parameters), weights)
        })
    }

    /// A number made of the parameters, with its standard uncertainty.
    ///
    /// To first order the covariance gives it. Where few days tell the rate, the law bends too much for that: every rate then
    /// counts with its likelihood exp(−χ²/2), and the larger of the two stands.
    fn sum_of(&self, number: impl Fn(Law, &[f64]) -> (f64, [f64; 3])) -> (f64, f64) {
        let (value, weights) = number(self.law, &self.fit.parameters);
        let least = self.fit.sum_weighted_squares;
        let (mut all, mut spread) = (0.0, 0.0);
        for tried in &self.tried {
            let likelihood = libm::exp((least - tried.sum) / 2.0);
            let (theirs, [height, size, _]) = number(self.law, &tried.parameters);
            all += likelihood;
            spread += likelihood * (tried.fit.u_of(&[height, size]).powi(2) + (theirs - value).powi(2));
        }
        let by_rate = if all > 0.0 { (spread / all).sqrt() } else { 0.0 };
        (value, self.fit.u_of(&weights).max(by_rate))
    }
}

/// The best that one rate can do.
#[derive(Debug, Clone)]
struct Tried {
    parameters: [f64; 3],
    sum: f64,
    fit: Fit,
}

/// A law with one observation more: its rate, "read" on a day that never comes.
struct WithRate(Law);

impl Curve for WithRate {
    fn value(&self, parameters: &[f64], day: f64) -> f64 {
        if day.is_finite() { self.0.value(parameters, day) } else { parameters[2] }
    }

    fn slopes(&self, parameters: &[f64], day: f64, slopes: &mut [f64]) {
        if day.is_finite() {
            self.0.slopes(parameters, day, slopes);
        } else {
            slopes.copy_from_slice(&[0.0, 0.0, 1.0]);
        }
    }
}

//! How a sprung height goes down after work on the springs: three laws, each with one rate or two that are found by search.
//!
//! # Source
//! Exponential approach: NIST StRD Misra1a has its form; common practice, no source, for springs bedding in. Logarithm of time: the
//! usual law of steel relaxing under load (log-time law, from memory of ACI 318 and PCI texts). Both together: friction faces bed in
//! while steel takes its set; common practice, no source.

use super::timeline::Clock;
use serde::{Deserialize, Serialize};

/// The day at which a logarithm, which never ends, is called final.
pub(super) const HORIZON_DAY: f64 = 365.0;

/// Parameters of the richest law.
pub(super) const MOST_PARAMETERS: usize = 5;

/// How a height goes with the days, or the kilometres, since the work; x below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Law {
    /// h = final + amplitude · exp(−x/tau).
    Exponential,
    /// h = h0 − b · ln(1 + x/x0).
    Logarithmic,
    /// h = h0 + amplitude · exp(−x/tau) − b · ln(1 + x/x0).
    Both,
}

impl Law {
    /// All, the one that wins a tie first.
    pub const ALL: [Self; 3] = [Self::Exponential, Self::Logarithmic, Self::Both];

    /// The two that any five days may tell apart.
    pub(super) const SIMPLE: [Self; 2] = [Self::Exponential, Self::Logarithmic];

    /// How many parameters it has.
    pub const fn parameters(self) -> usize {
        self.linear() + self.rates()
    }

    /// How many of them enter linearly; they come first.
    pub(super) const fn linear(self) -> usize {
        match self {
            Self::Exponential | Self::Logarithmic => 2,
            Self::Both => 3,
        }
    }

    /// How many are rates; they come last.
    pub(super) const fn rates(self) -> usize {
        match self {
            Self::Exponential | Self::Logarithmic => 1,
            Self::Both => 2,
        }
    }

    /// Its parameters' names, linear ones first; a rate says the unit of its clock.
    pub const fn names(self, clock: Clock) -> &'static [&'static str] {
        match (self, clock) {
            (Self::Exponential, Clock::Days) => &["final_mm", "amplitude_mm", "tau_days"],
            (Self::Exponential, Clock::Km) => &["final_mm", "amplitude_mm", "tau_km"],
            (Self::Logarithmic, Clock::Days) => &["h0_mm", "b_mm", "day0_days"],
            (Self::Logarithmic, Clock::Km) => &["h0_mm", "b_mm", "km0_km"],
            (Self::Both, Clock::Days) => &["h0_mm", "amplitude_mm", "b_mm", "tau_days", "day0_days"],
            (Self::Both, Clock::Km) => &["h0_mm", "amplitude_mm", "b_mm", "tau_km", "km0_km"],
        }
    }

    /// True where it goes on without end, so that its rest is taken at a horizon.
    pub const fn is_endless(self) -> bool {
        !matches!(self, Self::Exponential)
    }

    /// Place of the exponential's rate among the parameters.
    pub(super) const fn tau(self) -> Option<usize> {
        match self {
            Self::Exponential => Some(2),
            Self::Logarithmic => None,
            Self::Both => Some(3),
        }
    }

    /// What each linear parameter is taken times at `x`, for these rates.
    pub(super) fn basis(self, rates: [f64; 2], x: f64) -> [f64; 3] {
        match self {
            Self::Exponential => [1.0, libm::exp(-x / rates[0]), 0.0],
            Self::Logarithmic => [1.0, -libm::log1p(x / rates[0]), 0.0],
            Self::Both => [1.0, libm::exp(-x / rates[0]), -libm::log1p(x / rates[1])],
        }
    }

    /// The rates among the parameters.
    pub(super) fn rates_of(self, parameters: &[f64]) -> [f64; 2] {
        let first = self.linear();
        [parameters[first], if self.rates() == 2 { parameters[first + 1] } else { 0.0 }]
    }

    /// Height at `x`, mm.
    pub fn value(self, parameters: &[f64], x: f64) -> f64 {
        let basis = self.basis(self.rates_of(parameters), x);
        (0..self.linear()).map(|i| parameters[i] * basis[i]).sum()
    }

    /// Slopes of the height at `x` by parameter; zeros behind the last.
    pub(super) fn slopes_at(self, parameters: &[f64], x: f64) -> [f64; MOST_PARAMETERS] {
        let rates = self.rates_of(parameters);
        let basis = self.basis(rates, x);
        let mut slopes = [0.0; MOST_PARAMETERS];
        slopes[..3].copy_from_slice(&basis);
        let by_tau = |size: f64, left: f64, tau: f64| size * left * x / (tau * tau);
        let by_x0 = |b: f64, x0: f64| b * x / (x0 * (x0 + x));
        match self {
            Self::Exponential => slopes[2] = by_tau(parameters[1], basis[1], rates[0]),
            Self::Logarithmic => slopes[2] = by_x0(parameters[1], rates[0]),
            Self::Both => {
                slopes[3] = by_tau(parameters[1], basis[1], rates[0]);
                slopes[4] = by_x0(parameters[2], rates[1]);
            }
        }
        slopes
    }

    /// A number made of the linear parameters, from its slopes by each.
    pub(super) fn sum_of(self, parameters: &[f64], slopes: &[f64; MOST_PARAMETERS]) -> f64 {
        parameters.iter().zip(slopes).take(self.linear()).map(|(parameter, slope)| parameter * slope).sum()
    }

    /// Weights of the parameters in the height at which it comes to rest (where there is no end: at `horizon`).
    pub(super) fn at_rest(self, parameters: &[f64], horizon: f64) -> [f64; MOST_PARAMETERS] {
        match self {
            Self::Exponential => [1.0, 0.0, 0.0, 0.0, 0.0],
            Self::Logarithmic | Self::Both => self.slopes_at(parameters, horizon),
        }
    }

    /// The height at which it comes to rest, mm.
    pub(super) fn rest_mm(self, parameters: &[f64], horizon: f64) -> f64 {
        match self {
            Self::Exponential => parameters[0],
            Self::Logarithmic | Self::Both => self.value(parameters, horizon),
        }
    }

    /// The first x, from 0 on, from which on less than `left_mm` is still to come; none if that is never.
    pub(super) fn x_with_less_left(self, parameters: &[f64], left_mm: f64, horizon: f64) -> Option<f64> {
        let x = match self {
            // amplitude · exp(−x/tau) = left
            Self::Exponential => parameters[2] * libm::log(parameters[1].abs() / left_mm),
            // b · ln((x0 + horizon)/(x0 + x)) = left
            Self::Logarithmic => (parameters[2] + horizon) * libm::exp(-left_mm / parameters[1].abs()) - parameters[2],
            Self::Both => self.last_crossing(parameters, left_mm, horizon),
        };
        let x = x.max(0.0);
        x.is_finite().then_some(x)
    }

    /// The last x up to the horizon at which so much is left: looked for day by day from the end, then halved in.
    fn last_crossing(self, parameters: &[f64], left_mm: f64, horizon: f64) -> f64 {
        let rest = self.rest_mm(parameters, horizon);
        let more = |x: f64| (self.value(parameters, x) - rest).abs() >= left_mm;
        let step = horizon / HORIZON_DAY;
        let steps = HORIZON_DAY as usize;
        let Some(last) = (0..steps).rev().map(|i| i as f64 * step).find(|x| more(*x)) else { return 0.0 };
        let (mut low, mut high) = (last, last + step);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if more(middle) { low = middle } else { high = middle }
        }
        high
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slopes_are_those_of_the_heights() {
        for (law, parameters) in [
            (Law::Exponential, vec![600.0, 14.0, 15.0]),
            (Law::Logarithmic, vec![610.0, 4.0, 3.0]),
            (Law::Both, vec![605.0, 9.0, 2.0, 13.0, 5.0]),
        ] {
            for x in [0.0, 2.0, 40.0] {
                let slopes = law.slopes_at(&parameters, x);
                for i in 0..law.parameters() {
                    let moved = |by: f64| {
                        let mut moved = parameters.clone();
                        moved[i] += by;
                        law.value(&moved, x)
                    };
                    let by_difference = (moved(1e-4) - moved(-1e-4)) / 2e-4;
                    assert!((slopes[i] - by_difference).abs() < 1e-6, "{law:?} {i} {x}");
                }
            }
        }
    }

    #[test]
    fn both_without_a_logarithm_ends_as_the_exponential() {
        // 14·exp(−x/15) = 2 at 15·ln 7.
        let x = Law::Both.x_with_less_left(&[597.0, 14.0, 0.0, 15.0, 5.0], 2.0, 365.0).expect("an end");
        assert!((x - 15.0 * libm::log(7.0)).abs() < 1e-6, "{x}");
    }
}

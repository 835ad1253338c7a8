//! A law laid through heights: rates by search over all that the days could show, the rest linear, doubt by likelihood.

use super::creep::Number;
use super::law::{Law, MOST_PARAMETERS};
use super::linear::{Heights, Linear};
use super::points::{Points, SLOWEST_OF_SPAN};
use super::search::{search, tried_rates};
use crate::least_squares::LeastSquaresError;

/// Likelihood below which a rate counts for nothing.
const LEAST_LIKELIHOOD: f64 = 1e-6;

/// The best that some rates can do.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tried {
    pub(super) parameters: [f64; MOST_PARAMETERS],
    pub(super) linear: Linear,
    /// Σ ((law − height)/u)²; of a rate that lines share: of all of them.
    pub(super) sum: f64,
}

/// A law laid through heights.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LawFit {
    pub(super) law: Law,
    /// The clock at which a law without an end is called final.
    pub(super) horizon: f64,
    /// The law's own, then the steps.
    pub(super) parameters: Vec<f64>,
    pub(super) covariance: Vec<Vec<f64>>,
    /// Law less height.
    pub(super) residuals: Vec<f64>,
    pub(super) leverage: Vec<f64>,
    pub(super) sum: f64,
    /// What other rates can do, up to one as slow as the stretch is long, each with its likelihood.
    pub(super) tried: Vec<(f64, Tried)>,
    /// Of a rate that another end shares: how unlikely its heights make a rate, times −2, by the rate's logarithm in order.
    pub(super) alike: Vec<(f64, f64)>,
}

impl LawFit {
    /// The best fit, searched over every rate that the heights could show.
    ///
    /// # Errors
    /// Fewer heights than parameters, all at one clock, or a number that is not finite.
    pub(super) fn of(law: Law, points: &Points, horizon: f64) -> Result<Self, LeastSquaresError> {
        let ranges = points.rates(law);
        let none = LeastSquaresError::NotDetermined { column: law.linear() };
        let heights = Heights::of(points).ok_or_else(|| none.clone())?;
        let (tried, best) = tried_rates(law, &heights, ranges).ok_or(none)?;
        let fit = search(law, points, &best.all(law, &heights), ranges)?;
        let slowest = |place: usize| (ranges[place].1 / SLOWEST_OF_SPAN).max(fit.parameters[law.linear() + place]);
        let shown =
            |tried: &Tried| (0..law.rates()).all(|place| tried.parameters[law.linear() + place] <= slowest(place));
        let tried = weighed(tried.into_iter().filter(shown), fit.sum_weighted_squares);
        let count = law.parameters() + points.steps.len();
        Ok(Self {
            law,
            horizon,
            covariance: (0..count).map(|i| (0..count).map(|j| fit.covariance(i, j)).collect()).collect(),
            residuals: fit.residuals,
            leverage: fit.leverage,
            sum: fit.sum_weighted_squares,
            parameters: fit.parameters,
            tried,
            alike: Vec::new(),
        })
    }

    /// Parameters of the law, without the steps.
    pub(super) fn of_law(&self) -> &[f64] {
        &self.parameters[..self.law.parameters()]
    }

    /// Standard uncertainty of a parameter.
    pub(super) fn u(&self, parameter: usize) -> f64 {
        self.covariance[parameter][parameter].max(0.0).sqrt()
    }

    /// The rates that the heights show, least and most: none slower than the stretch is long, unless it fits best.
    pub(super) fn rates_shown(&self, points: &Points) -> (f64, f64) {
        let (least, most) = points.rates(self.law)[0];
        let own = self.parameters[self.law.linear()];
        (least.min(own), (most / SLOWEST_OF_SPAN).max(own))
    }

    /// How unlikely the heights of an end with the same rate make a rate, times −2.
    pub(super) fn alike(&self, rate: f64) -> f64 {
        let at = libm::log(rate);
        let after = self.alike.partition_point(|known| known.0 < at);
        match (after.checked_sub(1).map(|before| self.alike[before]), self.alike.get(after)) {
            (Some((from, low)), Some((to, high))) => low + (high - low) * (at - from) / (to - from),
            (Some((_, only)), None) => only,
            (None, Some((_, only))) => *only,
            (None, None) => 0.0,
        }
    }

    /// 1 for a car that comes down, −1 for one that rises beyond doubt.
    pub(super) fn way_down(&self) -> f64 {
        if self.parameters[1] < -2.0 * self.u(1) { -1.0 } else { 1.0 }
    }

    /// Slope of the height at `x`, mm a unit of the clock, by a small difference.
    pub(super) fn slope(&self, x: f64) -> f64 {
        let by = (x.abs() * 1e-4).max(1e-4);
        (self.law.value(self.of_law(), x + by) - self.law.value(self.of_law(), (x - by).max(0.0)))
            / (x + by - (x - by).max(0.0))
    }

    /// Residual over its own standard deviation; none where nothing checks the height.
    pub(super) fn standardised(&self, row: usize, u: f64) -> Option<f64> {
        let redundancy = 1.0 - self.leverage[row];
        (redundancy >= 1e-9).then(|| self.residuals[row] / (u * redundancy.sqrt()))
    }

    /// A number made of the parameters, with its standard uncertainty.
    ///
    /// To first order the covariance gives it. Where few days tell the rate, the law bends too much for that: every rate then
    /// counts with its likelihood exp(−χ²/2), and the larger of the two stands.
    pub(super) fn sum_of(&self, number: &Number<'_>) -> (f64, f64) {
        let weights = number(self.law, self.of_law());
        let value = self.law.sum_of(self.of_law(), &weights);
        let (mut all, mut spread) = (0.0, 0.0);
        for (likelihood, tried) in &self.tried {
            let weights = number(self.law, &tried.parameters);
            let theirs = self.law.sum_of(&tried.parameters, &weights);
            all += *likelihood;
            spread += likelihood * (tried.linear.variance_of(&weights[..self.law.linear()]) + (theirs - value).powi(2));
        }
        let by_rate = if all > 0.0 { spread / all } else { 0.0 };
        (value, self.variance_of(&weights).max(by_rate).sqrt())
    }

    pub(super) fn variance_of(&self, weights: &[f64; MOST_PARAMETERS]) -> f64 {
        let count = self.law.parameters();
        let pairs = (0..count).flat_map(|i| (0..count).map(move |j| (i, j)));
        pairs.map(|(i, j)| weights[i] * self.covariance[i][j] * weights[j]).sum::<f64>().max(0.0)
    }
}

impl Tried {
    /// The first rate.
    pub(super) fn rate(&self, law: Law) -> f64 {
        self.parameters[law.linear()]
    }

    /// The law's parameters, then the steps.
    fn all(&self, law: Law, heights: &Heights<'_>) -> Vec<f64> {
        let rates = law.rates_of(&self.parameters);
        let own = self.parameters[..law.parameters()].iter().copied();
        own.chain(heights.steps(self.linear.values, |x| law.basis(rates, x))).collect()
    }
}

/// Each with its likelihood over that of the least sum; without those that count for nothing.
pub(super) fn weighed(tried: impl Iterator<Item = Tried>, least: f64) -> Vec<(f64, Tried)> {
    let likely = tried.map(|tried| (libm::exp((least - tried.sum) / 2.0), tried));
    likely.filter(|(likelihood, _)| *likelihood > LEAST_LIKELIHOOD).collect()
}

//! A law laid through heights: rates by search over all that the days could show, the rest linear, doubt by likelihood.

use super::law::{Law, MOST_PARAMETERS};
use super::linear::{self, Linear};
use crate::curve_fit::{self, Curve, Observed};
use crate::least_squares::{Fit, LeastSquaresError};

/// Rates tried in the search, evenly on a logarithmic scale; where there are two, so many of each.
const TRIED: [usize; 2] = [48, 14];
/// First at every so many-th place …
const FAR_APART: usize = 4;
/// … then between those whose sum of squares is no more than this above the least.
const WORTH_A_LOOK: f64 = 60.0;
/// Golden sections round the best rate tried: to a thousandth of it.
const CLOSING_IN: usize = 12;
/// A rate found from there lies within this part of it.
const NEAR: f64 = 0.05;
/// Likelihood below which a rate counts for nothing.
const LEAST_LIKELIHOOD: f64 = 1e-6;

/// The slowest rate tried over the stretch from first to last.
pub(super) const SLOWEST_OF_SPAN: f64 = 20.0;

/// Steps of a height at work that moves the car at once; more than the last so many are not told apart.
pub(super) const MOST_STEPS: usize = 3;

/// Heights by clock, in order, and the steps between them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Points {
    /// Clock, height and its u.
    pub(super) rows: Vec<Observed>,
    /// The day of each.
    pub(super) days: Vec<f64>,
    /// Days on which the height made a step; the law is that of the heights after the last.
    pub(super) steps: Vec<f64>,
}

impl Points {
    /// Heights by plain day, without steps.
    pub(super) fn plain(rows: Vec<Observed>) -> Self {
        Self { days: rows.iter().map(|row| row.x).collect(), rows, steps: Vec::new() }
    }

    /// What a row is taken times a step: −1 before it.
    pub(super) fn before(&self, row: usize, step: usize) -> f64 {
        if self.days[row] < self.steps[step] { -1.0 } else { 0.0 }
    }

    pub(super) fn without(&self, row: usize) -> Self {
        let mut others = self.clone();
        others.rows.remove(row);
        others.days.remove(row);
        others
    }

    /// From the first to the last, and the shortest step between two.
    fn span(&self) -> (f64, f64) {
        let (first, last) = (self.rows.first().map_or(0.0, |row| row.x), self.rows.last().map_or(1.0, |row| row.x));
        let span = (last - first).max(1e-6);
        let apart = self.rows.windows(2).map(|pair| pair[1].x - pair[0].x).filter(|apart| *apart > 0.0);
        (span, apart.fold(span, f64::min).max(span * 1e-4))
    }

    /// The rates that the heights could show, least and most, for each rate of a law.
    pub(super) fn rates(&self, law: Law) -> [(f64, f64); 2] {
        let (span, step) = self.span();
        let (exponential, logarithm) = ((step / 20.0, span * SLOWEST_OF_SPAN), (step / 50.0, span * SLOWEST_OF_SPAN));
        match law {
            Law::Exponential => [exponential; 2],
            Law::Logarithmic => [logarithm; 2],
            Law::Both => [exponential, logarithm],
        }
    }
}

/// Rates evenly on a logarithmic scale.
pub(super) fn grid((least, most): (f64, f64), count: usize) -> impl Iterator<Item = f64> + Clone {
    let step = libm::log(most / least) / (count - 1) as f64;
    (0..count).map(move |tried| least * libm::exp(step * tried as f64))
}

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
}

impl LawFit {
    /// The best fit, searched over every rate that the heights could show.
    ///
    /// # Errors
    /// Fewer heights than parameters, all at one clock, or a number that is not finite.
    pub(super) fn of(law: Law, points: &Points, horizon: f64) -> Result<Self, LeastSquaresError> {
        let ranges = points.rates(law);
        let tried = if law.rates() == 1 { one_rate(law, points, ranges[0]) } else { two_rates(law, points, ranges) };
        let Some(best) = (0..tried.len()).min_by(|a, b| tried[*a].sum.total_cmp(&tried[*b].sum)) else {
            return Err(LeastSquaresError::NotDetermined { column: law.linear() });
        };
        let start = if law.rates() == 1 && best > 0 && best + 1 < tried.len() {
            let round = [best - 1, best + 1].map(|at| tried[at].rate(law));
            let rate = lowest(round[0], round[1], CLOSING_IN, |rate| {
                try_rates(law, points, [rate, 0.0]).map_or(f64::INFINITY, |tried| tried.sum)
            });
            try_rates(law, points, [rate, 0.0]).unwrap_or_else(|| tried[best].clone())
        } else {
            tried[best].clone()
        };
        let fit = search(law, points, &start.all(law, points.steps.len()), ranges)?;
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

    /// Height of the law, mm, with its standard uncertainty.
    pub(super) fn at(&self, x: f64) -> (f64, f64) {
        self.sum_of(|law, parameters| (law.value(parameters, x), law.slopes_at(parameters, x)))
    }

    /// Height at rest, mm, with its standard uncertainty.
    pub(super) fn rest(&self) -> (f64, f64) {
        let horizon = self.horizon;
        self.sum_of(|law, parameters| (law.rest_mm(parameters, horizon), law.at_rest(parameters, horizon)))
    }

    /// What is still to come after `x`, mm, with its standard uncertainty.
    pub(super) fn left_after(&self, x: f64) -> (f64, f64) {
        let horizon = self.horizon;
        self.sum_of(|law, parameters| {
            let (now, rest) = (law.slopes_at(parameters, x), law.at_rest(parameters, horizon));
            let weights = std::array::from_fn(|i| now[i] - rest[i]);
            (law.value(parameters, x) - law.rest_mm(parameters, horizon), weights)
        })
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
    fn sum_of(&self, number: impl Fn(Law, &[f64]) -> (f64, [f64; MOST_PARAMETERS])) -> (f64, f64) {
        let (value, weights) = number(self.law, self.of_law());
        let (mut all, mut spread) = (0.0, 0.0);
        for (likelihood, tried) in &self.tried {
            let (theirs, weights) = number(self.law, &tried.parameters);
            all += *likelihood;
            spread += likelihood * (tried.linear.variance_of(&weights[..self.law.linear()]) + (theirs - value).powi(2));
        }
        let by_rate = if all > 0.0 { spread / all } else { 0.0 };
        (value, self.variance_of(&weights).max(by_rate).sqrt())
    }

    fn variance_of(&self, weights: &[f64; MOST_PARAMETERS]) -> f64 {
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
    fn all(&self, law: Law, steps: usize) -> Vec<f64> {
        let own = self.parameters[..law.parameters()].iter();
        own.chain(&self.linear.values[law.linear()..law.linear() + steps]).copied().collect()
    }
}

/// Each with its likelihood over that of the least sum; without those that count for nothing.
pub(super) fn weighed(tried: impl Iterator<Item = Tried>, least: f64) -> Vec<(f64, Tried)> {
    let likely = tried.map(|tried| (libm::exp((least - tried.sum) / 2.0), tried));
    likely.filter(|(likelihood, _)| *likelihood > LEAST_LIKELIHOOD).collect()
}

/// Rates in order, those near the best close to each other: what is far off is tried at every fourth place only.
fn one_rate(law: Law, points: &Points, range: (f64, f64)) -> Vec<Tried> {
    let rates: Vec<f64> = grid(range, TRIED[0]).collect();
    let mut tried: Vec<Option<Tried>> = vec![None; rates.len()];
    let far: Vec<usize> = (0..rates.len()).step_by(FAR_APART).chain([rates.len() - 1]).collect();
    for &at in &far {
        tried[at] = try_rates(law, points, [rates[at], 0.0]);
    }
    let sum = |tried: &Option<Tried>| tried.as_ref().map_or(f64::INFINITY, |tried| tried.sum);
    let least = far.iter().map(|&at| sum(&tried[at])).fold(f64::INFINITY, f64::min);
    for pair in far.windows(2) {
        if pair.iter().any(|&at| sum(&tried[at]) <= least + WORTH_A_LOOK) {
            for at in pair[0] + 1..pair[1] {
                tried[at] = try_rates(law, points, [rates[at], 0.0]);
            }
        }
    }
    tried.into_iter().flatten().collect()
}

fn two_rates(law: Law, points: &Points, ranges: [(f64, f64); 2]) -> Vec<Tried> {
    let second = || grid(ranges[1], TRIED[1]);
    let pairs = grid(ranges[0], TRIED[1]).flat_map(|first| second().map(move |second| [first, second]));
    pairs.filter_map(|rates| try_rates(law, points, rates)).collect()
}

/// The lowest place of a function with one dip between two rates, on a logarithmic scale (golden section).
pub(super) fn lowest(least: f64, most: f64, halvings: usize, of: impl Fn(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let at = |place: f64| libm::exp(place);
    let (mut low, mut high) = (libm::log(least), libm::log(most));
    let mut inner = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    let mut sums = inner.map(|place| of(at(place)));
    for _ in 0..halvings {
        if sums[0] < sums[1] {
            high = inner[1];
            inner = [high - GOLDEN * (high - low), inner[0]];
            sums = [of(at(inner[0])), sums[0]];
        } else {
            low = inner[0];
            inner = [inner[1], low + GOLDEN * (high - low)];
            sums = [sums[1], of(at(inner[1]))];
        }
    }
    at(f64::midpoint(low, high))
}

/// All parameters that are linear, at some rates; none where they cannot be told apart.
pub(super) fn try_rates(law: Law, points: &Points, rates: [f64; 2]) -> Option<Tried> {
    let linear = linear::fit(points, law.linear(), |x| law.basis(rates, x))?;
    let mut parameters = [0.0; MOST_PARAMETERS];
    parameters[..law.linear()].copy_from_slice(&linear.values[..law.linear()]);
    parameters[law.linear()..law.parameters()].copy_from_slice(&rates[..law.rates()]);
    Some(Tried { parameters, sum: linear.sum, linear })
}

/// The minimum near a start. A rate outside of what was tried is one that the heights cannot show: it stays where it was, known
/// within its own size and no better.
fn search(law: Law, points: &Points, start: &[f64], ranges: [(f64, f64); 2]) -> Result<Fit, LeastSquaresError> {
    let laid = Laid { law, points };
    let rows: Vec<Observed> =
        points.rows.iter().enumerate().map(|(at, row)| Observed { x: at as f64, ..*row }).collect();
    let inside = |fit: &Fit| {
        (0..law.rates()).all(|place| {
            let (least, most) = ranges[place];
            (least..=most).contains(&fit.parameters[law.linear() + place])
        })
    };
    // Near a dip a few rounds of the linear problem are enough; else it is looked for with care.
    let near = if law.rates() == 1 { curve_fit::refine(&laid, &rows, start).ok() } else { None };
    let settles = |fit: &Fit| {
        let rate = law.linear();
        (fit.parameters[rate] / start[rate] - 1.0).abs() < NEAR
    };
    let searched = near.filter(settles).or_else(|| curve_fit::fit(&laid, &rows, start).ok());
    if let Some(fit) = searched.filter(inside) {
        return Ok(fit);
    }
    let mut held = rows.clone();
    for place in 0..law.rates() {
        let rate = start[law.linear() + place];
        held.push(Observed { x: (rows.len() + place) as f64, y: rate, u: rate });
    }
    let mut fit = curve_fit::here(&laid, &held, start)?;
    fit.residuals.truncate(rows.len());
    fit.leverage.truncate(rows.len());
    fit.degrees_of_freedom = rows.len().saturating_sub(start.len());
    Ok(fit)
}

/// A law as a curve over the numbers of its rows, so that steps stand in it; behind the last row, its rates.
struct Laid<'p> {
    law: Law,
    points: &'p Points,
}

impl Curve for Laid<'_> {
    fn value(&self, parameters: &[f64], row: f64) -> f64 {
        let (at, own) = (row as usize, self.law.parameters());
        let Some(row) = self.points.rows.get(at) else {
            return parameters[self.law.linear() + at - self.points.rows.len()];
        };
        let steps = (0..self.points.steps.len()).map(|step| parameters[own + step] * self.points.before(at, step));
        self.law.value(&parameters[..own], row.x) + steps.sum::<f64>()
    }

    fn slopes(&self, parameters: &[f64], row: f64, slopes: &mut [f64]) {
        let (at, own) = (row as usize, self.law.parameters());
        slopes.fill(0.0);
        let Some(row) = self.points.rows.get(at) else {
            slopes[self.law.linear() + at - self.points.rows.len()] = 1.0;
            return;
        };
        slopes[..own].copy_from_slice(&self.law.slopes_at(&parameters[..own], row.x)[..own]);
        for step in 0..self.points.steps.len() {
            slopes[own + step] = self.points.before(at, step);
        }
    }
}

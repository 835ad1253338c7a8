//! The way to the rates that fit best: over all that the heights could show, then by halving in, then by the curve's own slopes.

use super::fit::Tried;
use super::law::{Law, MOST_PARAMETERS};
use super::linear::Heights;
use super::points::Points;
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

/// Rates evenly on a logarithmic scale.
pub(super) fn grid((least, most): (f64, f64), count: usize) -> impl Iterator<Item = f64> + Clone {
    let step = libm::log(most / least) / (count - 1) as f64;
    (0..count).map(move |tried| least * libm::exp(step * tried as f64))
}

/// What the rates can do that the heights could show, and the best to set out from; none where no rates can be told.
pub(super) fn tried_rates(law: Law, heights: &Heights<'_>, ranges: [(f64, f64); 2]) -> Option<(Vec<Tried>, Tried)> {
    let tried = if law.rates() == 1 { one_rate(law, heights, ranges[0]) } else { two_rates(law, heights, ranges) };
    let best = (0..tried.len()).min_by(|a, b| tried[*a].sum.total_cmp(&tried[*b].sum))?;
    let at = |rate: f64| try_rates(law, heights, [rate, 0.0]);
    let nearer = (law.rates() == 1 && best > 0 && best + 1 < tried.len()).then(|| {
        let round = [best - 1, best + 1].map(|at| tried[at].rate(law));
        at(lowest(round[0], round[1], CLOSING_IN, |rate| at(rate).map_or(f64::INFINITY, |tried| tried.sum)))
    });
    let start = nearer.flatten().unwrap_or_else(|| tried[best].clone());
    Some((tried, start))
}

/// Rates in order, those near the best close to each other: what is far off is tried at every fourth place only.
fn one_rate(law: Law, heights: &Heights<'_>, range: (f64, f64)) -> Vec<Tried> {
    let rates: Vec<f64> = grid(range, TRIED[0]).collect();
    let mut tried: Vec<Option<Tried>> = vec![None; rates.len()];
    let far: Vec<usize> = (0..rates.len()).step_by(FAR_APART).chain([rates.len() - 1]).collect();
    for &at in &far {
        tried[at] = try_rates(law, heights, [rates[at], 0.0]);
    }
    let sum = |tried: &Option<Tried>| tried.as_ref().map_or(f64::INFINITY, |tried| tried.sum);
    let least = far.iter().map(|&at| sum(&tried[at])).fold(f64::INFINITY, f64::min);
    for pair in far.windows(2) {
        if pair.iter().any(|&at| sum(&tried[at]) <= least + WORTH_A_LOOK) {
            for at in pair[0] + 1..pair[1] {
                tried[at] = try_rates(law, heights, [rates[at], 0.0]);
            }
        }
    }
    tried.into_iter().flatten().collect()
}

fn two_rates(law: Law, heights: &Heights<'_>, ranges: [(f64, f64); 2]) -> Vec<Tried> {
    let second = || grid(ranges[1], TRIED[1]);
    let pairs = grid(ranges[0], TRIED[1]).flat_map(|first| second().map(move |second| [first, second]));
    pairs.filter_map(|rates| try_rates(law, heights, rates)).collect()
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
pub(super) fn try_rates(law: Law, heights: &Heights<'_>, rates: [f64; 2]) -> Option<Tried> {
    let linear = heights.fit(law.linear(), |x| law.basis(rates, x))?;
    let mut parameters = [0.0; MOST_PARAMETERS];
    parameters[..law.linear()].copy_from_slice(&linear.values[..law.linear()]);
    parameters[law.linear()..law.parameters()].copy_from_slice(&rates[..law.rates()]);
    Some(Tried { parameters, sum: linear.sum, linear })
}

/// The minimum near a start. A rate outside of what was tried is one that the heights cannot show: it stays where it was, known
/// within its own size and no better.
pub(super) fn search(
    law: Law,
    points: &Points,
    start: &[f64],
    ranges: [(f64, f64); 2],
) -> Result<Fit, LeastSquaresError> {
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

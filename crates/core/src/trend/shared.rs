//! One rate for front and rear, where the heights ask for it: both ends of a car are worked on together and driven the same way.

use super::fit::{LawFit, Tried, weighed};
use super::fitted::{Fitted, aicc};
use super::law::Law;
use super::linear::Heights;
use super::points::{Points, SLOWEST_OF_SPAN};
use super::search::{grid, lowest, try_rates};
use crate::curve_fit::{self, Curve, Observed};

/// Rates tried, evenly on a logarithmic scale.
const TRIED: usize = 48;
/// Two ends that share a rate do so within this, as a standard deviation of its logarithm; common practice, no source.
const ALIKE: f64 = 0.35;
/// Halvings of the bracket round the best of them: to a thousandth of it; the last digits come after.
const HALVINGS: usize = 16;

/// Two ends laid with one rate.
#[derive(Debug, Clone)]
pub(super) struct Shared {
    /// Front and rear, each with its own uncertainties.
    pub(super) ends: [Fitted; 2],
    pub(super) aicc: f64,
}

/// AICc of two ends laid each by itself, as one set of heights.
pub(super) fn apart(front: &Fitted, rear: &Fitted) -> Option<f64> {
    let (n, k) = (front.heights() + rear.heights(), front.parameters() + rear.parameters());
    aicc(front.laid.sum + rear.laid.sum, n, k)
}

impl Shared {
    /// One law of one rate through the heights that two fits of that law have used. None where no rate can be told.
    pub(super) fn of(law: Law, front: &Fitted, rear: &Fitted) -> Option<Self> {
        let [(front_least, front_most), (rear_least, rear_most)] = [front, rear].map(|end| end.points.rates(law)[0]);
        let ends = [&front.points, &rear.points];
        let heights = both(ends.map(Heights::of))?;
        let at = |rate: f64| both(heights.each_ref().map(|heights| try_rates(law, heights, [rate, 0.0])));
        let rates: Vec<f64> = grid((front_least.min(rear_least), front_most.max(rear_most)), TRIED).collect();
        let tried: Vec<Option<[Tried; 2]>> = rates.iter().map(|rate| at(*rate)).collect();
        let sum = |tried: &Option<[Tried; 2]>| tried.as_ref().map_or(f64::INFINITY, |ends| ends[0].sum + ends[1].sum);
        let best = (0..TRIED).min_by(|a, b| sum(&tried[*a]).total_cmp(&sum(&tried[*b])))?;
        if best == 0 || best + 1 == TRIED {
            return None;
        }
        let rate = lowest(rates[best - 1], rates[best + 1], HALVINGS, |rate| sum(&at(rate)));
        let [front_best, rear_best] = at(rate)?;
        let joint = Joint { law, ends };
        let start: Vec<f64> = [(&front_best, 0), (&rear_best, 1)]
            .into_iter()
            .flat_map(|(tried, end): (&Tried, usize)| {
                let steps = heights[end].steps(tried.linear.values, |x| law.basis([rate, 0.0], x));
                tried.linear.values[..law.linear()].iter().copied().chain(steps)
            })
            .chain([rate])
            .collect();
        let rows: Vec<Observed> = joint.rows().enumerate().map(|(at, row)| Observed { x: at as f64, ..*row }).collect();
        let fit = curve_fit::refine(&joint, &rows, &start).ok()?;
        let slowest = rates[TRIED - 1] / SLOWEST_OF_SPAN;
        let shown = |tried: &&[Tried; 2]| tried[0].parameters[law.linear()] <= slowest.max(rate);
        let pairs: Vec<&[Tried; 2]> = tried.iter().flatten().filter(shown).collect();
        let laid = |end: usize, own: &Fitted| {
            let places = joint.places(end);
            let first = if end == 0 { 0 } else { ends[0].rows.len() };
            let span = first..first + ends[end].rows.len();
            let with = |pair: &&[Tried; 2]| Tried { sum: alike(law, &pairs, pair, end), ..pair[end].clone() };
            let residuals = fit.residuals[span.clone()].to_vec();
            let squares = residuals.iter().zip(&ends[end].rows).map(|(v, row)| (v / row.u).powi(2));
            Fitted {
                laid: LawFit {
                    law,
                    horizon: own.laid.horizon,
                    parameters: places.iter().map(|place| fit.parameters[*place]).collect(),
                    covariance: places
                        .iter()
                        .map(|i| places.iter().map(|j| fit.covariance(*i, *j)).collect())
                        .collect(),
                    sum: squares.sum(),
                    leverage: fit.leverage[span].to_vec(),
                    residuals,
                    alike: pairs
                        .iter()
                        .map(|pair| (libm::log(pair[end].rate(law)), alike(law, &pairs, pair, end) - pair[end].sum))
                        .collect(),
                    tried: {
                        let own: Vec<Tried> = pairs.iter().map(with).collect();
                        let least = own.iter().map(|tried| tried.sum).fold(f64::INFINITY, f64::min);
                        weighed(own.into_iter(), least)
                    },
                },
                points: ends[end].clone(),
                left_out: own.left_out.clone(),
            }
        };
        let (n, k) = (front.heights() + rear.heights(), front.parameters() + rear.parameters() - 1);
        Some(Self { ends: [laid(0, front), laid(1, rear)], aicc: aicc(fit.sum_weighted_squares, n, k)? })
    }
}

/// The sum of squares of one end's rate, where the other end's is as alike as two ends are: it is given by what that end's heights
/// make of the rates round this one.
fn alike(law: Law, pairs: &[&[Tried; 2]], pair: &[Tried; 2], end: usize) -> f64 {
    let other = 1 - end;
    let (mut all, mut weights) = (0.0, 0.0);
    let least = pairs.iter().map(|pair| pair[other].sum).fold(f64::INFINITY, f64::min);
    for near in pairs {
        let apart = libm::log(near[other].rate(law) / pair[end].rate(law)) / ALIKE;
        let weight = libm::exp(-apart * apart / 2.0);
        all += weight * libm::exp((least - near[other].sum) / 2.0);
        weights += weight;
    }
    pair[end].sum + least - 2.0 * libm::log((all / weights).max(f64::MIN_POSITIVE))
}

fn both<T>(ends: [Option<T>; 2]) -> Option<[T; 2]> {
    let [Some(front), Some(rear)] = ends else { return None };
    Some([front, rear])
}

/// Both ends as one curve over the numbers of their rows: linear parameters and steps of the front, of the rear, then the rate.
struct Joint<'p> {
    law: Law,
    ends: [&'p Points; 2],
}

impl<'p> Joint<'p> {
    fn rows(&self) -> impl Iterator<Item = &'p Observed> {
        let [front, rear] = self.ends;
        front.rows.iter().chain(&rear.rows)
    }

    /// Linear parameters and steps of an end.
    fn columns(&self, end: usize) -> usize {
        self.law.linear() + self.ends[end].steps.len()
    }

    /// Places of an end's parameters in the law's own order, then its steps.
    fn places(&self, end: usize) -> Vec<usize> {
        let first = if end == 0 { 0 } else { self.columns(0) };
        let rate = self.columns(0) + self.columns(1);
        let linear = self.law.linear();
        (first..first + linear).chain([rate]).chain(first + linear..first + self.columns(end)).collect()
    }

    /// The end of a row, and its number there.
    fn end_of(&self, row: usize) -> (usize, usize) {
        let front = self.ends[0].rows.len();
        if row < front { (0, row) } else { (1, row - front) }
    }
}

impl Curve for Joint<'_> {
    fn value(&self, parameters: &[f64], row: f64) -> f64 {
        let (end, row) = self.end_of(row as usize);
        let own: Vec<f64> = self.places(end).into_iter().map(|place| parameters[place]).collect();
        let (law, steps) = own.split_at(self.law.parameters());
        let steps = steps.iter().enumerate().map(|(step, size)| size * self.ends[end].before(row, step));
        self.law.value(law, self.ends[end].rows[row].x) + steps.sum::<f64>()
    }

    fn slopes(&self, parameters: &[f64], row: f64, slopes: &mut [f64]) {
        let (end, row) = self.end_of(row as usize);
        let places = self.places(end);
        let own: Vec<f64> = places.iter().map(|place| parameters[*place]).collect();
        let count = self.law.parameters();
        let of_law = self.law.slopes_at(&own[..count], self.ends[end].rows[row].x);
        slopes.fill(0.0);
        for (at, place) in places.into_iter().enumerate() {
            slopes[place] = if at < count { of_law[at] } else { self.ends[end].before(row, at - count) };
        }
    }
}

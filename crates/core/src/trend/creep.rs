//! Slow creep behind an exponential: few days show it, a year does. It counts as far as the days allow it and springs are known for it.
//!
//! height = law − size · ln(1 + clock/x0). The size is not known beforehand but for one thing: after the first eight weeks springs
//! go on by 0 to 3 mm a year (common practice, no source). So the drop of the year after them has a half normal distribution; the
//! heights then say how much of it is left. What comes out is the mean of all rates, sizes and clocks, each with what it fits.

use super::fit::{LawFit, Tried};
use super::fitted::Fitted;
use super::law::{Law, MOST_PARAMETERS};
use super::linear::{Heights, Linear};
use super::search::{grid, try_rates};
use super::timeline::Timeline;

/// Scale of the half normal distribution of the drop from the end of the eighth week on, in a year: six in ten springs stay below 3 mm.
const YEAR_MM: f64 = 3.5;
/// That year.
const YEAR: [f64; 2] = [56.0, 421.0];
/// After so many days, or what is driven in them, the creep has taken its logarithm's way; each counts alike.
const BEGINS: [f64; 3] = [2.0, 7.0, 25.0];
/// Rates tried at first, then again round those that fit.
const TRIED: usize = 40;
/// How often again at most.
const ROUNDS: usize = 3;
/// Fewer rates than this with a share that counts are too few for a mean.
const ENOUGH: usize = 6;
/// A share of the best one's that counts.
const COUNTS: f64 = 0.02;
/// Below it a share is nothing.
const NOTHING: f64 = 1e-6;

/// The slopes of a number, made of a law's linear parameters, by each parameter.
pub(super) type Number<'n> = dyn Fn(Law, &[f64]) -> [f64; MOST_PARAMETERS] + 'n;
/// What the same number is of a creep of size 1, which is a function of the day.
pub(super) type OfCreep<'n> = dyn Fn(&dyn Fn(f64) -> f64) -> f64 + 'n;

/// One way along which the creep may go.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Along {
    clock: usize,
    x0: f64,
    /// Scale of its size, mm.
    scale: f64,
}

/// A rate of the law, with creep of some size along one way.
#[derive(Debug, Clone, PartialEq)]
struct Crept {
    share: f64,
    parameters: [f64; MOST_PARAMETERS],
    linear: Linear,
    along: Along,
    /// What the law takes up of a creep of size 1.
    taken_up: [f64; 3],
    size: Size,
}

/// The creep that an exponential's heights allow.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Creep {
    clocks: Vec<Timeline>,
    crept: Vec<Crept>,
    /// Twice the logarithm of how much likelier the heights are with the likeliest of it than with the law alone.
    pub(super) asked_for: f64,
}

impl Creep {
    /// Behind an exponential, by each of the clocks; none behind a law that has no end by itself, or where no rates can be told.
    pub(super) fn behind(fitted: &Fitted, clocks: &[Timeline]) -> Option<Self> {
        let laid = &fitted.laid;
        if laid.law != Law::Exponential {
            return None;
        }
        let heights = Heights::of(&fitted.points)?;
        let of_clock = |clock: usize| BEGINS.into_iter().filter_map(move |days| Along::of(&clocks[clock], clock, days));
        let ways: Vec<Along> = (0..clocks.len()).flat_map(of_clock).collect();
        let on_rows: Vec<Vec<f64>> =
            ways.iter().map(|along| fitted.points.days.iter().map(|day| along.at(clocks, *day)).collect()).collect();
        let sign = laid.way_down();
        let slowest = laid.rates_shown(&fitted.points).1;
        let mut range = laid.rates_shown(&fitted.points);
        let (mut all, mut best) = (Vec::new(), f64::NEG_INFINITY);
        for _ in 0..ROUNDS {
            // With each, twice the logarithm of how well it fits.
            let mut crept: Vec<(f64, Crept)> = Vec::new();
            for rate in grid(range, TRIED) {
                let Some(tried) = try_rates(laid.law, &heights, [rate, 0.0]) else { continue };
                let sum = tried.sum + laid.alike(rate);
                let beside = heights.beside(&tried.linear, |x| laid.law.basis([rate, 0.0], x), &on_rows);
                for (along, beside) in ways.iter().zip(beside) {
                    let (size, likelier) = Size::of(beside.own, sign * beside.asked_for, along.scale);
                    let size = Size { mean: sign * size.mean, ..size };
                    let Tried { parameters, linear, .. } = tried;
                    let (along, taken_up) = (along.clone(), beside.taken_up);
                    crept.push((2.0 * likelier - sum, Crept { share: 0.0, parameters, linear, along, taken_up, size }));
                }
            }
            best = crept.iter().map(|(fits, _)| *fits).fold(f64::NEG_INFINITY, f64::max);
            if !best.is_finite() {
                return None;
            }
            let share = |fits: f64| libm::exp((fits - best) / 2.0);
            let counts = crept.iter().filter(|(fits, _)| share(*fits) > COUNTS);
            let rates: Vec<f64> = counts.map(|(_, crept)| crept.parameters[laid.law.linear()]).collect();
            let enough = rates.len() >= ENOUGH * ways.len();
            let (fast, slow) =
                rates.into_iter().fold((f64::INFINITY, 0.0_f64), |(fast, slow), rate| (fast.min(rate), slow.max(rate)));
            all = crept.into_iter().map(|(fits, crept)| Crept { share: share(fits), ..crept }).collect();
            if enough {
                break;
            }
            // A step of the grid on each side of what counts.
            let step = libm::exp(libm::log(range.1 / range.0) / (TRIED - 1) as f64);
            range = (fast / step, (slow * step).min(slowest));
        }
        all.retain(|crept: &Crept| crept.share > NOTHING);
        let asked_for = best + laid.sum + laid.alike(laid.parameters[laid.law.linear()]);
        Some(Self { clocks: clocks.to_vec(), crept: all, asked_for })
    }

    /// The same behind the same law laid through other heights.
    pub(super) fn again(&self, fitted: &Fitted) -> Option<Self> {
        Self::behind(fitted, &self.clocks)
    }

    /// A number made of the parameters and of the creep, with its standard uncertainty: `number` of the law, `along` of a creep of size 1
    /// by day.
    pub(super) fn sum_of(&self, laid: &LawFit, number: &Number<'_>, along: &OfCreep<'_>) -> (f64, f64) {
        let of_each = |crept: &Crept| {
            let weights = number(laid.law, &crept.parameters);
            let value = laid.law.sum_of(&crept.parameters, &weights);
            let taken_up: f64 = crept.taken_up.iter().zip(weights).take(laid.law.linear()).map(|(a, b)| a * b).sum();
            let by_size = taken_up - along(&|day| crept.along.at(&self.clocks, day));
            let variance =
                crept.linear.variance_of(&weights[..laid.law.linear()]) + crept.size.variance * by_size * by_size;
            (crept.share, value + crept.size.mean * by_size, variance)
        };
        let each: Vec<(f64, f64, f64)> = self.crept.iter().map(of_each).collect();
        let all: f64 = each.iter().map(|(share, ..)| share).sum();
        let mean = each.iter().map(|(share, value, _)| share * value).sum::<f64>() / all;
        let spread = each.iter().map(|(share, value, variance)| share * (variance + (value - mean).powi(2)));
        let spread = spread.sum::<f64>() / all;
        let weights = number(laid.law, laid.of_law());
        (mean, spread.max(laid.variance_of(&weights)).sqrt())
    }
}

impl Along {
    /// None where its clock stands still.
    fn of(timeline: &Timeline, clock: usize, days: f64) -> Option<Self> {
        let x0 = timeline.usual(days);
        let [from, to] = YEAR.map(|day| libm::log1p(timeline.usual(day) / x0));
        (x0 > 0.0 && to > from).then(|| Self { clock, x0, scale: YEAR_MM / (to - from) })
    }

    fn at(&self, clocks: &[Timeline], day: f64) -> f64 {
        libm::log1p(clocks[self.clock].at(day).max(0.0) / self.x0)
    }
}

/// The logarithm of how likely a drop in the year after the eighth week is, as springs are known, times −2; 0 without one.
pub(super) fn unlikely(year_mm: f64) -> f64 {
    (year_mm / YEAR_MM).powi(2)
}

/// The days of that year.
pub(super) const fn year() -> [f64; 2] {
    YEAR
}

/// What the heights leave of a size that is never below 0.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Size {
    mean: f64,
    variance: f64,
}

impl Size {
    /// From the squares of one size more and the scale of the half normal distribution it comes from; with the logarithm of how much
    /// likelier the heights are with it.
    fn of(own: f64, asked_for: f64, scale: f64) -> (Self, f64) {
        let sure = own + 1.0 / (scale * scale);
        let sd = 1.0 / sure.sqrt();
        // exp(−own·size²/2 − asked_for·size) over the half normal one: a normal distribution cut off at 0, so many of its own
        // standard deviations below its middle.
        let cut = -asked_for * sd;
        let width = libm::log(2.0 * sd / scale);
        if cut < FAR {
            // Mills' ratio and its moments far out, by their series.
            let square = 1.0 / (cut * cut);
            let mean = sd / -cut * (1.0 - 2.0 * square + 10.0 * square * square);
            let variance = sd * sd * square * (1.0 - 6.0 * square + 50.0 * square * square);
            let ratio = (1.0 - square + 3.0 * square * square) / (-cut * ROOT_OF_TWO_PI);
            return (Self { mean, variance }, width + libm::log(ratio));
        }
        let part = 0.5 * libm::erfc(-cut * std::f64::consts::FRAC_1_SQRT_2);
        let ratio = libm::exp(-cut * cut / 2.0) / ROOT_OF_TWO_PI / part;
        let mean = sd * (cut + ratio);
        let variance = sd * sd * (1.0 - ratio * (ratio + cut));
        (Self { mean, variance }, width + cut * cut / 2.0 + libm::log(part))
    }
}

/// From there on out a normal distribution's tail is taken by its series.
const FAR: f64 = -6.0;
const ROOT_OF_TWO_PI: f64 = 2.506_628_274_631_000_5;

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the sum over the size itself, step by step.
    #[test]
    fn a_size_cut_off_at_nothing_has_the_moments_of_its_sum() {
        for (own, asked_for, scale) in [(4.0, -6.0, 1.5), (0.5, 0.2, 2.0), (3.0, 9.0, 1.8), (2.0, 40.0, 1.5)] {
            let step = 1e-4;
            let (mut all, mut first, mut second) = (0.0, 0.0, 0.0);
            for at in 0..100_000 {
                let size = (f64::from(at) + 0.5) * step;
                let before = 2.0 / (scale * ROOT_OF_TWO_PI) * libm::exp(-(size / scale).powi(2) / 2.0);
                let share = before * libm::exp(-own * size * size / 2.0 - asked_for * size) * step;
                all += share;
                first += share * size;
                second += share * size * size;
            }
            let (mean, variance) = (first / all, second / all - (first / all).powi(2));
            let (size, more) = Size::of(own, asked_for, scale);
            assert!((size.mean / mean - 1.0).abs() < 2e-3, "{own} {asked_for}: {size:?} {mean}");
            assert!((size.variance / variance - 1.0).abs() < 2e-2, "{own} {asked_for}: {size:?} {variance}");
            assert!((more - libm::log(all)).abs() < 2e-3, "{own} {asked_for}: {more} {}", libm::log(all));
        }
    }
}

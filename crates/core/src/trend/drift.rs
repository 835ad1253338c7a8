//! Whether readings go on drifting, told from their scatter: limits for each reading and a mean that fades.
//!
//! Each reading is held against the mean of those before it, at most the first eight, so that no later reading changes what was said
//! of an earlier one. How far it may be off comes from what is known of the readings themselves, with what they share; where they
//! scatter more than that, the scatter counts. A bad reading is named and counts no further than its limit, in the fading mean and in the
//! centre; it takes two on one side to make a drift.

use super::chart::{ChartLimits, Ewma, spread_of};
use nalgebra::{DMatrix, DVector};

/// Readings before the first that is judged.
const LEAST_BEFORE: usize = 4;
/// The centre is the mean of so many readings at most.
const MOST_IN_CENTRE: usize = 8;
/// Each reading's weight in the fading mean: a drift of one standard deviation is seen after about ten readings
/// (NIST/SEMATECH e-Handbook 6.3.2.4: 0.2 to 0.3).
const FADING: Ewma = Ewma { weight: 0.2 };
/// Limits of readings and of the fading mean, standard deviations.
const WIDTH: f64 = 3.0;

/// Readings without a drift, on the average, until one is signalled all the same; simulated in `tests/scenarios/drift.rs`.
pub const READINGS_TO_A_FALSE_ALARM: f64 = 1_000.0;

/// What the chart says of one reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Charted {
    /// Mean of the readings before it, at most of the first eight.
    pub centre: f64,
    /// Where the reading itself should lie.
    pub reading: ChartLimits,
    /// The fading mean with this reading in it.
    pub fading_mean: f64,
    /// Where that should lie.
    pub fading: ChartLimits,
    /// Standard uncertainty of the fading mean over the centre (k = 1).
    pub fading_u: f64,
    /// True where the reading lies outside of its limits: read it again.
    pub is_out: bool,
    /// True where the fading mean does: a drift.
    pub is_drift: bool,
}

/// Charts readings in the order they were taken; the first four have no chart yet.
///
/// `covariance` is that of the readings, each with itself and with the others, in the square of their unit.
///
/// # Panics
/// Where `covariance` has another size than `readings`.
pub fn chart(readings: &[f64], covariance: &DMatrix<f64>) -> Vec<Option<Charted>> {
    let count = readings.len();
    assert_eq!(covariance.shape(), (count, count), "a row and a column for each reading");
    let mut scatter = Scatter::default();
    // The fading mean as a sum over the readings, and the covariance times its weights.
    let mut fading = Sum { weights: DVector::zeros(count), product: DVector::zeros(count) };
    let mut mean = 0.0;
    let mut charted: Vec<Option<Charted>> = Vec::new();
    // The readings as far as they count.
    let mut counted = readings.to_vec();
    hold_first(&mut counted, covariance);
    for at in 0..count {
        if at > 0 {
            scatter.add(readings, covariance, at);
        }
        if at < LEAST_BEFORE {
            charted.push(None);
            continue;
        }
        let wider = scatter.before(at);
        let centre = Sum::mean_of(at.min(MOST_IN_CENTRE), covariance);
        let off = Sum::of(at, covariance).less(&centre);
        let width = WIDTH * wider * off.u();
        let middle = centre.value(&counted);
        let reading = ChartLimits::about(middle, width);
        counted[at] = readings[at].clamp(reading.lower, reading.upper);
        fading = off.times(FADING.weight).plus(1.0 - FADING.weight, &fading);
        mean = FADING.next(mean, counted[at] - middle);
        let fading_u = wider * fading.u();
        let limits = ChartLimits::about(middle, WIDTH * fading_u);
        let is_out = reading.is_beyond(readings[at]);
        let was_out = charted[at - 1].is_some_and(|before| before.is_out);
        charted.push(Some(Charted {
            centre: middle,
            reading,
            fading_mean: middle + mean,
            fading: limits,
            fading_u,
            is_out,
            is_drift: limits.is_beyond(middle + mean) && (!is_out || was_out),
        }));
    }
    charted
}

/// A bad reading among the first, which nothing was known of: each counts no further than three of its u from their median.
fn hold_first(counted: &mut [f64], covariance: &DMatrix<f64>) {
    let first = counted.len().min(LEAST_BEFORE);
    let mut sorted = counted[..first].to_vec();
    sorted.sort_by(f64::total_cmp);
    let Some(below) = first.checked_sub(1) else { return };
    let median = (sorted[below / 2] + sorted[first / 2]) / 2.0;
    for (at, reading) in counted[..first].iter_mut().enumerate() {
        let limits = ChartLimits::about(median, WIDTH * covariance[(at, at)].max(0.0).sqrt());
        *reading = reading.clamp(limits.lower, limits.upper);
    }
}

/// How much more readings scatter than their uncertainty says, from one to the next.
#[derive(Debug, Default)]
struct Scatter {
    /// Moving ranges over what one reading's uncertainty makes of them.
    ranges: Vec<f64>,
}

impl Scatter {
    fn add(&mut self, readings: &[f64], covariance: &DMatrix<f64>, at: usize) {
        let variance = covariance[(at, at)] + covariance[(at - 1, at - 1)] - 2.0 * covariance[(at, at - 1)];
        let one = (variance / 2.0).max(0.0).sqrt();
        if one > 0.0 {
            self.ranges.push((readings[at] - readings[at - 1]).abs() / one);
        }
    }

    /// From the readings before one; never less than 1.
    fn before(&self, at: usize) -> f64 {
        let known = self.ranges.len().min(at - 1);
        spread_of(self.ranges[..known].to_vec()).map_or(1.0, |spread| spread.max(1.0))
    }
}

/// A sum of readings with weights.
struct Sum {
    weights: DVector<f64>,
    /// Covariance times the weights.
    product: DVector<f64>,
}

impl Sum {
    /// One reading.
    fn of(at: usize, covariance: &DMatrix<f64>) -> Self {
        let mut weights = DVector::zeros(covariance.nrows());
        weights[at] = 1.0;
        Self { weights, product: covariance.column(at).into_owned() }
    }

    /// Mean of the first readings, weighted by 1/u².
    fn mean_of(first: usize, covariance: &DMatrix<f64>) -> Self {
        let weight = |at: usize| 1.0 / covariance[(at, at)].max(f64::MIN_POSITIVE);
        let all: f64 = (0..first).map(weight).sum();
        let (mut weights, mut product) = (DVector::zeros(covariance.nrows()), DVector::zeros(covariance.nrows()));
        for at in 0..first {
            weights[at] = weight(at) / all;
            product.axpy(weights[at], &covariance.column(at), 1.0);
        }
        Self { weights, product }
    }

    fn times(mut self, factor: f64) -> Self {
        self.weights *= factor;
        self.product *= factor;
        self
    }

    fn plus(mut self, factor: f64, other: &Self) -> Self {
        self.weights.axpy(factor, &other.weights, 1.0);
        self.product.axpy(factor, &other.product, 1.0);
        self
    }

    fn less(self, other: &Self) -> Self {
        self.plus(-1.0, other)
    }

    fn value(&self, readings: &[f64]) -> f64 {
        self.weights.iter().zip(readings).map(|(weight, reading)| weight * reading).sum()
    }

    fn u(&self) -> f64 {
        self.weights.dot(&self.product).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four readings of ± 1, then others: the centre is 0 and its u ½.
    fn after(others: &[f64]) -> Vec<Option<Charted>> {
        let readings: Vec<f64> = [0.5, -0.5, 0.5, -0.5].iter().chain(others).copied().collect();
        chart(&readings, &DMatrix::identity(readings.len(), readings.len()))
    }

    #[test]
    fn limits_by_hand() {
        let charted = after(&[2.0]);
        assert_eq!(charted[..4], [None; 4]);
        let fifth = charted[4].expect("a chart");
        // Ranges of 1 over u 1: no more scatter than stated (1.048 is taken as it is). 3·1.04836·√(1 + ¼) = 3.5163.
        assert!((fifth.reading.upper - 3.516_3).abs() < 1e-3, "{fifth:?}");
        // 0.2·2 = 0.4, and its limit 0.2 of the reading's own.
        assert!((fifth.fading_mean - 0.4).abs() < 1e-12 && (fifth.fading.upper - 0.703_3).abs() < 1e-3, "{fifth:?}");
        assert!(!fifth.is_out && !fifth.is_drift);
    }

    #[test]
    fn one_bad_reading_is_out_and_no_drift_two_are_one() {
        let one = after(&[50.0, 0.3, -0.3, 0.2]);
        assert!(one[4].expect("a chart").is_out);
        assert!(one.iter().flatten().all(|charted| !charted.is_drift), "{one:?}");
        let step = after(&[6.0, 5.5, 6.2, 5.8]);
        assert!(!step[4].expect("a chart").is_drift && step[5].expect("a chart").is_drift, "{step:?}");
    }

    #[test]
    fn an_error_that_all_readings_share_makes_no_limit_wider() {
        let readings = [0.5, -0.5, 0.5, -0.5, 0.4, 0.1];
        let own = chart(&readings, &DMatrix::identity(6, 6));
        let shared = chart(&readings, &(DMatrix::identity(6, 6) + DMatrix::from_element(6, 6, 100.0)));
        for (own, shared) in own.into_iter().flatten().zip(shared.into_iter().flatten()) {
            assert!((own.reading.upper - shared.reading.upper).abs() < 1e-6, "{own:?} {shared:?}");
        }
    }
}

//! Control charts as the handbooks have them: single readings with their moving ranges, and a mean that fades (EWMA).
//!
//! # Source
//! NIST/SEMATECH *e-Handbook of Statistical Methods*, 6.3.2.2 (individuals charts) and 6.3.2.4 (EWMA); T. Pyzdek, P. Keller, *The
//! Handbook for Quality Management* (factor 2.66). Their printed cases are tests in `tests/reference`.

/// Mean moving range of two over the standard deviation of a normal distribution (d₂ for two, as printed).
const RANGE_OF_TWO: f64 = 1.128;

/// Upper limit of a moving range of two, times their mean (D₄ for two, as printed).
const RANGE_LIMIT: f64 = 3.267;

/// Median moving range of two over the standard deviation: √2 times the upper quartile of the normal distribution, 0.6745.
const MEDIAN_RANGE_OF_TWO: f64 = 0.953_87;

/// Limits on both sides of a centre, in the unit of the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChartLimits {
    /// Below it a reading is out.
    pub lower: f64,
    /// Above it.
    pub upper: f64,
}

impl ChartLimits {
    /// So far from a centre on both sides.
    pub(super) fn about(centre: f64, width: f64) -> Self {
        Self { lower: centre - width, upper: centre + width }
    }

    /// Whether a value lies outside.
    pub fn is_beyond(&self, value: f64) -> bool {
        value < self.lower || value > self.upper
    }
}

/// Single readings and how they differ from one to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Individuals {
    /// Of the readings.
    pub mean: f64,
    /// |second − first|, |third − second|, …
    pub moving_ranges: Vec<f64>,
    /// Their mean.
    pub mean_moving_range: f64,
}

impl Individuals {
    /// Three standard deviations over the mean moving range. Books also print it rounded, 2.66.
    pub const PER_RANGE: f64 = 3.0 / RANGE_OF_TWO;

    /// Of readings in the order they were taken; none with fewer than two.
    pub fn of(readings: &[f64]) -> Option<Self> {
        let moving_ranges = moving_ranges(readings);
        if moving_ranges.is_empty() {
            return None;
        }
        let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
        Some(Self { mean: mean(readings), mean_moving_range: mean(&moving_ranges), moving_ranges })
    }

    /// Limits of a single reading: so many mean moving ranges from the mean, usually [`Self::PER_RANGE`].
    pub fn limits(&self, per_range: f64) -> ChartLimits {
        ChartLimits::about(self.mean, per_range * self.mean_moving_range)
    }

    /// Upper limit of a moving range; the lower one is 0.
    pub fn range_limit(&self) -> f64 {
        RANGE_LIMIT * self.mean_moving_range
    }
}

/// |second − first|, |third − second|, …
pub(super) fn moving_ranges(readings: &[f64]) -> Vec<f64> {
    readings.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect()
}

/// Standard deviation from the median of moving ranges, which one step or one bad reading hardly moves; none without any.
pub(super) fn spread_of(mut moving_ranges: Vec<f64>) -> Option<f64> {
    moving_ranges.sort_by(f64::total_cmp);
    let (below, above) = (moving_ranges.len().checked_sub(1)? / 2, moving_ranges.len() / 2);
    Some((moving_ranges[below] + moving_ranges[above]) / 2.0 / MEDIAN_RANGE_OF_TWO)
}

/// A mean that fades: each reading enters with a weight, all before it with what is left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ewma {
    /// Of the newest reading, above 0 and at most 1.
    pub weight: f64,
}

impl Ewma {
    /// The next mean.
    pub fn next(self, before: f64, reading: f64) -> f64 {
        self.weight * reading + (1.0 - self.weight) * before
    }

    /// From the target on: as many values as readings, and the target before them.
    pub fn means(self, target: f64, readings: &[f64]) -> Vec<f64> {
        let mut means = vec![target];
        for reading in readings {
            means.push(self.next(means[means.len() - 1], *reading));
        }
        means
    }

    /// Limits that hold after many readings, `width` standard deviations of the fading mean from the target:
    /// its variance is weight/(2 − weight) of that of one reading.
    pub fn limits(self, target: f64, standard_deviation: f64, width: f64) -> ChartLimits {
        ChartLimits::about(target, width * standard_deviation * (self.weight / (2.0 - self.weight)).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_step_hardly_moves_the_median_range() {
        let spread = |readings: &[f64]| spread_of(moving_ranges(readings)).expect("ranges");
        // Ranges 1, 1, 1, 1 and 1, 9, 1, 1: the median stays 1, over 0.95387.
        assert!((spread(&[0.0, 1.0, 0.0, 1.0, 0.0]) - 1.048_36).abs() < 1e-5);
        assert!((spread(&[0.0, 1.0, 10.0, 11.0, 10.0]) - 1.048_36).abs() < 1e-5);
        assert_eq!((spread_of(Vec::new()), Individuals::of(&[4.0])), (None, None));
    }

    #[test]
    fn a_fading_mean_by_hand() {
        // 0.5·4 + 0.5·0 = 2, 0.5·2 + 0.5·2 = 2; √(0.5/1.5) = 0.577.
        let ewma = Ewma { weight: 0.5 };
        assert_eq!(ewma.means(0.0, &[4.0, 2.0]), [0.0, 2.0, 2.0]);
        assert!((ewma.limits(0.0, 1.0, 3.0).upper - 3.0_f64.sqrt()).abs() < 1e-12);
    }
}

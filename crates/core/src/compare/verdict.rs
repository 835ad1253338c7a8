//! Whether a difference is real.

use crate::stance::{Figure, Known};
use serde::Serialize;

/// One word for a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within the doubt: |d| ≤ 2u.
    Same,
    /// Beyond doubt: |d| > 3u.
    Changed,
    /// Within the tolerance t beyond doubt: |d| < t − 2u.
    On,
    /// Outside of it beyond doubt: |d| > t + 2u.
    Off,
    /// Clear of a limit beyond doubt.
    Within,
    /// Past a limit beyond doubt.
    Outside,
    /// Neither.
    #[serde(rename = "can't_tell")]
    CantTell,
}

/// A difference with its standard uncertainty (k = 1) and verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// mm or degrees; absent where nothing tells it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// In the same unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Where it comes from.
    pub known: Known,
    /// In one word.
    pub verdict: Verdict,
}

impl Difference {
    /// Judged against a tolerance, or between two snapshots where there is none.
    pub fn of(figure: Figure, tolerance: Option<f64>) -> Self {
        let verdict = match (figure.value.zip(figure.u), tolerance) {
            (None, _) => Verdict::CantTell,
            (Some((d, u)), None) => match d.abs() {
                d if d <= 2.0 * u => Verdict::Same,
                d if d > 3.0 * u => Verdict::Changed,
                _ => Verdict::CantTell,
            },
            (Some((d, u)), Some(tolerance)) => match d.abs() {
                d if d > tolerance + 2.0 * u => Verdict::Off,
                d if d < tolerance - 2.0 * u => Verdict::On,
                _ => Verdict::CantTell,
            },
        };
        Self { value: figure.value, u: figure.u, known: figure.known, verdict }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(value: f64, u: f64, tolerance: Option<f64>) -> Verdict {
        let figure = Figure { value: Some(value), u: Some(u), known: Known::Measured, band_if: None };
        Difference::of(figure, tolerance).verdict
    }

    #[test]
    fn two_and_three_u_part_the_words() {
        assert_eq!(
            [2.0, 2.5, -3.0, -3.1].map(|d| verdict(d, 1.0, None)),
            [Verdict::Same, Verdict::CantTell, Verdict::CantTell, Verdict::Changed]
        );
        assert_eq!(
            [3.9, 4.0, -8.0, -8.1].map(|d| verdict(d, 1.0, Some(6.0))),
            [Verdict::On, Verdict::CantTell, Verdict::CantTell, Verdict::Off]
        );
    }

    #[test]
    fn a_band_wider_than_the_tolerance_never_says_on() {
        assert_eq!(verdict(0.0, 3.0, Some(6.0)), Verdict::CantTell);
    }
}

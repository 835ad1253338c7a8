//! Least squares of a curve that is not linear in its parameters.
//!
//! The way to the minimum is that of Levenberg and Marquardt (the library `levenberg-marquardt`, after MINPACK); covariance,
//! leverage and the last digits come from the linear problem at the minimum, by [`least_squares::fit`](crate::least_squares::fit).
//!
//! # Source
//! J. J. Moré, *The Levenberg-Marquardt algorithm: implementation and theory* (1978). Values of the NIST StRD nonlinear sets,
//! from both published starts, are tests in `tests/reference`.

use crate::least_squares::{self, Fit, LeastSquaresError};
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, Owned};

/// A curve with its slopes.
pub trait Curve {
    /// Height of the curve at `x`.
    fn value(&self, parameters: &[f64], x: f64) -> f64;
    /// Partial derivatives by each parameter at `x`, into `slopes` of the same length as `parameters`.
    fn slopes(&self, parameters: &[f64], x: f64, slopes: &mut [f64]);
}

/// One observed point of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observed {
    /// Where.
    pub x: f64,
    /// What was observed there.
    pub y: f64,
    /// Its standard uncertainty, above 0.
    pub u: f64,
}

/// Rounds of the last digits, after which a nearly flat minimum is found as well as double precision can.
const LAST_DIGITS: usize = 6;

/// Searches from `start` for the parameters that fit best, and gives them with their covariance.
///
/// # Errors
/// Too few points, a number that is not finite, or parameters that cannot be told apart at the minimum.
pub fn fit(curve: &impl Curve, points: &[Observed], start: &[f64]) -> Result<Fit, LeastSquaresError> {
    if points.len() < start.len() {
        return Err(LeastSquaresError::TooFew { observations: points.len(), parameters: start.len() });
    }
    let search = Search { curve, points, at: DVector::from_column_slice(start) };
    let (found, _) = LevenbergMarquardt::new().with_patience(2_000).minimize(search);
    refine(curve, points, found.at.as_slice())
}

/// The last digits from parameters that fit almost best, and the covariance there.
///
/// # Errors
/// As [`fit`].
pub fn refine(curve: &impl Curve, points: &[Observed], near: &[f64]) -> Result<Fit, LeastSquaresError> {
    let u: Vec<f64> = points.iter().map(|point| point.u).collect();
    let mut best = at(curve, points, &u, near)?;
    for _ in 0..LAST_DIGITS {
        let next = match at(curve, points, &u, &best.next) {
            // At the minimum the sum is flat and goes up and down in its last digits, while the parameters still improve.
            Ok(next) if next.sum <= best.sum * (1.0 + 1e-12) => next,
            _ => break,
        };
        let arrived = |(now, before): (&f64, &f64)| (now - before).abs() <= 1e-15 * now.abs();
        let done = next.parameters.iter().zip(&best.parameters).all(arrived);
        best = next;
        if done {
            break;
        }
    }
    Ok(best.done())
}

/// The covariance at these parameters, which stay as they are.
///
/// # Errors
/// As [`fit`].
pub fn here(curve: &impl Curve, points: &[Observed], parameters: &[f64]) -> Result<Fit, LeastSquaresError> {
    let u: Vec<f64> = points.iter().map(|point| point.u).collect();
    Ok(at(curve, points, &u, parameters)?.done())
}

/// The linear problem at some parameters.
struct Linear {
    parameters: Vec<f64>,
    /// Adjusted less observed.
    residuals: Vec<f64>,
    sum: f64,
    /// The parameters that the linear problem would take next.
    next: Vec<f64>,
    fit: Fit,
}

impl Linear {
    /// The fit at its own parameters.
    fn done(mut self) -> Fit {
        self.fit.parameters = self.parameters;
        self.fit.residuals = self.residuals;
        self.fit.sum_weighted_squares = self.sum;
        self.fit
    }
}

fn at(curve: &impl Curve, points: &[Observed], u: &[f64], parameters: &[f64]) -> Result<Linear, LeastSquaresError> {
    let mut slopes = vec![0.0; parameters.len()];
    let mut design = DMatrix::zeros(points.len(), parameters.len());
    let residuals: Vec<f64> = points.iter().map(|point| curve.value(parameters, point.x) - point.y).collect();
    for (row, point) in points.iter().enumerate() {
        curve.slopes(parameters, point.x, &mut slopes);
        for (column, slope) in slopes.iter().enumerate() {
            design[(row, column)] = *slope;
        }
    }
    let left: Vec<f64> = residuals.iter().map(|v| -v).collect();
    let fit = least_squares::fit(&design, &left, u)?;
    let next = parameters.iter().zip(&fit.parameters).map(|(now, step)| now + step).collect();
    let sum = residuals.iter().zip(u).map(|(v, u)| (v / u).powi(2)).sum();
    Ok(Linear { parameters: parameters.to_vec(), residuals, sum, next, fit })
}

/// The problem as the library asks for it.
struct Search<'c, C> {
    curve: &'c C,
    points: &'c [Observed],
    at: DVector<f64>,
}

impl<C: Curve> LeastSquaresProblem<f64, Dyn, Dyn> for Search<'_, C> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, x: &DVector<f64>) {
        self.at.copy_from(x);
    }

    fn params(&self) -> DVector<f64> {
        self.at.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let left = |point: &Observed| (self.curve.value(self.at.as_slice(), point.x) - point.y) / point.u;
        Some(DVector::from_iterator(self.points.len(), self.points.iter().map(left)))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let mut slopes = vec![0.0; self.at.len()];
        let mut jacobian = DMatrix::zeros(self.points.len(), self.at.len());
        for (row, point) in self.points.iter().enumerate() {
            self.curve.slopes(self.at.as_slice(), point.x, &mut slopes);
            for (column, slope) in slopes.iter().enumerate() {
                jacobian[(row, column)] = slope / point.u;
            }
        }
        Some(jacobian)
    }
}

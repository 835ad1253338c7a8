//! Least squares: a dense kernel by orthogonal factors, and normal equations for rows with few entries.
//!
//! Both weigh each observation with 1/u² and give parameters, their covariance (k = 1, a priori: not multiplied by the
//! variance factor) and the part of each observation that the others check.
//!
//! # Source
//! G. H. Golub, C. F. Van Loan, *Matrix Computations*, 5.3 (QR with Householder reflections) and 4.2 (Cholesky); redundancy
//! numbers as in W. Baarda, *A Testing Procedure for Use in Geodetic Networks* (1968).

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Why observations do not determine their parameters.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LeastSquaresError {
    /// Fewer observations than parameters, or sizes that do not go together.
    #[error("{observations} observations cannot determine {parameters} parameters")]
    TooFew {
        /// How many there are.
        observations: usize,
        /// How many are asked for.
        parameters: usize,
    },
    /// A column is a combination of the ones before it.
    #[error("parameter {column} cannot be told from the ones before it")]
    NotDetermined {
        /// Counted from 0.
        column: usize,
    },
    /// A number is not finite, or a u is not above zero.
    #[error("observation {row} is not a finite number with a u above zero")]
    NotFinite {
        /// Counted from 0.
        row: usize,
    },
}

/// A solved dense problem.
#[derive(Debug, Clone)]
pub struct Fit {
    /// In the order of the design's columns.
    pub parameters: Vec<f64>,
    /// Adjusted less observed, in the unit of the observations.
    pub residuals: Vec<f64>,
    /// Part of each observation that the fit takes from itself, 0 to 1; redundancy is one less this.
    pub leverage: Vec<f64>,
    /// Σ (residual / u)².
    pub sum_weighted_squares: f64,
    /// Observations less parameters.
    pub degrees_of_freedom: usize,
    /// Inverse of R with the columns' scales: covariance = S Sᵀ.
    inverse_factor: DMatrix<f64>,
}

impl Fit {
    /// Covariance of two parameters.
    pub fn covariance(&self, i: usize, j: usize) -> f64 {
        self.inverse_factor.row(i).dot(&self.inverse_factor.row(j))
    }

    /// Standard uncertainty of a parameter.
    pub fn u(&self, i: usize) -> f64 {
        self.inverse_factor.row(i).norm()
    }

    /// Standard uncertainty of a linear combination of the parameters.
    ///
    /// # Panics
    /// Where `weights` has another length than the parameters.
    pub fn u_of(&self, weights: &[f64]) -> f64 {
        self.inverse_factor.tr_mul(&DVector::from_column_slice(weights)).norm()
    }

    /// Sum of weighted squares over degrees of freedom; none without any.
    pub fn variance_factor(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0).then(|| self.sum_weighted_squares / self.degrees_of_freedom as f64)
    }

    /// Residual over its own standard deviation; none where nothing checks the observation (redundancy below 1e-9).
    pub fn standardised(&self, row: usize, u: f64) -> Option<f64> {
        let redundancy = 1.0 - self.leverage[row];
        (redundancy >= 1e-9).then(|| self.residuals[row] / (u * redundancy.sqrt()))
    }
}

/// Fits `design` · parameters to `observed`, each with standard uncertainty `u`.
///
/// Columns are scaled to equal length, factored by Householder reflections, and the solution is refined once, so that a
/// tenth-degree polynomial keeps what double precision can hold.
///
/// # Errors
/// Too few observations, a number that is not finite, or parameters that cannot be told apart.
pub fn fit(design: &DMatrix<f64>, observed: &[f64], u: &[f64]) -> Result<Fit, LeastSquaresError> {
    let (rows, columns) = design.shape();
    if columns == 0 || rows < columns || observed.len() != rows || u.len() != rows {
        return Err(LeastSquaresError::TooFew { observations: rows, parameters: columns });
    }
    let bad = |row: &usize| {
        let finite = observed[*row].is_finite() && design.row(*row).iter().all(|a| a.is_finite());
        !(finite && u[*row].is_finite() && u[*row] > 0.0)
    };
    if let Some(row) = (0..rows).find(bad) {
        return Err(LeastSquaresError::NotFinite { row });
    }
    let mut scaled = design.clone();
    for (row, u) in u.iter().enumerate() {
        scaled.row_mut(row).unscale_mut(*u);
    }
    let scales: Vec<f64> = scaled.column_iter().map(|column| column.norm()).collect();
    if let Some(column) = scales.iter().position(|scale| *scale == 0.0) {
        return Err(LeastSquaresError::NotDetermined { column });
    }
    for (column, scale) in scales.iter().enumerate() {
        scaled.column_mut(column).unscale_mut(*scale);
    }
    let qr = scaled.clone().qr();
    let r = qr.r();
    if let Some(column) = (0..columns).find(|j| r[(*j, *j)].abs() < f64::EPSILON * rows as f64) {
        return Err(LeastSquaresError::NotDetermined { column });
    }
    let q = qr.q();
    let solve = |right: &DVector<f64>| -> DVector<f64> {
        let mut x = q.tr_mul(right);
        r.solve_upper_triangular_mut(&mut x);
        x
    };
    let weighted = DVector::from_iterator(rows, observed.iter().zip(u).map(|(y, u)| y / u));
    let mut x = solve(&weighted);
    x += solve(&(&weighted - &scaled * &x));
    let misfit = &scaled * &x - &weighted;

    let mut inverse_factor = DMatrix::identity(columns, columns);
    r.solve_upper_triangular_mut(&mut inverse_factor);
    for (row, scale) in scales.iter().enumerate() {
        inverse_factor.row_mut(row).unscale_mut(*scale);
    }
    Ok(Fit {
        parameters: x.iter().zip(&scales).map(|(x, scale)| x / scale).collect(),
        residuals: misfit.iter().zip(u).map(|(v, u)| v * u).collect(),
        leverage: q.row_iter().map(|row| row.norm_squared()).collect(),
        sum_weighted_squares: misfit.norm_squared(),
        degrees_of_freedom: rows - columns,
        inverse_factor,
    })
}

/// Normal equations built row by row from observations that touch few parameters.
#[derive(Debug, Clone)]
pub struct NormalEquations {
    matrix: DMatrix<f64>,
    right: DVector<f64>,
}

/// Least square of a pivot against the largest weight sum: below, cancellation has taken more than ten digits.
const LEAST_PIVOT: f64 = 1e-10;

/// One observation's partial derivatives: parameter and coefficient.
pub type Row = [(usize, f64)];

impl NormalEquations {
    /// For that many parameters.
    pub fn new(parameters: usize) -> Self {
        Self { matrix: DMatrix::zeros(parameters, parameters), right: DVector::zeros(parameters) }
    }

    /// Adds an observation: `row` · parameters = `observed` with standard uncertainty `u`.
    pub fn add(&mut self, row: &Row, observed: f64, u: f64) {
        let weight = 1.0 / (u * u);
        for (i, a) in row {
            self.right[*i] += a * weight * observed;
            for (j, b) in row {
                self.matrix[(*i, *j)] += a * weight * b;
            }
        }
    }

    /// Solves; none where the observations leave a parameter undetermined, or so much worse determined than another that
    /// fewer than six digits would be left of its uncertainty.
    pub fn solve(self) -> Option<NormalSolution> {
        let parameters = self.right.len();
        if parameters == 0 {
            return Some(NormalSolution { parameters: Vec::new(), inverse_factor: DMatrix::zeros(0, 0) });
        }
        let largest = self.matrix.diagonal().max();
        let factor: Cholesky<f64, Dyn> = Cholesky::new(self.matrix)?;
        let lower = factor.l_dirty();
        let smallest = lower.diagonal().iter().fold(f64::INFINITY, |least, d| least.min(d * d));
        if smallest.is_nan() || smallest < largest * LEAST_PIVOT {
            return None;
        }
        let x = factor.solve(&self.right);
        Some(NormalSolution { parameters: x.iter().copied().collect(), inverse_factor: lower_inverse(lower) })
    }
}

/// A solved set of normal equations.
#[derive(Debug, Clone)]
pub struct NormalSolution {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// L⁻¹ of the normal matrix L Lᵀ: covariance = L⁻ᵀ L⁻¹.
    inverse_factor: DMatrix<f64>,
}

impl NormalSolution {
    /// L⁻¹ `a` of a linear combination `a` of the parameters: its length is the combination's standard uncertainty, its dot
    /// product with that of another their covariance.
    pub fn whitened(&self, a: &Row) -> DVector<f64> {
        let mut out = DVector::zeros(self.parameters.len());
        for (i, factor) in a {
            // Column i of a lower triangular matrix is zero above row i.
            let column = self.inverse_factor.column(*i);
            out.rows_range_mut(*i..).axpy(*factor, &column.rows_range(*i..), 1.0);
        }
        out
    }

    /// Standard uncertainty of a linear combination of the parameters.
    pub fn u_of(&self, a: &Row) -> f64 {
        self.whitened(a).norm()
    }
}

/// Inverse of a lower triangular matrix, column by column: each column starts at its diagonal. What stands above the
/// diagonal of `lower` is not looked at.
fn lower_inverse(lower: &DMatrix<f64>) -> DMatrix<f64> {
    let n = lower.nrows();
    let mut inverse = DMatrix::zeros(n, n);
    for j in 0..n {
        let mut column = inverse.column_mut(j);
        column[j] = 1.0;
        for k in j..n {
            let x = column[k] / lower[(k, k)];
            column[k] = x;
            if x != 0.0 && k + 1 < n {
                column.rows_range_mut(k + 1..).axpy(-x, &lower.column(k).rows_range(k + 1..), 1.0);
            }
        }
    }
    inverse
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_line_through_three_points_by_hand() {
        // y = 1, 2, 2 at x = 0, 1, 2 with u 1: slope 1/2, intercept 7/6, residuals 1/6, -1/3, 1/6, leverage 5/6, 1/3, 5/6.
        let design = DMatrix::from_row_slice(3, 2, &[1.0, 0.0, 1.0, 1.0, 1.0, 2.0]);
        let fit = fit(&design, &[1.0, 2.0, 2.0], &[1.0; 3]).unwrap();
        for (ours, by_hand) in [
            (fit.parameters[0], 7.0 / 6.0),
            (fit.parameters[1], 0.5),
            (fit.residuals[1], -1.0 / 3.0),
            (fit.leverage[0], 5.0 / 6.0),
            (fit.u(1), 0.5_f64.sqrt()),
            (fit.covariance(0, 1), -0.5),
            (fit.u_of(&[1.0, 1.0]), (1.0_f64 / 3.0).sqrt()),
            (fit.sum_weighted_squares, 1.0 / 6.0),
        ] {
            assert!((ours - by_hand).abs() < 1e-14, "{ours} {by_hand}");
        }
    }

    #[test]
    fn what_is_not_determined_is_said() {
        let twice = DMatrix::from_row_slice(3, 2, &[1.0, 2.0, 1.0, 2.0, 1.0, 2.0]);
        let error = fit(&twice, &[1.0; 3], &[1.0; 3]).unwrap_err();
        assert_eq!(error, LeastSquaresError::NotDetermined { column: 1 });
        let error = fit(&DMatrix::identity(2, 2), &[1.0, f64::NAN], &[1.0; 2]).unwrap_err();
        assert_eq!(error, LeastSquaresError::NotFinite { row: 1 });
        let mut normal = NormalEquations::new(2);
        normal.add(&[(0, 1.0), (1, -1.0)], 3.0, 1.0);
        assert!(normal.solve().is_none());
    }

    proptest! {
        #[test]
        fn both_roads_lead_to_the_same_parameters_and_covariance(
            cells in proptest::collection::vec(-3.0..3.0_f64, 8 * 3),
            observed in proptest::collection::vec(-10.0..10.0_f64, 8),
            u in proptest::collection::vec(0.2..5.0_f64, 8),
        ) {
            // A unit matrix below keeps the problem well posed.
            let design = DMatrix::from_fn(11, 3, |i, j| if i < 8 { cells[i * 3 + j] } else { f64::from(u8::from(i - 8 == j)) });
            let observed: Vec<f64> = observed.into_iter().chain([0.0; 3]).collect();
            let u: Vec<f64> = u.into_iter().chain([2.0; 3]).collect();
            let dense = fit(&design, &observed, &u).unwrap();
            let mut normal = NormalEquations::new(3);
            for i in 0..11 {
                let row: Vec<(usize, f64)> = (0..3).map(|j| (j, design[(i, j)])).collect();
                normal.add(&row, observed[i], u[i]);
            }
            let sparse = normal.solve().unwrap();
            for i in 0..3 {
                prop_assert!((dense.parameters[i] - sparse.parameters[i]).abs() < 1e-9);
                for j in 0..3 {
                    let (a, b) = (dense.covariance(i, j), sparse.whitened(&[(i, 1.0)]).dot(&sparse.whitened(&[(j, 1.0)])));
                    prop_assert!((a - b).abs() < 1e-9, "{a} {b}");
                }
            }
            prop_assert!((dense.leverage.iter().sum::<f64>() - 3.0).abs() < 1e-10);
        }
    }
}

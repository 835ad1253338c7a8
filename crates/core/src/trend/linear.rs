//! Weighted least squares of a handful of linear parameters, thousands of times over: normal equations by Cholesky.
//!
//! Heights are taken from their mean, so that the squares keep their digits; the last digits of an answer come from
//! [`curve_fit`](crate::curve_fit), not from here.

use super::fit::{MOST_STEPS, Points};

/// Columns at most: three of a law, and the steps.
const MOST: usize = 3 + MOST_STEPS;

/// Least pivot over its own diagonal: below, a column is a combination of the ones before it.
const LEAST_PIVOT: f64 = 1e-12;

/// The linear parameters at some rates, with their covariance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Linear {
    pub(super) values: [f64; MOST],
    /// Σ ((fit − height)/u)².
    pub(super) sum: f64,
    /// L⁻¹ of the normal matrix L·Lᵀ, lower triangle.
    inverse: [[f64; MOST]; MOST],
    count: usize,
}

impl Linear {
    /// Variance of a combination of the first parameters.
    pub(super) fn variance_of(&self, weights: &[f64]) -> f64 {
        (0..self.count)
            .map(|row| {
                let along: f64 = weights.iter().enumerate().map(|(at, weight)| self.inverse[row][at] * weight).sum();
                along * along
            })
            .sum()
    }
}

/// Fits `columns` functions of the clock, the first of which is 1, and the steps. None where they cannot be told apart.
pub(super) fn fit(points: &Points, columns: usize, basis: impl Fn(f64) -> [f64; 3]) -> Option<Linear> {
    let count = columns + points.steps.len();
    let (all, weighted) = points.rows.iter().fold((0.0, 0.0), |(all, weighted), row| {
        let weight = 1.0 / (row.u * row.u);
        (all + weight, weighted + weight * row.y)
    });
    let mean = weighted / all;
    let of_row = |row: usize| {
        let mut columns_of = [0.0; MOST];
        columns_of[..3].copy_from_slice(&basis(points.rows[row].x));
        for step in 0..points.steps.len() {
            columns_of[columns + step] = points.before(row, step);
        }
        columns_of
    };
    let all_rows: Vec<[f64; MOST]> = (0..points.rows.len()).map(of_row).collect();
    let (mut matrix, mut right) = ([[0.0; MOST]; MOST], [0.0; MOST]);
    for (of, row) in all_rows.iter().zip(&points.rows) {
        let weight = 1.0 / (row.u * row.u);
        for i in 0..count {
            let scaled = of[i] * weight;
            right[i] += scaled * (row.y - mean);
            for j in 0..=i {
                matrix[i][j] += scaled * of[j];
            }
        }
    }
    let lower = cholesky(&matrix, count)?;
    let inverse = inverse(&lower, count);
    // x = L⁻ᵀ·(L⁻¹·right)
    let mut values = [0.0; MOST];
    for row in inverse.iter().take(count) {
        let along: f64 = row.iter().zip(&right).map(|(inverse, right)| inverse * right).sum();
        for (value, inverse) in values.iter_mut().zip(row) {
            *value += inverse * along;
        }
    }
    values[0] += mean;
    let square = |(of, row): (&[f64; MOST], &crate::curve_fit::Observed)| {
        let fitted: f64 = (0..count).map(|at| values[at] * of[at]).sum();
        ((fitted - row.y) / row.u).powi(2)
    };
    let sum = all_rows.iter().zip(&points.rows).map(square).sum::<f64>();
    sum.is_finite().then_some(Linear { values, sum, inverse, count })
}

fn cholesky(matrix: &[[f64; MOST]; MOST], count: usize) -> Option<[[f64; MOST]; MOST]> {
    let mut lower = [[0.0; MOST]; MOST];
    for i in 0..count {
        for j in 0..=i {
            let along: f64 = (0..j).map(|at| lower[i][at] * lower[j][at]).sum();
            let left = matrix[i][j] - along;
            if i == j {
                if left.is_nan() || left <= LEAST_PIVOT * matrix[i][i] {
                    return None;
                }
                lower[i][i] = left.sqrt();
            } else {
                lower[i][j] = left / lower[j][j];
            }
        }
    }
    Some(lower)
}

fn inverse(lower: &[[f64; MOST]; MOST], count: usize) -> [[f64; MOST]; MOST] {
    let mut inverse = [[0.0; MOST]; MOST];
    for (row, of) in lower.iter().enumerate().take(count) {
        let mut own = [0.0; MOST];
        own[row] = 1.0 / of[row];
        for (at, above) in inverse.iter().enumerate().take(row) {
            for (own, above) in own.iter_mut().zip(above) {
                *own -= of[at] * above / of[row];
            }
        }
        inverse[row] = own;
    }
    inverse
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve_fit::Observed;

    #[test]
    fn a_line_through_three_points_by_hand() {
        // As in `least_squares`: y = 1, 2, 2 at x = 0, 1, 2: 7/6 and 1/2, squares 1/6, u of the slope √½.
        let rows = [(0.0, 1.0), (1.0, 2.0), (2.0, 2.0)].map(|(x, y)| Observed { x, y, u: 1.0 });
        let points = Points::plain(rows.to_vec());
        let fit = fit(&points, 2, |x| [1.0, x, 0.0]).expect("a line");
        let ours = [fit.values[0], fit.values[1], fit.sum, fit.variance_of(&[0.0, 1.0])];
        for (ours, by_hand) in ours.into_iter().zip([7.0 / 6.0, 0.5, 1.0 / 6.0, 0.5]) {
            assert!((ours - by_hand).abs() < 1e-12, "{ours} {by_hand}");
        }
    }

    #[test]
    fn a_step_is_what_the_heights_rose_by() {
        let rows = [(0.0, 10.0), (1.0, 10.0), (2.0, 17.0), (3.0, 17.0)].map(|(x, y)| Observed { x, y, u: 1.0 });
        let points = Points { steps: vec![1.5], ..Points::plain(rows.to_vec()) };
        let fit = fit(&points, 1, |_| [1.0, 0.0, 0.0]).expect("a step");
        assert!((fit.values[0] - 17.0).abs() < 1e-12 && (fit.values[1] - 7.0).abs() < 1e-12, "{fit:?}");
    }
}

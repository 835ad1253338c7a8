//! Weighted least squares of a law's linear parameters at some rates, thousands of times over.
//!
//! Steps cost nothing: on each stretch between two of them heights and law are taken from their own means, and what is left are
//! the one or two sizes of the law. The last digits of an answer come from [`curve_fit`](crate::curve_fit), not from here.

use super::points::Points;
use std::ops::Range;

/// What is left of a law without its constant: one shape or two.
const SHAPES: usize = 2;

/// Least part of a shape's square that is its own: below, it is a constant or a multiple of the other.
const LEAST_PART: f64 = 1e-12;

/// Heights ready for any rates.
#[derive(Debug)]
pub(super) struct Heights<'p> {
    pub(super) points: &'p Points,
    /// 1/u².
    weights: Vec<f64>,
    /// Heights less the mean of their stretch.
    off_mean: Vec<f64>,
    stretches: Vec<Stretch>,
}

/// The heights between two steps.
#[derive(Debug)]
struct Stretch {
    rows: Range<usize>,
    weight: f64,
    mean: f64,
}

/// The linear parameters at some rates, with their covariance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Linear {
    /// The law's constant as it is after the last step, then its sizes.
    pub(super) values: [f64; 1 + SHAPES],
    /// Σ ((fit − height)/u)².
    pub(super) sum: f64,
    /// Means of the shapes on the last stretch, and the variance of a mean there.
    means: [f64; SHAPES],
    of_mean: f64,
    /// Covariance of the sizes.
    covariance: [[f64; SHAPES]; SHAPES],
}

/// What one more function of the clock would change, times its size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Beside {
    /// What the law's linear parameters take up of it.
    pub(super) taken_up: [f64; 1 + SHAPES],
    /// Weighted square of what they do not.
    pub(super) own: f64,
    /// Weighted product of that with law less height.
    pub(super) asked_for: f64,
}

impl Linear {
    /// Variance of a combination of the parameters; weights behind those of the law count for nothing.
    pub(super) fn variance_of(&self, weights: &[f64]) -> f64 {
        let of = |at: usize| weights.get(1 + at).map_or(0.0, |weight| weight - weights[0] * self.means[at]);
        let (first, second) = (of(0), of(1));
        let sizes = first * (first * self.covariance[0][0] + 2.0 * second * self.covariance[0][1])
            + second * second * self.covariance[1][1];
        weights[0] * weights[0] * self.of_mean + sizes
    }
}

/// The shapes of a law at some rates on every row, less their means.
struct Shaped {
    rows: Vec<[f64; SHAPES]>,
    /// On each stretch.
    means: Vec<[f64; SHAPES]>,
    /// Weighted squares before the means were taken away.
    squares: [f64; SHAPES],
}

impl<'p> Heights<'p> {
    /// None where a stretch between two steps has no height.
    pub(super) fn of(points: &'p Points) -> Option<Self> {
        let weights: Vec<f64> = points.rows.iter().map(|row| 1.0 / (row.u * row.u)).collect();
        let (mut stretches, mut first) = (Vec::with_capacity(points.steps.len() + 1), 0);
        for step in points.steps.iter().map(Some).chain([None]) {
            let end = step.map_or(weights.len(), |step| points.days.partition_point(|day| day < step));
            let rows = first..end;
            let weight: f64 = weights.get(rows.clone())?.iter().sum();
            if weight.is_nan() || weight <= 0.0 {
                return None;
            }
            let all: f64 = rows.clone().map(|row| weights[row] * points.rows[row].y).sum();
            stretches.push(Stretch { rows, weight, mean: all / weight });
            first = end;
        }
        let off_mean = stretches.iter().flat_map(|stretch| {
            let rows = points.rows[stretch.rows.clone()].iter();
            rows.map(|row| row.y - stretch.mean)
        });
        Some(Self { off_mean: off_mean.collect(), points, weights, stretches })
    }

    /// Fits `columns` functions of the clock, one to three, the first of which is 1. None where they cannot be told apart.
    pub(super) fn fit(&self, columns: usize, basis: impl Fn(f64) -> [f64; 1 + SHAPES]) -> Option<Linear> {
        let shaped = self.shaped(basis);
        let (matrix, right) = self.products(&shaped, &self.off_mean);
        let covariance = inverse(matrix, shaped.squares, columns - 1)?;
        let sizes = times(&covariance, right);
        let off = |(at, row): (usize, &[f64; SHAPES])| sizes[0] * row[0] + sizes[1] * row[1] - self.off_mean[at];
        let sum: f64 =
            shaped.rows.iter().enumerate().map(off).zip(&self.weights).map(|(off, weight)| weight * off * off).sum();
        let (last, means) = (self.stretches.last()?, *shaped.means.last()?);
        let constant = last.mean - sizes[0] * means[0] - sizes[1] * means[1];
        let values = [constant, sizes[0], sizes[1]];
        sum.is_finite().then_some(Linear { values, sum, means, of_mean: 1.0 / last.weight, covariance })
    }

    /// How much the heights rose at each step, for a law's parameters.
    pub(super) fn steps(&self, values: [f64; 1 + SHAPES], basis: impl Fn(f64) -> [f64; 1 + SHAPES]) -> Vec<f64> {
        let means = self.shaped(basis).means;
        let constants = means.iter().zip(&self.stretches);
        let constants: Vec<f64> =
            constants.map(|(means, stretch)| stretch.mean - values[1] * means[0] - values[2] * means[1]).collect();
        constants.windows(2).map(|pair| pair[1] - pair[0]).collect()
    }

    /// What other functions of the clock, each with its value on every row, would change of a fit.
    pub(super) fn beside(
        &self,
        linear: &Linear,
        basis: impl Fn(f64) -> [f64; 1 + SHAPES],
        others: &[Vec<f64>],
    ) -> Vec<Beside> {
        let shaped = self.shaped(basis);
        let of = |other: &Vec<f64>| {
            let mut off_mean = other.clone();
            let mut last_mean = 0.0;
            for stretch in &self.stretches {
                let all: f64 = stretch.rows.clone().map(|row| self.weights[row] * other[row]).sum();
                last_mean = all / stretch.weight;
                off_mean[stretch.rows.clone()].iter_mut().for_each(|value| *value -= last_mean);
            }
            let (_, right) = self.products(&shaped, &off_mean);
            let sizes = times(&linear.covariance, right);
            let (mut own, mut asked_for) = (0.0, 0.0);
            for (at, row) in shaped.rows.iter().enumerate() {
                let left = off_mean[at] - sizes[0] * row[0] - sizes[1] * row[1];
                let law = linear.values[1] * row[0] + linear.values[2] * row[1];
                own += self.weights[at] * left * left;
                asked_for += self.weights[at] * left * (law - self.off_mean[at]);
            }
            let constant = last_mean - sizes[0] * linear.means[0] - sizes[1] * linear.means[1];
            Beside { taken_up: [constant, sizes[0], sizes[1]], own, asked_for }
        };
        others.iter().map(of).collect()
    }

    fn shaped(&self, basis: impl Fn(f64) -> [f64; 1 + SHAPES]) -> Shaped {
        let rows = self.points.rows.iter().map(|row| basis(row.x)).map(|of| [of[1], of[2]]);
        let mut shaped = Shaped { rows: rows.collect(), means: Vec::new(), squares: [0.0; SHAPES] };
        for stretch in &self.stretches {
            let mut means = [0.0; SHAPES];
            for at in stretch.rows.clone() {
                for ((mean, square), value) in means.iter_mut().zip(&mut shaped.squares).zip(shaped.rows[at]) {
                    let weighed = self.weights[at] * value;
                    *mean += weighed / stretch.weight;
                    *square += weighed * value;
                }
            }
            for row in &mut shaped.rows[stretch.rows.clone()] {
                row.iter_mut().zip(means).for_each(|(value, mean)| *value -= mean);
            }
            shaped.means.push(means);
        }
        shaped
    }

    /// Weighted products of the shapes with each other, and with a column.
    fn products(&self, shaped: &Shaped, column: &[f64]) -> ([[f64; SHAPES]; SHAPES], [f64; SHAPES]) {
        let (mut matrix, mut right) = ([[0.0; SHAPES]; SHAPES], [0.0; SHAPES]);
        for ((row, weight), value) in shaped.rows.iter().zip(&self.weights).zip(column) {
            for i in 0..SHAPES {
                let weighed = weight * row[i];
                right[i] += weighed * value;
                for j in 0..=i {
                    matrix[i][j] += weighed * row[j];
                }
            }
        }
        matrix[0][1] = matrix[1][0];
        (matrix, right)
    }
}

/// Of a symmetric matrix of none, one or two rows that count.
fn inverse(matrix: [[f64; SHAPES]; SHAPES], squares: [f64; SHAPES], count: usize) -> Option<[[f64; SHAPES]; SHAPES]> {
    let mut inverse = [[0.0; SHAPES]; SHAPES];
    let is_own = |left: f64, square: f64| left > LEAST_PART * square;
    if count == 0 {
        return Some(inverse);
    }
    let (first, both) = (matrix[0][0], matrix[1][0]);
    if !is_own(first, squares[0]) {
        return None;
    }
    inverse[0][0] = 1.0 / first;
    if count == SHAPES {
        let second = matrix[1][1] - both * both / first;
        if !is_own(second, squares[1]) {
            return None;
        }
        let of_both = -both / (first * second);
        inverse = [[(1.0 - both * of_both) / first, of_both], [of_both, 1.0 / second]];
    }
    Some(inverse)
}

fn times(matrix: &[[f64; SHAPES]; SHAPES], column: [f64; SHAPES]) -> [f64; SHAPES] {
    matrix.map(|row| row[0] * column[0] + row[1] * column[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve_fit::Observed;
    use crate::least_squares;
    use nalgebra::DMatrix;

    #[test]
    fn a_line_through_three_points_by_hand() {
        // As in `least_squares`: y = 1, 2, 2 at x = 0, 1, 2: 7/6 and 1/2, squares 1/6, u of the slope √½.
        let rows = [(0.0, 1.0), (1.0, 2.0), (2.0, 2.0)].map(|(x, y)| Observed { x, y, u: 1.0 });
        let points = Points::plain(rows.to_vec());
        let fit = Heights::of(&points).and_then(|heights| heights.fit(2, |x| [1.0, x, 0.0])).expect("a line");
        let ours = [fit.values[0], fit.values[1], fit.sum, fit.variance_of(&[0.0, 1.0])];
        for (ours, by_hand) in ours.into_iter().zip([7.0 / 6.0, 0.5, 1.0 / 6.0, 0.5]) {
            assert!((ours - by_hand).abs() < 1e-12, "{ours} {by_hand}");
        }
    }

    #[test]
    fn a_step_is_what_the_heights_rose_by() {
        let rows = [(0.0, 10.0), (1.0, 10.0), (2.0, 17.0), (3.0, 17.0)].map(|(x, y)| Observed { x, y, u: 1.0 });
        let points = Points { steps: vec![1.5], ..Points::plain(rows.to_vec()) };
        let heights = Heights::of(&points).expect("two stretches");
        let fit = heights.fit(1, |_| [1.0, 0.0, 0.0]).expect("a step");
        let steps = heights.steps(fit.values, |_| [1.0, 0.0, 0.0]);
        assert!((fit.values[0] - 17.0).abs() < 1e-12 && (steps[0] - 7.0).abs() < 1e-12, "{fit:?} {steps:?}");
    }

    /// Two shapes and five steps, against the dense kernel with a column for each; and one function more as a column of its own.
    #[test]
    fn stretches_say_what_columns_of_steps_would() {
        let basis = |x: f64| [1.0, libm::exp(-x / 9.0), -libm::log1p(x / 4.0)];
        let rows: Vec<Observed> = (0..24)
            .map(|at| {
                let (x, i) = (f64::from(at) * 3.0, f64::from(at));
                Observed { x, y: 600.0 + 8.0 * basis(x)[1] + libm::sin(i * 1.7) + (x / 11.0).floor(), u: 1.0 + 0.1 * i }
            })
            .collect();
        let points = Points { steps: vec![10.0, 22.0, 33.0, 44.0, 55.0], ..Points::plain(rows.clone()) };
        let heights = Heights::of(&points).expect("stretches");
        let fit = heights.fit(3, basis).expect("told apart");
        let other: Vec<f64> = rows.iter().map(|row| (row.x / 7.0).sqrt()).collect();
        let beside = heights.beside(&fit, basis, std::slice::from_ref(&other))[0];

        let dense = |columns: usize| {
            let design = DMatrix::from_fn(rows.len(), columns, |row, column| match column {
                0..3 => basis(rows[row].x)[column],
                3..8 => points.before(row, column - 3),
                _ => other[row],
            });
            let y: Vec<f64> = rows.iter().map(|row| row.y).collect();
            least_squares::fit(&design, &y, &rows.iter().map(|row| row.u).collect::<Vec<_>>()).expect("determined")
        };
        let (eight, nine) = (dense(8), dense(9));
        let steps = heights.steps(fit.values, basis);
        let ours = fit.values.into_iter().chain(steps).chain([fit.sum]);
        for (at, (ours, theirs)) in
            ours.zip(eight.parameters.iter().copied().chain([eight.sum_weighted_squares])).enumerate()
        {
            assert!((ours - theirs).abs() < 1e-8, "{at}: {ours} {theirs}");
        }
        let weights = [1.0, 0.3, -2.0];
        let theirs = eight.u_of(&[1.0, 0.3, -2.0, 0.0, 0.0, 0.0, 0.0, 0.0]);
        assert!((fit.variance_of(&weights).sqrt() - theirs).abs() < 1e-9);
        // With `size` of the other less in the law: size = −asked_for/own, and the law's own move with it.
        let size = nine.parameters[8];
        assert!((-beside.asked_for / beside.own - size).abs() < 1e-8, "{beside:?} {size}");
        for at in 0..3 {
            let moved = fit.values[at] - size * beside.taken_up[at];
            assert!((moved - nine.parameters[at]).abs() < 1e-8, "{at}: {moved} {}", nine.parameters[at]);
        }
    }
}

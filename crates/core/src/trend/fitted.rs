//! Laws laid through one line's heights, one bad day left out where all others then agree, and which law they ask for.

use super::fit::LawFit;
use super::law::Law;
use super::points::Points;
use super::settling::{DoubtfulHeight, Model};
use crate::curve_fit::Observed;

/// An AICc within this of another's is a tie.
pub(super) const TIE: f64 = 2.0;
/// A height further off the law than this, in its own standard deviations, is left out once.
const LEFT_OUT: f64 = 4.0;
/// And only where the others check it that much.
const CHECKED: f64 = 0.2;
/// At most one height in so many.
const ONE_IN: usize = 8;
/// A height further off than this is named.
const NAMED: f64 = 3.29;

/// A law laid through the heights.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fitted {
    pub(super) laid: LawFit,
    /// The heights that were used.
    pub(super) points: Points,
    /// Those that were left out, with how far off they were; `day` is on the clock.
    pub(super) left_out: Vec<DoubtfulHeight>,
}

/// Akaike's criterion corrected for few heights (Hurvich and Tsai 1989), of `n` heights and `k` parameters. None where so few
/// heights bear no more parameters.
pub(super) fn aicc(sum: f64, n: usize, k: usize) -> Option<f64> {
    let left = n.checked_sub(k + 1).filter(|left| *left > 0)?;
    let (k, left) = (k as f64, left as f64);
    Some(sum + 2.0 * k + 2.0 * k * (k + 1.0) / left)
}

impl Fitted {
    pub(super) fn of(law: Law, points: &Points, horizon: f64) -> Option<Self> {
        let mut points = points.clone();
        let mut left_out = Vec::new();
        let most = points.rows.len() / ONE_IN;
        let mut laid = LawFit::of(law, &points, horizon).ok()?;
        while left_out.len() < most {
            let Some((worst, w)) = worst(&laid, &points) else { break };
            let others = points.without(worst);
            let point = points.rows[worst];
            // Only where all the others then fit: a law that fits nothing finds fault with every day.
            let refit = LawFit::of(law, &others, horizon).ok();
            let Some(better) = refit.filter(|better| worst_of(better, &others) < LEFT_OUT) else { break };
            left_out.push(DoubtfulHeight { day: point.x, height_mm: point.y, standardised_residual: w, used: false });
            (laid, points) = (better, others);
        }
        let fitted = Self { laid, points, left_out };
        aicc(0.0, fitted.heights(), fitted.parameters()).map(|_| fitted)
    }

    /// The same law with one height more, as sure as the usual one so far; none where the clock stands still.
    pub(super) fn with_a_reading(&self, x: f64, day: f64, height_mm: f64) -> Option<Self> {
        if x <= self.last() {
            return None;
        }
        let mut all = self.points.clone();
        let mut u: Vec<f64> = all.rows.iter().map(|row| row.u).collect();
        u.sort_by(f64::total_cmp);
        all.rows.push(Observed { x, y: height_mm, u: u[u.len() / 2] });
        all.days.push(day);
        Self::of(self.laid.law, &all, self.laid.horizon)
    }

    /// All heights, used or not.
    pub(super) fn heights(&self) -> usize {
        self.points.rows.len() + self.left_out.len()
    }

    /// Parameters; a height left out counts as one.
    pub(super) fn parameters(&self) -> usize {
        self.laid.law.parameters() + self.points.steps.len() + self.left_out.len()
    }

    pub(super) fn aicc(&self) -> f64 {
        aicc(self.laid.sum, self.heights(), self.parameters()).unwrap_or(f64::INFINITY)
    }

    pub(super) fn first(&self) -> f64 {
        self.points.rows[0].x
    }

    pub(super) fn last(&self) -> f64 {
        self.points.rows[self.points.rows.len() - 1].x
    }

    /// Whether the last three heights lie within 2u of the law: a car that has just been worked on again does not.
    pub(super) fn last_three_fit(&self) -> bool {
        let rows = self.laid.residuals.iter().zip(&self.points.rows);
        rows.rev().take(3).all(|(residual, row)| residual.abs() <= 2.0 * row.u)
    }

    /// Heights far off the law, largest first.
    pub(super) fn doubtful(&self) -> Vec<DoubtfulHeight> {
        let mut doubtful = self.left_out.clone();
        for (row, point) in self.points.rows.iter().enumerate() {
            if let Some(w) = self.laid.standardised(row, point.u).filter(|w| w.abs() > NAMED) {
                doubtful.push(DoubtfulHeight {
                    day: point.x,
                    height_mm: point.y,
                    standardised_residual: w,
                    used: true,
                });
            }
        }
        doubtful.sort_by(|a, b| b.standardised_residual.abs().total_cmp(&a.standardised_residual.abs()));
        doubtful
    }
}

/// The height furthest off the law, if it is far off and checked by the others.
fn worst(laid: &LawFit, points: &Points) -> Option<(usize, f64)> {
    let rows = (0..points.rows.len()).filter(|row| 1.0 - laid.leverage[*row] > CHECKED);
    let off = rows.filter_map(|row| Some((row, laid.standardised(row, points.rows[row].u)?)));
    off.filter(|(_, w)| w.abs() > LEFT_OUT).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
}

fn worst_of(laid: &LawFit, points: &Points) -> f64 {
    let off = points.rows.iter().enumerate().filter_map(|(row, point)| laid.standardised(row, point.u));
    off.fold(0.0, |worst, w| worst.max(w.abs()))
}

/// The laws asked for, laid through the heights; the one they ask for first, then the others, the better one first.
///
/// Of the two simple ones the exponential wins a tie. Both together is laid only where it could be clearly better than either: with no
/// squares left at all, its parameters alone must cost less.
pub(super) fn laws_laid(points: &Points, horizon: f64, model: Model) -> Vec<Fitted> {
    let lay = |law: Law| Fitted::of(law, points, horizon);
    let asked = match model {
        Model::Law(law) => return lay(law).into_iter().collect(),
        Model::Best => Law::SIMPLE,
    };
    let mut laid: Vec<Fitted> = asked.into_iter().filter_map(lay).collect();
    if laid.len() == 2 && laid[1].aicc() < laid[0].aicc() - TIE {
        laid.swap(0, 1);
    }
    let Some(best) = laid.iter().map(Fitted::aicc).min_by(f64::total_cmp) else { return laid };
    let bare = aicc(0.0, points.rows.len(), Law::Both.parameters() + points.steps.len());
    if bare.is_some_and(|bare| bare < best - TIE)
        && let Some(both) = lay(Law::Both).filter(|both| both.aicc() < best - TIE)
    {
        laid.sort_by(|a, b| a.aicc().total_cmp(&b.aicc()));
        laid.insert(0, both);
    }
    laid
}

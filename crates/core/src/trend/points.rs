//! Heights by clock, with the steps between them: what a law is laid through, and which rates they could show.

use super::law::Law;
use crate::curve_fit::Observed;

/// The slowest rate tried over the stretch from first to last.
pub(super) const SLOWEST_OF_SPAN: f64 = 20.0;

/// Heights by clock, in order, and the steps between them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Points {
    /// Clock, height and its u.
    pub(super) rows: Vec<Observed>,
    /// The day of each.
    pub(super) days: Vec<f64>,
    /// Days on which the height made a step; the law is that of the heights after the last.
    pub(super) steps: Vec<f64>,
}

impl Points {
    /// Heights by plain day, without steps.
    pub(super) fn plain(rows: Vec<Observed>) -> Self {
        Self { days: rows.iter().map(|row| row.x).collect(), rows, steps: Vec::new() }
    }

    /// What a row is taken times a step: −1 before it.
    pub(super) fn before(&self, row: usize, step: usize) -> f64 {
        if self.days[row] < self.steps[step] { -1.0 } else { 0.0 }
    }

    pub(super) fn without(&self, row: usize) -> Self {
        let mut others = self.clone();
        others.rows.remove(row);
        others.days.remove(row);
        others
    }

    /// From the first to the last, and the shortest step between two.
    fn span(&self) -> (f64, f64) {
        let (first, last) = (self.rows.first().map_or(0.0, |row| row.x), self.rows.last().map_or(1.0, |row| row.x));
        let span = (last - first).max(1e-6);
        let apart = self.rows.windows(2).map(|pair| pair[1].x - pair[0].x).filter(|apart| *apart > 0.0);
        (span, apart.fold(span, f64::min).max(span * 1e-4))
    }

    /// The rates that the heights could show, least and most, for each rate of a law.
    pub(super) fn rates(&self, law: Law) -> [(f64, f64); 2] {
        let (span, step) = self.span();
        let (exponential, logarithm) = ((step / 20.0, span * SLOWEST_OF_SPAN), (step / 50.0, span * SLOWEST_OF_SPAN));
        match law {
            Law::Exponential => [exponential; 2],
            Law::Logarithmic => [logarithm; 2],
            Law::Both => [exponential, logarithm],
        }
    }
}

//! The best combinations so far.

use super::problem::{Problem, SAME};
use std::cmp::Ordering;

/// One choice of every slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Combination {
    /// By slot; `None` leaves it as it is.
    pub choice: Vec<Option<usize>>,
    /// The worst row's |difference|, in tolerances.
    pub worst: f64,
    /// How many slots are changed.
    pub jobs: usize,
    /// Together.
    pub price: f64,
}

impl Combination {
    pub(super) fn of(problem: &Problem, choice: &[Option<usize>]) -> Self {
        let chosen =
            || problem.slots.iter().zip(choice).filter_map(|(slot, choice)| choice.map(|at| &slot.choices[at]));
        let off = |(row, now): (usize, &f64)| (now + chosen().map(|choice| choice.moves[row]).sum::<f64>()).abs();
        Self {
            worst: problem.now.iter().enumerate().map(off).fold(0.0, f64::max),
            jobs: choice.iter().flatten().count(),
            price: chosen().map(|choice| choice.price).sum(),
            choice: choice.to_vec(),
        }
    }

    /// By fit, then jobs, then price, then the order of the slots.
    pub(super) fn rank(&self, other: &Self) -> Ordering {
        near(self.worst, other.worst)
            .then(self.jobs.cmp(&other.jobs))
            .then(near(self.price, other.price))
            .then_with(|| self.choice.cmp(&other.choice))
    }
}

fn near(a: f64, b: f64) -> Ordering {
    if (a - b).abs() <= SAME { Ordering::Equal } else { a.total_cmp(&b) }
}

/// As many as are wanted, best first.
pub(super) struct Best {
    pub(super) all: Vec<Combination>,
    wanted: usize,
}

impl Best {
    pub(super) const fn new(wanted: usize) -> Self {
        Self { all: Vec::new(), wanted }
    }

    /// What a combination must not exceed to be looked at.
    pub(super) fn limit(&self) -> f64 {
        match self.all.last() {
            Some(last) if self.all.len() >= self.wanted => last.worst + SAME,
            _ => f64::INFINITY,
        }
    }

    /// True where it would be among the best.
    pub(super) fn takes(&self, worst: f64, jobs: usize, price: f64) -> bool {
        match self.all.last() {
            Some(last) if self.all.len() >= self.wanted => {
                near(worst, last.worst).then(jobs.cmp(&last.jobs)).then(near(price, last.price)) != Ordering::Greater
            }
            _ => true,
        }
    }

    pub(super) fn put(&mut self, one: Combination) {
        let at = self.all.partition_point(|known| known.rank(&one) == Ordering::Less);
        if self.all.get(at).is_some_and(|known| known.choice == one.choice) {
            return;
        }
        self.all.insert(at, one);
        self.all.truncate(self.wanted);
    }
}

//! Every combination, slot by slot; a branch is left where its rows cannot come as near as the best that are known.

use super::best::{Best, Combination};
use super::problem::{Found, Problem};

/// So many steps between two reports.
const REPORT: u64 = 1 << 14;

pub(super) fn solve(
    problem: &Problem,
    allowed: &mut dyn FnMut(&[Option<usize>]) -> bool,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Found {
    let mut branch = Branch {
        problem,
        reaches: problem.reaches(),
        best: Best::new(problem.wanted.max(1)),
        choice: vec![None; problem.slots.len()],
        rows: vec![problem.start(); problem.slots.len() + 1],
        looked_at: 0,
        steps: 0,
        stopped: false,
        allowed,
        progress,
    };
    branch.slot(0, 0, 0.0, (0.0, 1.0));
    Found { best: branch.best.all, proved: !branch.stopped, looked_at: branch.looked_at }
}

struct Branch<'p> {
    problem: &'p Problem,
    reaches: Vec<Vec<[f64; 2]>>,
    best: Best,
    choice: Vec<Option<usize>>,
    /// Where the rows, then the rooms, stand before each slot.
    rows: Vec<Vec<f64>>,
    looked_at: u64,
    steps: u64,
    stopped: bool,
    allowed: &'p mut dyn FnMut(&[Option<usize>]) -> bool,
    progress: &'p mut dyn FnMut(f64) -> bool,
}

impl Branch<'_> {
    /// `part` of the whole is this branch: from … to ….
    fn slot(&mut self, number: usize, jobs: usize, price: f64, part: (f64, f64)) {
        self.steps += 1;
        if self.steps.is_multiple_of(REPORT) && !(self.progress)(part.0) {
            self.stopped = true;
        }
        if self.stopped {
            return;
        }
        let (rows, room) = self.rows[number].split_at(self.problem.now.len());
        let (reach, reach_room) = self.reaches[number].split_at(rows.len());
        let worst = Problem::bound(rows, reach);
        if worst > self.best.limit() || Problem::is_lost(room, reach_room) {
            return;
        }
        let Some(slot) = self.problem.slots.get(number) else {
            self.looked_at += 1;
            if self.best.takes(worst, jobs, price) && (self.allowed)(&self.choice) {
                self.best.put(Combination::of(self.problem, &self.choice));
            }
            return;
        };
        let width = (part.1 - part.0) / (slot.choices.len() + 1) as f64;
        for at in 0..=slot.choices.len() {
            let choice = at.checked_sub(1);
            let (before, after) = self.rows.split_at_mut(number + 1);
            after[0].copy_from_slice(&before[number]);
            if let Some(choice) = choice {
                let by = &slot.choices[choice];
                after[0].iter_mut().zip(by.moves.iter().chain(&by.room)).for_each(|(row, by)| *row += by);
            }
            self.choice[number] = choice;
            let from = part.0 + width * at as f64;
            let more = choice.map_or(0.0, |choice| slot.choices[choice].price);
            self.slot(number + 1, jobs + usize::from(choice.is_some()), price + more, (from, from + width));
        }
        self.choice[number] = None;
    }
}

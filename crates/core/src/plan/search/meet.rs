//! Many combinations: those of one half of the slots laid out on a grid by two of their rows, those of the other half each looking for
//! what stands where they have to be met. Cells outside of what [`Plane`] leaves within the best that are known are not looked into.

use super::best::{Best, Combination};
use super::grid::{Grid, by_cell};
use super::half::Half;
use super::plane::Plane;
use super::problem::{Found, Problem, SAME};
use std::ops::RangeInclusive;

/// Which slots are in which half.
pub(super) struct Halves {
    laid: Vec<usize>,
    looking: Vec<usize>,
}

impl Halves {
    /// `None` where a half would have more than `most` combinations.
    pub(super) fn of(problem: &Problem, most: u64) -> Option<Self> {
        let mut order: Vec<usize> = (0..problem.slots.len()).collect();
        order.sort_by_key(|slot| std::cmp::Reverse(problem.slots[*slot].choices.len()));
        let (mut halves, mut counts) = ([Vec::new(), Vec::new()], [1.0_f64; 2]);
        for slot in order {
            let half = usize::from(counts[1] < counts[0]);
            counts[half] *= (problem.slots[slot].choices.len() + 1) as f64;
            halves[half].push(slot);
        }
        let [laid, looking] = halves;
        counts.iter().all(|count| *count <= most as f64).then_some(Self { laid, looking })
    }
}

/// So many looks between two reports.
const REPORT: usize = 1 << 10;
/// Which part of the looks comes first.
const EVERY: usize = 251;
/// Combinations that would be among the best and are not allowed, at most; then it is no proof.
const MOST_REFUSED: u64 = 200_000;

pub(super) fn solve(
    problem: &Problem,
    halves: &Halves,
    allowed: &mut dyn FnMut(&[Option<usize>]) -> bool,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Found {
    let wanted = problem.wanted.max(1);
    let nothing = Found { best: Vec::new(), proved: true, looked_at: 0 };
    let plane = Plane::of(problem);
    let Some(nearest) = plane.nearest() else { return nothing };
    let laid = Half::of(problem, &halves.laid, &plane.other_rooms, false);
    let looking = Half::of(problem, &halves.looking, &plane.other_rooms, true);
    if laid.len() == 0 || looking.len() == 0 {
        return nothing;
    }
    let grid = Grid::of(&laid, plane.rows, wanted);
    // Neighbours after one another: those that look into the same cell stand together.
    let cells = (0..looking.len()).map(|entry| {
        let at = looking.at(entry);
        grid.number([0, 1].map(|i| grid.along(i, nearest[i] - at[plane.rows[i]])))
    });
    let (_, order) = by_cell(cells.collect(), grid.count[0] * grid.count[1]);
    let best = Best::new(wanted);
    let mut look = Look {
        laid: &laid,
        looking: &looking,
        grid: &grid,
        plane: &plane,
        nearest,
        rows: problem.now.len(),
        limit: best.limit(),
        window: plane.window(best.limit()),
        best,
        looked_at: 0,
        refused: 0,
        allowed,
    };
    // A few from everywhere first, so that the best that are known are soon near.
    let first = order.iter().step_by(EVERY);
    let count = order.len();
    for (done, entry) in first.chain(&order).enumerate() {
        let part = done.saturating_sub(count / EVERY) as f64 / count as f64;
        if done % REPORT == 0 && !progress(part.min(1.0)) || look.refused > MOST_REFUSED {
            return Found { best: look.best.all, proved: false, looked_at: look.looked_at };
        }
        look.around(*entry as usize);
    }
    Found { best: look.best.all, proved: look.refused <= MOST_REFUSED, looked_at: look.looked_at }
}

struct Look<'p> {
    laid: &'p Half<'p>,
    looking: &'p Half<'p>,
    grid: &'p Grid,
    plane: &'p Plane,
    nearest: [f64; 2],
    rows: usize,
    best: Best,
    /// What `window` is for.
    limit: f64,
    window: Option<[[f64; 2]; 2]>,
    looked_at: u64,
    refused: u64,
    allowed: &'p mut dyn FnMut(&[Option<usize>]) -> bool,
}

impl Look<'_> {
    /// Cells that can hold what `entry` has to meet, along both rows; `None` where none can.
    fn span(&mut self, entry: usize) -> Option<[[usize; 2]; 2]> {
        let limit = self.best.limit();
        if limit < self.limit {
            (self.limit, self.window) = (limit, self.plane.window(limit));
        }
        let (window, from) = (self.window?, self.looking.at(entry));
        let rows = self.grid.rows();
        let of = |i: usize| self.grid.span(i, window[i].map(|at| at - from[rows[i]]));
        Some([of(0)?, of(1)?])
    }

    /// What stands where `entry` has to be met, from the middle out.
    fn around(&mut self, entry: usize) {
        let Some(mut span) = self.span(entry) else { return };
        let wanted = self.nearest[0] - self.looking.at(entry)[self.grid.rows()[0]];
        let middle = self.grid.along(0, wanted).clamp(span[0][0], span[0][1]);
        for step in 0_usize.. {
            let away = step.div_ceil(2);
            if middle + away > span[0][1] && middle < span[0][0] + away || self.refused > MOST_REFUSED {
                return;
            }
            let row = if step % 2 == 1 { middle.checked_sub(away) } else { Some(middle + away) };
            let Some(row) = row.filter(|row| (span[0][0]..=span[0][1]).contains(row)) else { continue };
            // Within a row cells stand together.
            self.cells(entry, self.grid.number([row, span[1][0]])..=self.grid.number([row, span[1][1]]));
            if self.best.limit() < self.limit {
                let Some(narrower) = self.span(entry) else { return };
                span = narrower;
            }
        }
    }

    fn cells(&mut self, entry: usize, cells: RangeInclusive<usize>) {
        let grid = self.grid;
        let own = grid.own(cells);
        let from = self.looking.at(entry);
        let rows = grid.rows();
        for (at, laid) in own.clone().zip(grid.laid(own)) {
            let worst = from[..self.rows].iter().zip(laid).fold(0.0_f64, |worst, (a, b)| worst.max((a + b).abs()));
            if worst > self.best.limit() {
                continue;
            }
            let kept = from[self.rows..].iter().zip(&laid[self.rows..]).all(|(a, b)| a + b >= -SAME);
            if !kept || !self.plane.keeps(rows.map(|row| from[row] + laid[row])) {
                continue;
            }
            let other = grid.entries[at] as usize;
            self.looked_at += 1;
            let jobs = usize::from(self.looking.jobs[entry] + self.laid.jobs[other]);
            if !self.best.takes(worst, jobs, self.looking.price[entry] + self.laid.price[other]) {
                continue;
            }
            let mut choice = self.looking.choices(entry);
            self.laid.write(other, &mut choice);
            if (self.allowed)(&choice) {
                self.best.put(Combination::of(self.looking.problem(), &choice));
            } else {
                self.refused += 1;
            }
        }
    }
}

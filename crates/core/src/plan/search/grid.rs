//! A half of the combinations in the cells of a grid of two rows.

use super::half::Half;
use super::problem::SAME;
use std::cmp::Ordering;
use std::ops::{Range, RangeInclusive};

/// Entries of a half in cells of two rows.
pub(super) struct Grid {
    rows: [usize; 2],
    low: [f64; 2],
    cell: [f64; 2],
    pub(super) count: [usize; 2],
    /// By cell: where its entries begin.
    starts: Vec<u32>,
    pub(super) entries: Vec<u32>,
    /// Numbers of the entries, in the order of the cells: near ones stand together.
    laid: Vec<f64>,
    width: usize,
}

/// Cells along a row, at most.
const MOST_CELLS: usize = 1_024;

impl Grid {
    pub(super) fn of(half: &Half<'_>, rows: [usize; 2], wanted: usize) -> Self {
        let entries = half.len();
        let spreads = rows.map(|row| {
            let all = (0..entries).map(|entry| half.at(entry)[row]);
            let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
            (low, high - low)
        });
        let side = (entries as f64).sqrt().ceil().clamp(1.0, MOST_CELLS as f64);
        let count = spreads.map(|(_, wide)| if wide > SAME { whole(side) } else { 1 });
        let cell = [0, 1].map(|i| (spreads[i].1 / count[i] as f64).max(SAME));
        let low = spreads.map(|(low, _)| low);
        let mut grid = Self {
            rows,
            low,
            cell,
            count,
            starts: Vec::new(),
            entries: Vec::new(),
            laid: Vec::new(),
            width: half.width(),
        };
        let cells = (0..entries).map(|entry| {
            let at = half.at(entry);
            grid.number([grid.along(0, at[rows[0]]), grid.along(1, at[rows[1]])])
        });
        (grid.starts, grid.entries) = by_cell(cells.collect(), count[0] * count[1]);
        grid.thin(half, wanted);
        grid.laid = grid.entries.iter().flat_map(|entry| half.at(*entry as usize).iter().copied()).collect();
        grid
    }

    /// Of entries that are alike in all that counts, as many as are wanted, the cheapest first.
    fn thin(&mut self, half: &Half<'_>, wanted: usize) {
        let (mut starts, mut kept) = (vec![0_u32], Vec::with_capacity(self.entries.len()));
        let more = half.more_decides();
        let by_what_counts = |a: &u32, b: &u32| {
            let (a, b) = (half.at(*a as usize), half.at(*b as usize));
            let order = a.iter().zip(b).map(|(a, b)| (a / SAME).round().total_cmp(&(b / SAME).round()));
            order.fold(Ordering::Equal, Ordering::then)
        };
        for cell in 0..self.starts.len() - 1 {
            let own = &mut self.entries[self.starts[cell] as usize..self.starts[cell + 1] as usize];
            own.sort_unstable_by(by_what_counts);
            for same in own.chunk_by(|a, b| by_what_counts(a, b).is_eq()) {
                if same.len() == 1 {
                    kept.push(same[0]);
                    continue;
                }
                let mut keyed: Vec<(Vec<f64>, u32)> = same
                    .iter()
                    .map(|entry| (if more { half.alike(*entry as usize) } else { Vec::new() }, *entry))
                    .collect();
                let cheap = |entry: u32| (half.jobs[entry as usize], half.price[entry as usize]);
                keyed.sort_by(|a, b| {
                    let ((jobs, price), (more_jobs, more_price)) = (cheap(a.1), cheap(b.1));
                    by_numbers(&a.0, &b.0)
                        .then(jobs.cmp(&more_jobs))
                        .then(price.total_cmp(&more_price))
                        .then(a.1.cmp(&b.1))
                });
                for alike in keyed.chunk_by(|a, b| a.0 == b.0) {
                    kept.extend(alike.iter().take(wanted).map(|(_, entry)| *entry));
                }
            }
            starts.push(kept.len() as u32);
        }
        (self.starts, self.entries) = (starts, kept);
    }

    /// Which cell along a row of the grid a number falls into, the nearest where it is outside.
    pub(super) fn along(&self, i: usize, at: f64) -> usize {
        whole(((at - self.low[i]) / self.cell[i]).clamp(0.0, (self.count[i] - 1) as f64))
    }

    /// Cells along a row of the grid from … to …; `None` where all of them are elsewhere.
    pub(super) fn span(&self, i: usize, [from, to]: [f64; 2]) -> Option<[usize; 2]> {
        let high = self.low[i] + self.cell[i] * self.count[i] as f64;
        (to >= self.low[i] - SAME && from <= high + SAME)
            .then(|| [self.along(i, from - SAME), self.along(i, to + SAME)])
    }

    pub(super) const fn number(&self, [row, column]: [usize; 2]) -> usize {
        row * self.count[1] + column
    }

    /// Places of the entries of some cells that stand together.
    pub(super) fn own(&self, cells: RangeInclusive<usize>) -> Range<usize> {
        self.starts[*cells.start()] as usize..self.starts[cells.end() + 1] as usize
    }

    /// Numbers of the entries at some places.
    pub(super) fn laid(&self, own: Range<usize>) -> impl Iterator<Item = &[f64]> {
        self.laid[own.start * self.width..own.end * self.width].chunks_exact(self.width)
    }

    /// Which rows it is laid out by.
    pub(super) const fn rows(&self) -> [usize; 2] {
        self.rows
    }
}

/// Entries in the order of their cells, and where each cell begins.
pub(super) fn by_cell(cells: Vec<usize>, count: usize) -> (Vec<u32>, Vec<u32>) {
    let mut starts = vec![0_u32; count + 1];
    cells.iter().for_each(|cell| starts[cell + 1] += 1);
    (1..starts.len()).for_each(|cell| starts[cell] += starts[cell - 1]);
    let (mut next, mut entries) = (starts.clone(), vec![0; cells.len()]);
    for (entry, cell) in cells.into_iter().enumerate() {
        entries[next[cell] as usize] = entry as u32;
        next[cell] += 1;
    }
    (starts, entries)
}

fn by_numbers(a: &[f64], b: &[f64]) -> Ordering {
    let order = a.iter().zip(b).map(|(a, b)| a.total_cmp(b));
    order.fold(Ordering::Equal, Ordering::then).then(a.len().cmp(&b.len()))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a count of cells")]
fn whole(at: f64) -> usize {
    at as usize
}

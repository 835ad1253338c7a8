//! Many combinations: those of one half of the slots laid out on a grid by two of their rows, those of the other half each looking for
//! what stands near where they would have to be met. A cell that is further away than the best that are known is not looked into.

use super::best::{Best, Combination};
use super::problem::{Found, Problem, SAME};

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

/// The combinations of some slots.
struct Half<'p> {
    problem: &'p Problem,
    slots: Vec<usize>,
    /// `rows.len()/width` entries.
    rows: Vec<f64>,
    width: usize,
    jobs: Vec<u16>,
    price: Vec<f64>,
}

impl<'p> Half<'p> {
    fn of(problem: &'p Problem, slots: &[usize], start: &[f64]) -> Self {
        let width = problem.now.len();
        let mut half =
            Self { problem, slots: slots.to_vec(), rows: start.to_vec(), width, jobs: vec![0], price: vec![0.0] };
        for slot in slots {
            let choices = &problem.slots[*slot].choices;
            let count = half.jobs.len();
            half.rows.reserve(count * choices.len() * width);
            for choice in choices {
                for entry in 0..count {
                    for row in 0..width {
                        half.rows.push(half.rows[entry * width + row] + choice.moves[row]);
                    }
                    half.jobs.push(half.jobs[entry] + 1);
                    half.price.push(half.price[entry] + choice.price);
                }
            }
        }
        half
    }

    fn at(&self, entry: usize) -> &[f64] {
        &self.rows[entry * self.width..(entry + 1) * self.width]
    }

    /// Entries were made slot by slot, the choice of each slot the slower digit.
    fn write(&self, entry: usize, choice: &mut [Option<usize>]) {
        let mut rest = entry;
        for slot in &self.slots {
            let base = self.problem.slots[*slot].choices.len() + 1;
            choice[*slot] = (rest % base).checked_sub(1);
            rest /= base;
        }
    }

    /// Where the other half would have to stand for nothing to be left.
    fn meeting(&self, entry: usize) -> Vec<f64> {
        self.at(entry).iter().map(|row| -row).collect()
    }

    fn choices(&self, entry: usize) -> Vec<Option<usize>> {
        let mut choice = vec![None; self.problem.slots.len()];
        self.write(entry, &mut choice);
        choice
    }

    /// Sum of what decides whether a combination is allowed.
    fn alike(&self, entry: usize) -> Vec<f64> {
        let mut sum = Vec::new();
        for (slot, choice) in self.problem.slots.iter().zip(self.choices(entry)) {
            let Some(choice) = choice.map(|at| &slot.choices[at]) else { continue };
            sum.resize(sum.len().max(choice.alike.len()), 0.0);
            sum.iter_mut().zip(&choice.alike).for_each(|(sum, one)| *sum += one);
        }
        sum
    }
}

/// Entries of a half in cells of two rows.
struct Grid {
    rows: [usize; 2],
    low: [f64; 2],
    cell: [f64; 2],
    count: [usize; 2],
    /// By cell: where its entries begin.
    starts: Vec<u32>,
    entries: Vec<u32>,
    /// Rows of the entries, in the order of the cells: near ones stand together.
    laid: Vec<f64>,
}

/// Cells along a row, at most.
const MOST_CELLS: usize = 1_024;

impl Grid {
    fn of(half: &Half<'_>, wanted: usize) -> Self {
        let entries = half.jobs.len();
        let spread = |of: &dyn Fn(&[f64]) -> f64| {
            let all = (0..entries).map(|entry| of(half.at(entry)));
            let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
            (low, high - low)
        };
        let widest = |of: &dyn Fn(usize) -> f64| (0..half.width).max_by(|a, b| of(*a).total_cmp(&of(*b))).unwrap_or(0);
        let first = widest(&|row| spread(&|at| at[row]).1);
        let second = widest(&|row| spread(&|at| at[row] - at[first]).1);
        let rows = [first, second];
        let spreads = rows.map(|row| spread(&|at| at[row]));
        let side = (entries as f64).sqrt().ceil().clamp(1.0, MOST_CELLS as f64);
        let count = spreads.map(|(_, wide)| if wide > SAME { whole(side) } else { 1 });
        let cell = [0, 1].map(|i| (spreads[i].1 / count[i] as f64).max(SAME));
        let mut grid = Self {
            rows,
            low: spreads.map(|(low, _)| low),
            cell,
            count,
            starts: Vec::new(),
            entries: Vec::new(),
            laid: Vec::new(),
        };
        let cells: Vec<u32> = (0..entries).map(|entry| grid.number(grid.place(half.at(entry))) as u32).collect();
        let mut starts = vec![0_u32; count[0] * count[1] + 1];
        cells.iter().for_each(|cell| starts[*cell as usize + 1] += 1);
        (1..starts.len()).for_each(|cell| starts[cell] += starts[cell - 1]);
        let mut next = starts.clone();
        grid.entries = vec![0; entries];
        for (entry, cell) in cells.iter().enumerate() {
            grid.entries[next[*cell as usize] as usize] = entry as u32;
            next[*cell as usize] += 1;
        }
        grid.starts = starts;
        grid.thin(half, wanted);
        grid.laid = grid.entries.iter().flat_map(|entry| half.at(*entry as usize).iter().copied()).collect();
        grid
    }

    /// Of entries that are alike in all that counts, as many as are wanted, the cheapest first.
    fn thin(&mut self, half: &Half<'_>, wanted: usize) {
        let (mut starts, mut kept) = (vec![0_u32], Vec::with_capacity(self.entries.len()));
        let alike_matters =
            half.problem.slots.iter().any(|slot| slot.choices.iter().any(|choice| !choice.alike.is_empty()));
        for cell in 0..self.count[0] * self.count[1] {
            let own = &mut self.entries[self.starts[cell] as usize..self.starts[cell + 1] as usize];
            if own.len() > 1 {
                let key = |entry: u32| {
                    let at = half.at(entry as usize).iter().map(|row| (row / SAME).round());
                    let more = if alike_matters { half.alike(entry as usize) } else { Vec::new() };
                    let key: Vec<f64> = at.chain(more.into_iter().map(|part| (part / SAME).round())).collect();
                    key
                };
                let mut keyed: Vec<(Vec<f64>, u16, f64, u32)> = own
                    .iter()
                    .map(|entry| (key(*entry), half.jobs[*entry as usize], half.price[*entry as usize], *entry))
                    .collect();
                let by_key = |a: &[f64], b: &[f64]| {
                    a.iter()
                        .zip(b)
                        .map(|(a, b)| a.total_cmp(b))
                        .find(|order| order.is_ne())
                        .unwrap_or(a.len().cmp(&b.len()))
                };
                keyed.sort_by(|a, b| {
                    by_key(&a.0, &b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2)).then(a.3.cmp(&b.3))
                });
                let mut alike = 0;
                for i in 0..keyed.len() {
                    alike = if i > 0 && keyed[i].0 == keyed[i - 1].0 { alike + 1 } else { 0 };
                    if alike < wanted {
                        kept.push(keyed[i].3);
                    }
                }
            } else {
                kept.extend_from_slice(own);
            }
            starts.push(kept.len() as u32);
        }
        (self.starts, self.entries) = (starts, kept);
    }

    fn place(&self, at: &[f64]) -> [usize; 2] {
        [0, 1].map(|i| whole(((at[self.rows[i]] - self.low[i]) / self.cell[i]).clamp(0.0, (self.count[i] - 1) as f64)))
    }

    fn number(&self, place: [usize; 2]) -> usize {
        place[0] * self.count[1] + place[1]
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a count of cells")]
fn whole(at: f64) -> usize {
    at as usize
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
    let laid = Half::of(problem, &halves.laid, &vec![0.0; problem.now.len()]);
    let looking = Half::of(problem, &halves.looking, &problem.now);
    let grid = Grid::of(&laid, wanted);
    let mut look = Look {
        laid: &laid,
        looking: &looking,
        grid: &grid,
        best: Best::new(wanted),
        looked_at: 0,
        refused: 0,
        allowed,
    };
    // A few from everywhere first, so that the best that are known are soon near; then neighbours after one another.
    let mut order: Vec<u32> = (0..looking.jobs.len() as u32).collect();
    order.sort_by_cached_key(|entry| grid.number(grid.place(&looking.meeting(*entry as usize))) as u32);
    let first = order.clone().into_iter().step_by(EVERY);
    let count = order.len();
    for (done, entry) in first.chain(order).enumerate() {
        let part = done.saturating_sub(count / EVERY) as f64 / count as f64;
        if done % REPORT == 0 && !progress(part.min(1.0)) || look.refused > MOST_REFUSED {
            return Found { best: look.best.all, proved: false, looked_at: look.looked_at };
        }
        look.around(entry as usize);
    }
    Found { best: look.best.all, proved: true, looked_at: look.looked_at }
}

struct Look<'p> {
    laid: &'p Half<'p>,
    looking: &'p Half<'p>,
    grid: &'p Grid,
    best: Best,
    looked_at: u64,
    refused: u64,
    allowed: &'p mut dyn FnMut(&[Option<usize>]) -> bool,
}

impl Look<'_> {
    /// What stands near where `entry` would have to be met.
    fn around(&mut self, entry: usize) {
        let grid = self.grid;
        let from = self.looking.at(entry);
        let meet = grid.rows.map(|row| -from[row]);
        let mut outside = 0.0_f64;
        let mut at = [0.0; 2];
        for i in 0..2 {
            let high = grid.low[i] + grid.cell[i] * grid.count[i] as f64;
            let inside = meet[i].clamp(grid.low[i], high);
            outside = outside.max((meet[i] - inside).abs());
            at[i] = inside;
        }
        if outside > self.best.limit() {
            return;
        }
        let middle =
            [0, 1].map(|i| whole(((at[i] - grid.low[i]) / grid.cell[i]).clamp(0.0, (grid.count[i] - 1) as f64)));
        // Rows of cells, from the middle out; within a row cells stand together.
        for step in 0..=2 * grid.count[0] {
            let away = step.div_ceil(2);
            if away > 1 && (away - 1) as f64 * grid.cell[0] > self.best.limit() {
                // One side being too far, the other one is too.
                return;
            }
            if self.refused > MOST_REFUSED {
                return;
            }
            let row = if step % 2 == 1 { middle[0].checked_sub(away) } else { Some(middle[0] + away) };
            let Some(row) = row.filter(|row| *row < grid.count[0]) else { continue };
            let wide = (self.best.limit() / grid.cell[1]).min(grid.count[1] as f64);
            let wide = whole(wide) + 1;
            let columns = (middle[1].saturating_sub(wide), (middle[1] + wide).min(grid.count[1] - 1));
            self.cells(entry, grid.number([row, columns.0])..=grid.number([row, columns.1]));
        }
    }

    fn cells(&mut self, entry: usize, cells: std::ops::RangeInclusive<usize>) {
        let (grid, width) = (self.grid, self.looking.width);
        let own = grid.starts[*cells.start()] as usize..grid.starts[cells.end() + 1] as usize;
        let from = self.looking.at(entry);
        for (at, laid) in own.clone().zip(grid.laid[own.start * width..own.end * width].chunks_exact(width)) {
            let worst = from.iter().zip(laid).fold(0.0_f64, |worst, (a, b)| worst.max((a + b).abs()));
            if worst > self.best.limit() {
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
                self.best.put(Combination::of(self.looking.problem, &choice));
            } else {
                self.refused += 1;
            }
        }
    }
}

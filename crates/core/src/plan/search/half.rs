//! Every combination of some of the slots, less those that cannot keep what they must whatever the other slots do.

use super::problem::{Problem, SAME};

/// The combinations of some slots.
pub(super) struct Half<'p> {
    problem: &'p Problem,
    slots: Vec<usize>,
    /// `width` numbers an entry: the rows, then the rooms that are counted here.
    numbers: Vec<f64>,
    width: usize,
    /// Which combination it is: the choice of each slot the slower digit.
    codes: Vec<u32>,
    pub(super) jobs: Vec<u16>,
    pub(super) price: Vec<f64>,
}

impl<'p> Half<'p> {
    /// `rooms` are counted; `from_now` where the rows stand now, or nothing.
    pub(super) fn of(problem: &'p Problem, slots: &[usize], rooms: &[usize], from_now: bool) -> Self {
        let rows = problem.now.len();
        let now = problem.now.iter().copied().chain(rooms.iter().map(|room| problem.room[*room]));
        let start = now.map(|now| if from_now { now } else { 0.0 }).collect();
        let mut half = Self {
            problem,
            slots: slots.to_vec(),
            numbers: start,
            width: rows + rooms.len(),
            codes: vec![0],
            jobs: vec![0],
            price: vec![0.0],
        };
        // What all slots that are not in it yet, those of the other half too, can still add to each room.
        let best = |slot: usize, room: usize| {
            problem.slots[slot].choices.iter().map(|choice| choice.room[room]).fold(0.0, f64::max)
        };
        let mut still: Vec<f64> = rooms
            .iter()
            .map(|room| (0..problem.slots.len()).map(|slot| best(slot, *room)).sum::<f64>())
            .zip(rooms)
            .map(|(all, room)| if from_now { all } else { all + problem.room[*room] })
            .collect();
        let mut base = 1;
        for slot in slots {
            still.iter_mut().zip(rooms).for_each(|(still, room)| *still -= best(*slot, *room));
            half.with(*slot, rooms, &still, base);
            base *= problem.slots[*slot].choices.len() as u32 + 1;
        }
        half
    }

    fn with(&mut self, slot: usize, rooms: &[usize], still: &[f64], base: u32) {
        let choices = &self.problem.slots[slot].choices;
        let (before, width, rows) = (std::mem::take(&mut self.numbers), self.width, self.problem.now.len());
        let codes = std::mem::take(&mut self.codes);
        let (jobs, price) = (std::mem::take(&mut self.jobs), std::mem::take(&mut self.price));
        self.numbers.reserve(before.len() * (choices.len() + 1));
        for at in 0..=choices.len() {
            let choice = at.checked_sub(1).map(|at| &choices[at]);
            let by: Vec<f64> = choice.map_or_else(
                || vec![0.0; width],
                |choice| choice.moves.iter().copied().chain(rooms.iter().map(|room| choice.room[*room])).collect(),
            );
            for (entry, own) in before.chunks_exact(width).enumerate() {
                if own[rows..].iter().zip(&by[rows..]).zip(still).any(|((own, by), still)| own + by + still < -SAME) {
                    continue;
                }
                self.numbers.extend(own.iter().zip(&by).map(|(own, by)| own + by));
                self.codes.push(codes[entry] + base * at as u32);
                self.jobs.push(jobs[entry] + u16::from(choice.is_some()));
                self.price.push(price[entry] + choice.map_or(0.0, |choice| choice.price));
            }
        }
    }

    pub(super) const fn problem(&self) -> &'p Problem {
        self.problem
    }

    pub(super) const fn len(&self) -> usize {
        self.codes.len()
    }

    pub(super) const fn width(&self) -> usize {
        self.width
    }

    /// Rows, then rooms.
    pub(super) fn at(&self, entry: usize) -> &[f64] {
        &self.numbers[entry * self.width..(entry + 1) * self.width]
    }

    pub(super) fn write(&self, entry: usize, choice: &mut [Option<usize>]) {
        let mut rest = self.codes[entry] as usize;
        for slot in &self.slots {
            let base = self.problem.slots[*slot].choices.len() + 1;
            choice[*slot] = (rest % base).checked_sub(1);
            rest /= base;
        }
    }

    pub(super) fn choices(&self, entry: usize) -> Vec<Option<usize>> {
        let mut choice = vec![None; self.problem.slots.len()];
        self.write(entry, &mut choice);
        choice
    }

    /// Sum of what decides whether a combination is allowed, in whole parts of what is the same.
    pub(super) fn alike(&self, entry: usize) -> Vec<f64> {
        let mut sum = Vec::new();
        for (slot, choice) in self.problem.slots.iter().zip(self.choices(entry)) {
            let Some(choice) = choice.map(|at| &slot.choices[at]) else { continue };
            sum.resize(sum.len().max(choice.alike.len()), 0.0);
            sum.iter_mut().zip(&choice.alike).for_each(|(sum, one)| *sum += one);
        }
        sum.into_iter().map(|part: f64| (part / SAME).round()).collect()
    }

    /// True where something besides the rows decides what is allowed.
    pub(super) fn more_decides(&self) -> bool {
        self.problem.slots.iter().any(|slot| slot.choices.iter().any(|choice| !choice.alike.is_empty()))
    }
}

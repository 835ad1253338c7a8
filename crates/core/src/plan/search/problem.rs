//! What is searched: slots with choices, each moving every row by so many tolerances.

use super::best::Combination;

/// Slots, and where every row stands without any of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// By row: what it is off by now, in tolerances.
    pub now: Vec<f64>,
    /// One choice of each, or none.
    pub slots: Vec<Slot>,
    /// How many answers are wanted, at least 1.
    pub wanted: usize,
    /// By what must be kept: how much room is left to it now. What has less than none of any is not allowed.
    pub room: Vec<f64>,
}

/// Choices that exclude one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// None of them is always a choice too.
    pub choices: Vec<Choices>,
}

/// One choice of a slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Choices {
    /// By row: by how many tolerances it moves it.
    pub moves: Vec<f64>,
    /// What it costs.
    pub price: f64,
    /// What decides besides the rows whether a combination is allowed: two choices that are alike in it and in their rows are allowed
    /// or not together.
    pub alike: Vec<f64>,
    /// By what must be kept: how much room it gives, or takes below 0.
    pub room: Vec<f64>,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Best first.
    pub best: Vec<Combination>,
    /// True where nothing that was not looked at can be better.
    pub proved: bool,
    /// Combinations that were looked at one by one.
    pub looked_at: u64,
}

/// Differences of ranks below this are none.
pub(super) const SAME: f64 = 1e-9;

impl Problem {
    /// How many combinations there are.
    pub fn combinations(&self) -> f64 {
        self.slots.iter().map(|slot| (slot.choices.len() + 1) as f64).product()
    }

    /// Where the rows, then the rooms, stand now.
    pub(super) fn start(&self) -> Vec<f64> {
        self.now.iter().chain(&self.room).copied().collect()
    }

    /// True where some room would stay below none whatever slots still do.
    pub(super) fn is_lost(room: &[f64], reach: &[[f64; 2]]) -> bool {
        room.iter().zip(reach).any(|(room, [_, most])| room + most < -SAME)
    }

    /// The least the worst row can be with slots from `from` on still free, given where the rows stand; `reach[from]` is how far they go.
    pub(super) fn bound(at: &[f64], reach: &[[f64; 2]]) -> f64 {
        at.iter().zip(reach).fold(0.0, |worst: f64, (at, [low, high])| {
            let (least, most) = (at + low, at + high);
            worst.max(if least > 0.0 {
                least
            } else if most < 0.0 {
                -most
            } else {
                0.0
            })
        })
    }

    /// By slot, and row or room: how far the slots from that one on can move it down and up.
    pub(super) fn reaches(&self) -> Vec<Vec<[f64; 2]>> {
        let mut reaches = vec![vec![[0.0; 2]; self.now.len() + self.room.len()]];
        for slot in self.slots.iter().rev() {
            let last = &reaches[reaches.len() - 1];
            let reach = (0..self.now.len() + self.room.len()).map(|row| {
                let moves = slot.choices.iter().map(|choice| choice.step(row));
                let (low, high) = moves.fold((0.0_f64, 0.0_f64), |(low, high), by| (low.min(by), high.max(by)));
                [last[row][0] + low, last[row][1] + high]
            });
            let reach = reach.collect();
            reaches.push(reach);
        }
        reaches.reverse();
        reaches
    }
}

impl Choices {
    /// What it does to a row, or to a room, which are counted after the rows.
    pub(super) fn step(&self, number: usize) -> f64 {
        self.moves.get(number).copied().unwrap_or_else(|| self.room[number - self.moves.len()])
    }
}

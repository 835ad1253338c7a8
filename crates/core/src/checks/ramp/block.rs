//! Stretches of the run that need no look: where even the lowest a point can be stands clear of the highest ground under it.

use super::ground::Ground;
use super::pose::Pose;
use std::ops::Range;

/// Poses looked at together.
const TOGETHER: usize = 32;

/// The ground in even bins, each with its highest point.
#[derive(Debug)]
pub(super) struct Highest {
    from: f64,
    to: f64,
    width: f64,
    bins: Vec<f64>,
}

impl Highest {
    /// With bins as wide as some steps.
    pub(super) fn of(ground: &Ground, step: f64) -> Self {
        let (from, to) = ground.span();
        // No more bins than a few for each pose, however long the lines are.
        let width = step * TOGETHER as f64 / 2.0;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by the input's check")]
        let count = ((to - from) / width) as usize + 1;
        let mut highest = Self { from, to, width, bins: vec![f64::NEG_INFINITY; count] };
        let mut corner = ground.corner(0);
        highest.raise(highest.bin(corner[0]), corner[1]);
        for i in 1..ground.len() {
            let next = ground.corner(i);
            // The line is highest at its ends and where it leaves a bin.
            let (first, last) = (highest.bin(corner[0]), highest.bin(next[0]));
            for bin in first..last {
                let edge = from + width * (bin + 1) as f64;
                let z = corner[1] + (edge - corner[0]) / (next[0] - corner[0]) * (next[1] - corner[1]);
                highest.raise(bin, z);
                highest.raise(bin + 1, z);
            }
            highest.raise(last, next[1]);
            corner = next;
        }
        highest
    }

    fn raise(&mut self, bin: usize, z: f64) {
        self.bins[bin] = self.bins[bin].max(z);
    }

    #[inline]
    fn bin(&self, s: f64) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "s lies on the ground")]
        let bin = ((s - self.from) / self.width) as usize;
        bin.min(self.bins.len() - 1)
    }

    /// Between two places; `None` where one of them is not on the ground.
    #[inline]
    fn between(&self, from: f64, to: f64) -> Option<f64> {
        if from < self.from || to > self.to {
            return None;
        }
        Some(self.bins[self.bin(from)..=self.bin(to)].iter().copied().fold(f64::NEG_INFINITY, f64::max))
    }
}

/// Some poses one after the other, and between what their numbers lie.
#[derive(Debug)]
pub(super) struct Block {
    pub poses: Range<usize>,
    s: [f64; 2],
    z: f64,
    sin: [f64; 2],
    cos: [f64; 2],
}

impl Block {
    pub(super) fn all(poses: &[Pose]) -> Vec<Self> {
        let block = |(i, some): (usize, &[Pose])| {
            let range = |of: fn(&Pose) -> f64| {
                some.iter().map(of).fold([f64::MAX, f64::MIN], |[low, high], x| [low.min(x), high.max(x)])
            };
            let first = i * TOGETHER;
            Self {
                poses: first..first + some.len(),
                s: range(|pose| pose.front_s),
                z: range(|pose| pose.front_z)[0],
                sin: range(|pose| pose.sin),
                cos: range(|pose| pose.cos),
            }
        };
        poses.chunks(TOGETHER).enumerate().map(block).collect()
    }

    /// True where every point between two points of the car is over the ground and at least `free` above it in all its poses.
    #[inline]
    pub(super) fn clears(&self, highest: &Highest, ends: [[f64; 2]; 2], free: f64) -> bool {
        let (mut from, mut to, mut low) = (f64::MAX, f64::MIN, f64::MAX);
        for [x, up] in ends {
            let ([cos_x, cos_up], [sin_x, sin_up]) =
                ([x, up].map(|by| self.times(self.cos, by)), [x, up].map(|by| self.times(self.sin, by)));
            from = from.min(self.s[0] + cos_x[0] - sin_up[1]);
            to = to.max(self.s[1] + cos_x[1] - sin_up[0]);
            low = low.min(self.z + sin_x[0] + cos_up[0]);
        }
        highest.between(from, to).is_some_and(|ground| low - ground >= free)
    }

    #[inline]
    fn times(&self, range: [f64; 2], by: f64) -> [f64; 2] {
        let (a, b) = (range[0] * by, range[1] * by);
        [a.min(b), a.max(b)]
    }
}

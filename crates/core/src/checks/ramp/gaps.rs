//! How far each point of the car stands over the ground along the run, and where it comes too near.

use super::block::{Block, Highest};
use super::ground::Ground;
use super::pose::{Pose, poses};
use super::{Point, Ramp, Touch};

/// The car in all its positions on the ground.
#[derive(Debug)]
pub(super) struct Scene<'r> {
    ground: &'r Ground,
    pub poses: Vec<Pose>,
    /// Positions in which the wheels had no place.
    pub without: usize,
    blocks: Vec<Block>,
    highest: Highest,
    front_radius: f64,
}

impl<'r> Scene<'r> {
    pub(super) fn of(ramp: &'r Ramp) -> Self {
        let (poses, without) = poses(&ramp.ground, &ramp.wheels, ramp.step_mm);
        Self {
            blocks: Block::all(&poses),
            poses,
            without,
            highest: Highest::of(&ramp.ground, ramp.step_mm),
            ground: &ramp.ground,
            front_radius: ramp.wheels.front_radius_mm,
        }
    }
}

/// A part of the car that is looked at: one point, or the whole outline.
#[derive(Debug)]
pub(super) enum Part<'c> {
    Point(&'c Point),
    Outline(&'c [[f64; 2]]),
}

impl Part<'_> {
    pub(super) fn name(&self) -> &str {
        match self {
            Self::Point(point) => &point.id,
            Self::Outline(_) => "outline",
        }
    }

    /// Straight down from the part to the ground in every pose, `lift` mm higher than it is. Infinite where it is not over the
    /// ground, and where the gap is `free` or more and nobody needs to know by how much.
    pub(super) fn gaps(&self, scene: &Scene<'_>, lift: f64, free: f64) -> Gaps {
        let at = |[x, z]: [f64; 2]| [x, z + lift - scene.front_radius];
        let mut gaps = Gaps { gaps: vec![f64::INFINITY; scene.poses.len()], beyond: Vec::new() };
        match self {
            Self::Point(point) => gaps.point(scene, at([point.x_mm, point.z_mm]), free),
            Self::Outline(corners) => {
                for corner in *corners {
                    gaps.point(scene, at(*corner), free);
                }
                for line in corners.windows(2) {
                    gaps.line(scene, [at(line[0]), at(line[1])], free);
                }
            }
        }
        gaps
    }
}

/// Gaps of one part, mm, pose by pose.
#[derive(Debug)]
pub(super) struct Gaps {
    gaps: Vec<f64>,
    /// Poses in which a piece of it was not over the ground.
    pub beyond: Vec<usize>,
}

impl Gaps {
    fn point(&mut self, scene: &Scene<'_>, at: [f64; 2], free: f64) {
        let mut near = 0;
        for block in &scene.blocks {
            if block.clears(&scene.highest, [at, at], free) {
                continue;
            }
            for i in block.poses.clone() {
                let (s, z) = scene.poses[i].carry(at[0], at[1]);
                match scene.ground.height(s, &mut near) {
                    Some(height) => self.gaps[i] = self.gaps[i].min(z - height),
                    None => self.beyond.push(i),
                }
            }
        }
    }

    /// A line comes nearest at one of its ends or over a corner of the ground; here over the corners.
    fn line(&mut self, scene: &Scene<'_>, ends: [[f64; 2]; 2], free: f64) {
        let mut near = 0;
        for block in &scene.blocks {
            if block.clears(&scene.highest, ends, free) {
                continue;
            }
            for i in block.poses.clone() {
                let [a, b] = ends.map(|[x, up]| scene.poses[i].carry(x, up));
                let (a, b) = if a.0 <= b.0 { (a, b) } else { (b, a) };
                for corner in scene.ground.between(a.0, b.0, &mut near) {
                    let [s, z] = scene.ground.corner(corner);
                    let over = a.1 + (s - a.0) / (b.0 - a.0) * (b.1 - a.1);
                    self.gaps[i] = self.gaps[i].min(over - z);
                }
            }
        }
    }

    /// Pose by pose.
    pub(super) fn all(&self) -> &[f64] {
        &self.gaps
    }

    /// The least gap and the pose where it is; infinite where none was looked at.
    pub(super) fn least(&self) -> (f64, usize) {
        let mut least = (f64::INFINITY, 0);
        for (i, gap) in self.gaps.iter().enumerate() {
            if *gap < least.0 {
                least = (*gap, i);
            }
        }
        least
    }

    /// The stretches below the allowance.
    pub(super) fn touches(&self, name: &str, poses: &[Pose], allowance: f64, out: &mut Vec<Touch>) {
        let mut open: Option<(usize, f64)> = None;
        for (i, gap) in self.gaps.iter().copied().chain([f64::INFINITY]).enumerate() {
            match &mut open {
                None if gap < allowance => open = Some((i, gap)),
                Some((_, least)) if gap < allowance => *least = least.min(gap),
                Some((first, least)) => {
                    out.push(Touch {
                        point: name.to_owned(),
                        from_mm: poses[*first].front_s,
                        to_mm: poses[i - 1].front_s,
                        deepest_mm: allowance - *least,
                        contact: *least < 0.0,
                    });
                    open = None;
                }
                None => {}
            }
        }
    }
}

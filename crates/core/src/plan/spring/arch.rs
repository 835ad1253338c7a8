//! Arch of a pack from the arch of its loose leaves, the nip between them, and what drawing them together stresses.
//!
//! Loose leaves drawn together take one curvature κ, at which their moments balance: κ = Σ I·κ_i / Σ I, I ∝ t³ [SAE HS-788,
//! from general knowledge]. A leaf is an arc of a circle; that its neighbours lie a thickness further in is left out.

use super::{Leaf, PackSize, SpringPack, Stack};

/// A pack drawn together, without load.
pub(super) struct Clamped {
    /// 1/mm.
    curvature: f64,
    /// Over the length of the pack, mm.
    pub arch_mm: f64,
}

impl Clamped {
    /// `None` unless the arch of every leaf and the length of the pack are given.
    pub(super) fn of(pack: &SpringPack, stack: &Stack) -> Option<Self> {
        let (mut moment, mut stiffness) = (0.0, 0.0);
        for leaf in &stack.leaves {
            let cube = leaf.thickness_mm.powi(3);
            moment += cube * curvature(pack, &pack.leaves[leaf.number - 1])?;
            stiffness += cube;
        }
        let curvature = moment / stiffness;
        Some(Self { curvature, arch_mm: arch_of(curvature, pack.size?.length_mm) })
    }

    /// E·t/2·(κ_i − κ): above 0 where the load adds to it, MPa.
    ///
    /// The load straightens an arched leaf; a leaf that was flatter than the pack has been bent the other way.
    pub(super) fn stress(&self, pack: &SpringPack, size: &PackSize, number: usize) -> f64 {
        let leaf = &pack.leaves[number - 1];
        let own = curvature(pack, leaf).unwrap_or(self.curvature);
        size.young_gpa * 1000.0 * leaf.thickness_mm / 2.0 * (own - self.curvature)
    }
}

/// Gap between leaf `number` and the next one before they are drawn together, over the shorter of the two, mm.
pub(super) fn nip(pack: &SpringPack, number: usize) -> Option<f64> {
    let (leaf, next) = (pack.leaves.get(number - 1)?, pack.leaves.get(number)?);
    let length = |leaf: &Leaf| leaf.length_mm.or(pack.size.map(|size| size.length_mm));
    let shorter = length(leaf)?.min(length(next)?);
    Some(arch_of(curvature(pack, next)?, shorter) - arch_of(curvature(pack, leaf)?, shorter))
}

/// Of a circle with the leaf's arch over its length: κ = 8a/(l² + 4a²).
fn curvature(pack: &SpringPack, leaf: &Leaf) -> Option<f64> {
    let length = leaf.length_mm.or(pack.size.map(|size| size.length_mm))?;
    let arch = leaf.free_arch_mm?;
    Some(8.0 * arch / (length * length + 4.0 * arch * arch))
}

/// Arch of a circle over a chord: (1 − √(1 − κ²l²/4))/κ, written without the difference of near numbers.
fn arch_of(curvature: f64, chord_mm: f64) -> f64 {
    let half = chord_mm / 2.0;
    let root = (1.0 - (curvature * half).powi(2)).max(0.0).sqrt();
    curvature * half * half / (1.0 + root)
}

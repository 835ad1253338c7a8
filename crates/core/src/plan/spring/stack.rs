//! The leaves that are in a pack: how stiff they are together, and what the load stresses.

use super::{PackSize, SpringPack};

/// The leaves that are in the pack.
pub(super) struct Stack {
    pub leaves: Vec<InPack>,
}

pub(super) struct InPack {
    pub number: usize,
    pub thickness_mm: f64,
    full_length: bool,
}

impl Stack {
    pub(super) fn of(pack: &SpringPack, stays: impl Fn(usize) -> bool) -> Self {
        let leaves = pack.leaves.iter().enumerate().filter(|(i, _)| stays(i + 1)).map(|(i, leaf)| InPack {
            number: i + 1,
            thickness_mm: leaf.thickness_mm,
            full_length: i < pack.full_length,
        });
        Self { leaves: leaves.collect() }
    }

    fn cubes(&self) -> f64 {
        self.leaves.iter().map(|leaf| leaf.thickness_mm.powi(3)).sum()
    }

    /// 1 + n_f/(2n): a full-length leaf is half as stiff again as a graded one.
    fn full_length_factor(&self) -> f64 {
        let full = self.leaves.iter().filter(|leaf| leaf.full_length).count();
        1.0 + full as f64 / (2.0 * self.leaves.len() as f64)
    }

    pub(super) fn stiffness(&self) -> f64 {
        self.cubes() * self.full_length_factor()
    }

    /// N/mm.
    pub(super) fn rate(&self, size: &PackSize) -> f64 {
        8.0 * size.young_gpa * 1000.0 * size.width_mm * self.stiffness() / (3.0 * size.active_mm().powi(3))
    }

    /// MPa, of a leaf that is in the pack.
    pub(super) fn stress(&self, size: &PackSize, load_n: f64, number: usize) -> f64 {
        let leaf = self.leaves.iter().find(|leaf| leaf.number == number);
        let Some(leaf) = leaf else { return 0.0 };
        let graded = 3.0 * load_n * size.active_mm() * leaf.thickness_mm / (2.0 * size.width_mm * self.stiffness());
        if leaf.full_length { 1.5 * graded } else { graded }
    }

    /// Of leaves of one thickness, some of them full-length: nip 2Wl³/(nEbt³), bolt 2·n_f·n_g·W/(n(2n_g + 3n_f)), stress
    /// 6Wl/(nbt²), W and l of one half [Khurmi and Gupta; Bhandari].
    pub(super) fn equal_stress(&self, size: &PackSize, load_n: f64) -> Option<EqualStress> {
        let thickness = self.leaves.first()?.thickness_mm;
        let full = self.leaves.iter().filter(|leaf| leaf.full_length).count() as f64;
        let count = self.leaves.len() as f64;
        let graded = count - full;
        if full == 0.0 || graded == 0.0 || self.leaves.iter().any(|leaf| leaf.thickness_mm != thickness) {
            return None;
        }
        let (half_load, half_length) = (load_n / 2.0, size.active_mm() / 2.0);
        let section = count * size.width_mm * thickness * thickness;
        Some(EqualStress {
            nip_mm: 2.0 * half_load * half_length.powi(3) / (section * thickness * size.young_gpa * 1000.0),
            bolt_n: 2.0 * full * graded * half_load / (count * (2.0 * graded + 3.0 * full)),
            stress_mpa: 6.0 * half_load * half_length / section,
        })
    }
}

/// What nip between full-length and graded leaves can do.
#[derive(Clone, Copy)]
pub(super) struct EqualStress {
    pub nip_mm: f64,
    pub bolt_n: f64,
    pub stress_mpa: f64,
}

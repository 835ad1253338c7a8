//! A leaf spring pack as it is described: its size, its leaves, which of them come out, and what was read of it.

use super::PackReading;

/// A pack as it is described: by its dimensions, by readings with and without load, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringPack {
    /// Length and width, where they are given.
    pub size: Option<PackSize>,
    /// Main leaf first.
    pub leaves: Vec<Leaf>,
    /// Leaves that reach to the eyes, counted from the main leaf; 0 for a graded pack.
    pub full_length: usize,
    /// Load at the middle of the spring, N.
    pub load_n: f64,
    /// Leaves taken out, counted from 1 = main leaf; never the main leaf.
    pub remove: Vec<usize>,
    /// Height of the pack at two or more loads; these give the rate.
    pub readings: Vec<PackReading>,
    /// Of the whole pack without load, from the line through the eyes, mm.
    pub free_arch_mm: Option<f64>,
}

/// Length and width of a pack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackSize {
    /// Between the eyes, mm.
    pub length_mm: f64,
    /// Of the leaves, mm.
    pub width_mm: f64,
    /// Between the U-bolts, mm.
    pub clamped_mm: f64,
    /// Young's modulus, GPa.
    pub young_gpa: f64,
}

impl PackSize {
    /// What of the length bends, mm.
    pub fn active_mm(&self) -> f64 {
        self.length_mm - 2.0 / 3.0 * self.clamped_mm
    }
}

/// One leaf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaf {
    /// mm.
    pub thickness_mm: f64,
    /// End to end of the loose leaf, mm; absent: as long as the pack.
    pub length_mm: Option<f64>,
    /// Of the loose leaf, from the line through its ends, mm.
    pub free_arch_mm: Option<f64>,
}

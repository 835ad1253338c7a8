//! What is told of a pack: before and after, and leaf by leaf.

use super::MeasuredRate;
use serde::Serialize;

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringAnswer {
    /// With all leaves.
    pub before: PackState,
    /// Without those taken out.
    pub after: PackState,
    /// How much lower the car sits after, by the rate alone, load the same, mm; arch apart.
    pub drop_mm: f64,
    /// How much arch the pack loses without load, where the arch of every leaf is given, mm; below 0 where it gains.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arch_drop_mm: Option<f64>,
    /// The rate as read, where readings are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_rate: Option<MeasuredRate>,
    /// The rate as the dimensions have it, where readings are given too, N/mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate_by_dimensions_n_per_mm: Option<f64>,
    /// Main leaf first.
    pub leaves: Vec<LeafRow>,
}

/// A pack, before or after.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PackState {
    /// At the middle, N/mm.
    pub rate_n_per_mm: f64,
    /// From no load to the load, mm.
    pub deflection_mm: f64,
    /// Largest of all leaves, MPa, where length and width are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_mpa: Option<f64>,
    /// Without load, mm, where an arch is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_arch_mm: Option<f64>,
    /// Under the load, mm; below 0 where the spring bends over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arch_mm: Option<f64>,
    /// Nip between full-length and graded leaves that evens out their stress at this load, mm; equal leaves only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_nip_mm: Option<f64>,
    /// What the centre bolt pulls to close that nip, N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_bolt_n: Option<f64>,
    /// The stress of every leaf then, MPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equal_stress_mpa: Option<f64>,
}

/// One leaf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeafRow {
    /// From 1 = main leaf.
    pub leaf: usize,
    /// mm.
    pub thickness_mm: f64,
    /// From the load, MPa, where length and width are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_mpa: Option<f64>,
    /// The same after; absent where the leaf is taken out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stress_after_mpa: Option<f64>,
    /// From drawing the loose leaves together, MPa; above 0 where the load adds to it, below 0 where the load takes it off, as
    /// in the main leaf of a pack with nip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamping_stress_mpa: Option<f64>,
    /// Gap to the next leaf before they are drawn together, over the shorter of the two, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nip_mm: Option<f64>,
}

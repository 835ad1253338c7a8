//! The spring packs' page: before and after leaves come out.

use super::{MechanismWords, StanceChoice, StanceChoices, StanceRef};
use serde::{Deserialize, Serialize};

/// Asks for the page of a spring pack.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeSpring {
    /// The car.
    pub car: String,
    /// True: the rear axle's.
    pub rear: bool,
    /// Leaves to take out, counted from 1 = main leaf; absent: those that the car's description names.
    #[serde(default)]
    pub remove: Option<Vec<u32>>,
    /// The plan whose leaves out are tried; absent: as the pack is.
    #[serde(default)]
    pub stance: Option<StanceRef>,
    /// True: lengths are told in inches; else in mm.
    #[serde(default)]
    pub inches: bool,
}

/// The page of a spring pack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SpringView {
    /// The car.
    pub car: String,
    /// True: the rear axle's.
    pub rear: bool,
    /// What it says.
    pub words: MechanismWords,
    /// The newest snapshot, and the plans.
    pub choices: StanceChoices,
    /// The one that is shown; absent before the first snapshot.
    pub stance: Option<StanceChoice>,
    /// True for a plan: predicted.
    pub predicted: bool,
    /// Whole; absent where no pack is described.
    pub before: Option<PackSide>,
    /// Without the leaves that come out; absent where none does.
    pub after: Option<PackSide>,
    /// Leaf by leaf, main leaf first.
    pub leaves: Vec<LeafLine>,
}

/// A pack as it is drawn and told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PackSide {
    /// N/mm.
    pub rate_n_per_mm: f64,
    /// From no load to the load, mm.
    pub deflection_mm: f64,
    /// Largest of its leaves, MPa.
    pub stress_mpa: Option<f64>,
    /// Without load, mm.
    pub free_arch_mm: Option<f64>,
    /// Under the load, mm.
    pub arch_mm: Option<f64>,
    /// How far the middle lies under that of the whole pack, mm.
    pub lower_mm: f64,
    /// Its leaves, main leaf first.
    pub drawn: Vec<DrawnLeaf>,
}

/// A leaf as it is drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DrawnLeaf {
    /// From 1 = main leaf.
    pub leaf: u32,
    /// mm.
    pub thickness_mm: f64,
    /// End to end, mm.
    pub length_mm: f64,
}

/// One leaf in numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LeafLine {
    /// From 1 = main leaf.
    pub leaf: u32,
    /// "6.35 mm thick, 1040 mm long"
    pub words: String,
    /// True where it comes out.
    pub out: bool,
    /// MPa, from the load.
    pub stress_mpa: Option<f64>,
    /// The same after.
    pub stress_after_mpa: Option<f64>,
    /// From drawing the loose leaves together, MPa.
    pub clamping_mpa: Option<f64>,
    /// Gap to the next leaf before they are drawn together, mm.
    pub nip_mm: Option<f64>,
}

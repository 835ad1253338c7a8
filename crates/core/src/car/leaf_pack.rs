//! The leaf springs of a car, leaf by leaf. Each is written as the bench sum of a spring pack takes it.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The packs of both axles, as far as known.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LeafPacks {
    /// The front axle's; of two alike one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front: Option<LeafPack>,
    /// The rear axle's; of two alike one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rear: Option<LeafPack>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl LeafPacks {
    /// True where none is described.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// One pack: by its dimensions, by readings with and without load, or both.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LeafPack {
    /// Between the eyes, 100 to 3,000 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
    /// Of the leaves, 10 to 300 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// Between the U-bolts, 0 to 1,000 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clamped_mm: Option<f64>,
    /// Load at the middle of the spring, 1 to 500,000 N.
    pub load_n: f64,
    /// Main leaf first, at most 40.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub leaves: Vec<PackLeaf>,
    /// Leaves that the person thinks of taking out, counted from 1 = main leaf; never the main leaf.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remove: Vec<usize>,
    /// Leaves that reach to the eyes, counted from the main leaf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub full_length: Option<usize>,
    /// Arch of the whole pack without load, from the line through the eyes, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_arch_mm: Option<f64>,
    /// Young's modulus, GPa; absent: 206.8.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub young_gpa: Option<f64>,
    /// Height of the pack at two or more loads; these give the rate.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<LoadedHeight>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// One leaf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PackLeaf {
    /// 1 to 60 mm.
    pub thickness_mm: f64,
    /// End to end of the loose leaf, mm; absent: as long as the pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
    /// Of the loose leaf, from the line through its ends, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_arch_mm: Option<f64>,
}

/// Height of a pack under a load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadedHeight {
    /// 0 to 500,000 N.
    pub load_n: f64,
    /// mm; less at more load.
    pub height_mm: f64,
}

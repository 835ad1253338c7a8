//! The springs of a car, axle by axle.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Springs of both axles.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Suspension {
    /// The front axle's.
    pub front: AxleSprings,
    /// The rear axle's.
    pub rear: AxleSprings,
}

/// Springs of one axle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AxleSprings {
    /// In words: "beam, one transverse leaf".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<String>,
    /// Distance between the springs (not the track), mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spring_base_mm: Option<f64>,
    /// Both wheels of the axle, spring and tire in series, N/mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_ride_rate_n_per_mm: Option<RideRate>,
    /// Which sort of spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spring: Option<SpringKind>,
    /// One side's spring at the spring, N/mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side_rate_n_per_mm: Option<RideRate>,
    /// The bar's own roll stiffness, N·m for each degree of lean.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bar_nm_per_deg: Option<RideRate>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Sorts of spring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum SpringKind {
    /// One leaf spring across the car.
    TransverseLeaf,
    /// Two leaf springs along the car.
    ParallelLeaf,
    /// Coils.
    Coil,
    /// Torsion bars.
    TorsionBar,
    /// Air bags.
    Air,
}

/// A rate with a relative standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RideRate {
    /// N/mm, above 0.
    pub value: f64,
    /// Standard uncertainty over value, above 0.
    pub rel_u: f64,
}

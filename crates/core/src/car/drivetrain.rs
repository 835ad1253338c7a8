//! From the engine to the rear wheels: ratios, and the joints of the shaft.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Ratios.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Drive {
    /// Turns of the shaft for one of the wheels, 0.2 to 50.
    pub axle_ratio: f64,
    /// Turns of the engine for one of the shaft in top gear, 0.1 to 50.
    #[serde(default = "direct")]
    pub top_gear_ratio: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn direct() -> f64 {
    1.0
}

/// An open shaft with a joint at each end, or a closed one with a joint in front. Slopes as first measured, at nominal load.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Driveline {
    /// Slope of the transmission's output, −45 to 45 degrees, positive falling to the rear.
    pub transmission_deg: f64,
    /// Slope of the pinion, −45 to 45 degrees, positive falling to the rear; absent for a closed shaft.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pinion_deg: Option<f64>,
    /// Front joint `[x, z]`, mm; 50 to 10,000 mm ahead of the rear one, −500 to 3,000 mm above level ground.
    pub front_joint: [f64; 2],
    /// Rear joint, or the axle's middle for a closed shaft, `[x, z]`, mm; −500 to 3,000 mm above level ground.
    pub rear_joint: [f64; 2],
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

//! Parts of the car that want to stand level: a carburetor flange, the line of an oil level.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A part that wants to stand level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LevelPart {
    /// In words.
    pub label: String,
    /// How far it tips nose-down as first measured, −45 to 45 degrees.
    pub nose_down_deg: f64,
    /// How far it may tip, 0.1 to 45 degrees.
    #[serde(default = "usual_tip_deg")]
    pub limit_deg: f64,
    /// Ahead of the front axle, mm: beyond a cut of the frame it turns with that; absent: behind every cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub x_mm: Option<f64>,
    /// Name of the snapshot it was measured beside; absent: the first. Then it counts from how the car stood there, at nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// How far float bowls and oil levels may tip [common practice, no source].
pub const USUAL_TIP_DEG: f64 = 3.0;

const fn usual_tip_deg() -> f64 {
    USUAL_TIP_DEG
}

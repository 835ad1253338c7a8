//! Angles of the ground that the person meets with the car.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Slopes that the car has to get onto; each may be unknown.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundAngles {
    /// Of the apron at the street, 0 to 60 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub apron_angle_deg: Option<f64>,
    /// Of the trailer's ramp, 0 to 60 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trailer_ramp_angle_deg: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

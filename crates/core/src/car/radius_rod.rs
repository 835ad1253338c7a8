//! What leads the front axle: a rod rigid with it, with a ball at the frame.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A radius rod, a wishbone, or one half of a split one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RadiusRod {
    /// Of its ball at the frame, ahead of the front axle, −5,000 to 5,000 mm.
    pub frame_pivot_x_mm: f64,
    /// 100 to 5,000 mm.
    pub length_mm: f64,
    /// As first measured, −30 to 30 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub static_caster_deg: Option<f64>,
    /// Name of the snapshot it was measured beside; absent: the first. Then it counts from how the car stood there, at nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

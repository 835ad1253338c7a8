//! From the engine to the rear wheels: ratios, and the joints of the shaft.

use super::AxleGuide;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Ratios.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Drive {
    /// Turns of the shaft for one of the wheels, 0.2 to 50.
    pub axle_ratio: f64,
    /// Turns of the engine for one of the shaft in top gear, 0.1 to 50.
    #[serde(default = "direct")]
    pub top_gear_ratio: f64,
    /// Every gear, in the person's order.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub gears: Vec<Gear>,
    /// Other axles and tires that the person sets beside it.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<OtherDrive>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn direct() -> f64 {
    1.0
}

/// A gear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Gear {
    /// Its name: "1", "top".
    pub gear: String,
    /// Turns of the engine for one of the shaft, 0.1 to 50.
    pub ratio: f64,
}

/// Another axle, another rear tire, or both; what is absent is as the car has it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OtherDrive {
    /// In words; absent: what is other about it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Turns of the shaft for one of the wheels, 0.2 to 50.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_ratio: Option<f64>,
    /// The marking on the sidewall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tire: Option<String>,
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
    /// What leads the rear axle; absent: it goes straight up and down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guide: Option<AxleGuide>,
    /// How far the axle can go down from rest, 1 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop_mm: Option<f64>,
    /// How far it can go up, 1 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump_mm: Option<f64>,
    /// How far the slip joint can go in, 0 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_in_mm: Option<f64>,
    /// How far the slip joint can come out, 0 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_out_mm: Option<f64>,
    /// Name of the snapshot it was measured beside; absent: the first. Then it counts from how the car stood there, at nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Of a point that was measured beside another one: its name, and that of the snapshot.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub measured_in_of: BTreeMap<String, String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

//! Lamps: where each sits, and how far its beam falls.

use super::Attached;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A lamp.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Lamp {
    /// Its name in files.
    #[serde(default = "a_lamp")]
    pub id: String,
    /// As the lamp table of 49 CFR 571.108 calls it: `lower beam headlamp`, `taillamp` …
    #[serde(default = "low_beam")]
    pub kind: String,
    /// What it goes with.
    #[serde(default, deserialize_with = "crate::capture::or_default")]
    pub attach: Attached,
    /// Ahead of the front axle, −20,000 to 20,000 mm.
    pub x_mm: f64,
    /// Left of the centre plane, −3,000 to 3,000 mm.
    #[serde(default, deserialize_with = "crate::capture::or_default")]
    pub y_mm: f64,
    /// Its centre above level ground as first measured, at nominal load, −500 to 5,000 mm.
    pub z_mm: f64,
    /// How far its beam falls over the way, as first measured, −20 to 20 percent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beam_drop_percent: Option<f64>,
    /// Name of the snapshot it was measured beside; absent: the first. Then it counts from how the car stood there, at nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What a lamp without a kind is: the one whose aim matters.
pub const LOW_BEAM: &str = "lower beam headlamp";

fn a_lamp() -> String {
    "lamp".to_owned()
}

fn low_beam() -> String {
    LOW_BEAM.to_owned()
}

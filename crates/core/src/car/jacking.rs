//! Jacks, the points they lift at, straps that tie the car down, and a radiator that was made lower.

use super::Attached;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Lifting and tying down.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Jacking {
    /// The person's jacks.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub jacks: Vec<Jack>,
    /// Where the car may be lifted or stand on stands; heights as first measured, at nominal load.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<JackPoint>,
    /// Straps over the springs: those that pull at an axle leave the body where it is and are not named here.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub straps: Vec<Strap>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A jack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Jack {
    /// In words: "low trolley jack".
    pub label: String,
    /// Its saddle above the floor, all the way down, 20 to 600 mm.
    pub saddle_low_mm: f64,
    /// Its saddle all the way up, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub saddle_high_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A place to lift at.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct JackPoint {
    /// In words: "axle, left of the spring".
    pub label: String,
    /// What it goes with.
    #[serde(default)]
    pub attach: Attached,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    #[serde(default)]
    pub y_mm: f64,
    /// Above level ground, −50 to 1,500 mm.
    pub z_mm: f64,
    /// Name of the snapshot beside which it was measured; absent: the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A strap, or a pair of them, that pulls the body down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Strap {
    /// In words: "front pair".
    pub label: String,
    /// Ahead of the front axle where it holds the body, mm.
    pub x_mm: f64,
    /// Pull in all of its straps together, 10 to 5,000 kg of force.
    pub pull_kg: f64,
    /// How steeply it goes down to the deck, 0 to 90 degrees from level.
    pub down_deg: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A radiator's core, before and after height was taken out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Radiator {
    /// Core height before, 100 to 1,200 mm.
    pub core_height_mm: f64,
    /// Core width, 100 to 1,500 mm.
    pub core_width_mm: f64,
    /// Taken out of the height, mm.
    pub sectioned_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

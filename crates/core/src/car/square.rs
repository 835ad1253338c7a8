//! Whether axles and frame stand square: wheelbases, diagonals, toe, camber and caster as tape and gauge said.

use crate::corner::Corner;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// One measuring of squareness and alignment.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Square {
    /// Wheel centre to wheel centre on the left, 500 to 10,000 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheelbase_left_mm: Option<f64>,
    /// The same on the right.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheelbase_right_mm: Option<f64>,
    /// Crossed measures over the frame.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub diagonals: Vec<Diagonals>,
    /// Toe of the front wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub toe_front: Option<Toe>,
    /// Toe of the rear wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub toe_rear: Option<Toe>,
    /// Camber by gauge, degrees, top outward positive, as the gauge said on the floor below.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "BTreeMap::is_empty")]
    pub camber_deg: BTreeMap<Corner, f64>,
    /// Caster of the front wheels, by gauge.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "BTreeMap::is_empty")]
    pub caster: BTreeMap<Corner, CasterReading>,
    /// The floor it stood on; absent: level within half a degree.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor: Option<FloorSlope>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Two crossed measures between the same four points of a frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Diagonals {
    /// In words: "rail to rail, front horn to rear crossmember".
    pub label: String,
    /// From the left front point to the right rear one, 200 to 10,000 mm.
    pub left_front_to_right_rear_mm: f64,
    /// From the right front point to the left rear one.
    pub right_front_to_left_rear_mm: f64,
    /// Along the car between the front and the rear points, mm; with it the rail that stands ahead is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub apart_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Toe by tape: between scribed lines on the two treads, at the height of the wheel centres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Toe {
    /// Across the front of the tires, 300 to 4,000 mm.
    pub front_mm: f64,
    /// Across the rear of them, mm.
    pub rear_mm: f64,
    /// From the front mark to the rear mark of one tire, 200 to 1,500 mm; absent: its diameter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub apart_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Caster, read off directly, or from the camber with the wheel steered as far out as in.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CasterReading {
    /// As a gauge on the kingpin or spindle says it, degrees, top rearward positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge_deg: Option<f64>,
    /// How far the wheel was steered each way, 5 to 35 degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steered_deg: Option<f64>,
    /// Camber with the front of the wheel outward, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camber_out_deg: Option<f64>,
    /// Camber with the front of the wheel inward, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camber_in_deg: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl CasterReading {
    /// Steered angle and both cambers of a swing, degrees, where all three are there.
    pub fn swing_deg(&self) -> Option<[f64; 3]> {
        Some([self.steered_deg?, self.camber_out_deg?, self.camber_in_deg?])
    }
}

/// How the floor lay under the wheels.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FloorSlope {
    /// Rear wheels higher than the front ones, degrees.
    pub rear_higher_deg: f64,
    /// Left wheel higher than the right one at the front axle, degrees.
    pub left_higher_front_deg: f64,
    /// The same at the rear axle.
    pub left_higher_rear_deg: f64,
    /// Standard uncertainty of each, degrees; absent: 0.1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

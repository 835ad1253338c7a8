//! What scales said of the car: both axles of a ticket, or a pad under each wheel.

use crate::corner::Corners;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A weighing at the nominal load.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Weighed {
    /// Both axles of a scale ticket.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axles_kg: Option<AxlesKg>,
    /// A scale under each wheel, kg; comes before the axles.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheels_kg: Option<Corners<f64>>,
    /// The front axle with the rear one raised: tells how high the weight sits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub raised: Option<RaisedRear>,
    /// Standard uncertainty of one reading of the scale, kg; absent: 5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_kg: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Both axles, kg, 20 to 10,000.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AxlesKg {
    /// On the front axle.
    pub front: f64,
    /// On the rear axle.
    pub rear: f64,
}

/// A second weighing with the rear axle raised, springs blocked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RaisedRear {
    /// On the front axle then, 20 to 25,000 kg.
    pub front_kg: f64,
    /// How far the rear axle was raised, 50 to 3,000 mm.
    pub lift_mm: f64,
    /// Wheel centres above the ground, level, 100 to 1,000 mm.
    pub axle_height_mm: f64,
}

//! A reading on the car: tape or angle gauge, as entered and in numbers.

use super::{mm, or_default};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// One tape value as entered: height above the floor straight below the point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Reading {
    /// A reference point's name, or `hub.` and a corner.
    #[serde(rename = "ref")]
    pub point: String,
    /// Which round: 1, 2, …
    #[serde(default = "first")]
    pub repeat: u32,
    /// As entered.
    #[serde(default, deserialize_with = "or_default")]
    pub text: String,
    /// Unit of the text, `mm`, `cm` or `in`.
    #[serde(default = "mm")]
    pub unit: String,
    /// The same in mm.
    pub value_mm: f64,
    /// When, `YYYY-MM-DDTHH:MM:SS+HH:MM`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken_at: Option<String>,
    /// Set when the person struck it; it stays in the book and takes no part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Id of the tape it was read with; absent: the snapshot's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn first() -> u32 {
    1
}

/// Why and when a reading was struck.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Struck {
    /// The person's reason.
    pub reason: String,
    /// When.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// An angle gauge laid on the car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GaugeReading {
    /// The bounce it belongs to.
    pub bounce_id: String,
    /// `frame_rail_left`, `frame_rail_right` (positive nose-down); `frame_front`, `frame_rear` across the frame (positive left higher).
    #[serde(rename = "where")]
    pub place: String,
    /// The gauge turned end for end.
    #[serde(default, deserialize_with = "or_default")]
    pub reversed: bool,
    /// Already turned into the car's sense, degrees.
    pub angle_deg: f64,
    /// As entered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Standard uncertainty of one reading, degrees; absent 0.07.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
    /// Set when the person struck it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Id of the angle gauge it was read with; absent: the snapshot's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

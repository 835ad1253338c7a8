//! Where a car ends and where its loads sit: overhangs, roof and hood, tank and seats.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Sizes of the body that fit the drawn outline to the car; no result hangs on them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Extent {
    /// From the front wheel centre forward to the foremost part, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overhang_front_mm: Option<f64>,
    /// From the rear wheel centre back to the rearmost part, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overhang_rear_mm: Option<f64>,
    /// Top of the roof or the windscreen above the floor on the day it was read, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roof_height_mm: Option<f64>,
    /// Rear edge of the hood above the floor on that day, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hood_height_mm: Option<f64>,
    /// The rails above the floor on that day, mid-wheelbase, mm: the body rides on them when the car is lowered later.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rail_height_then_mm: Option<f64>,
}

impl Extent {
    /// True where nothing was measured.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// The fuel tank: what a fuel load needs to be taken out of the heights.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Tank {
    /// What it holds, litres.
    pub litres: f64,
    /// Its middle ahead of the front axle, mm.
    pub x_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A place where people sit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Seat {
    /// In words: "front seat".
    pub label: String,
    /// Its middle ahead of the front axle, mm.
    pub x_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

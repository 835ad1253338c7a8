//! Places on the car whose height is checked, and what each goes with when the car is lowered.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A low point: a pan, an exhaust bend, an axle housing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LowPoint {
    /// Its name in files.
    pub id: String,
    /// In words; absent: its name stands for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// What it goes with.
    #[serde(default, deserialize_with = "crate::capture::or_default")]
    pub attach: Attached,
    /// Ahead of the front axle, −20,000 to 20,000 mm.
    pub x_mm: f64,
    /// Left of the centre plane, −3,000 to 3,000 mm.
    #[serde(default, deserialize_with = "crate::capture::or_default")]
    pub y_mm: f64,
    /// Above level ground as first measured, at nominal load, −500 to 5,000 mm.
    pub z_mm: f64,
    /// Name of the snapshot it was measured beside; absent: the first. Then it counts from how the car stood there, at nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl LowPoint {
    /// As it is called: in words, else by its name.
    pub fn called(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.id)
    }

    /// Its place `[x, y, z]`, mm.
    pub const fn place_mm(&self) -> [f64; 3] {
        [self.x_mm, self.y_mm, self.z_mm]
    }
}

/// What a point goes with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Attached {
    /// Body or frame.
    #[default]
    Body,
    /// The frame, which a body that is channelled over it does not take down.
    Frame,
    /// The front axle.
    FrontAxle,
    /// The rear axle.
    RearAxle,
}

impl Attached {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Body, Self::Frame, Self::FrontAxle, Self::RearAxle];

    /// True for what goes with an axle and not with the body.
    pub const fn is_axle(self) -> bool {
        matches!(self, Self::FrontAxle | Self::RearAxle)
    }
}

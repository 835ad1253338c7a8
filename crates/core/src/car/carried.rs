//! What a car carries now and then: luggage, and what a trailer lays on the ball.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A mass and where it sits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Carried {
    /// 0.1 to 5,000 kg.
    pub mass_kg: f64,
    /// Its middle ahead of the front axle, −15,000 to 5,000 mm.
    pub x_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

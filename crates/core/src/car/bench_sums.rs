//! What a person reckons for a car at the bench: its steering box, its brake pedal, the wedge for a caster. Each is written as the
//! bench sum of that name takes it.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Steering box, both arms and what a road wheel sweeps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BoxAndArms {
    /// Turns of the steering wheel for one of the pitman arm, 2 to 60; this or the next one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub box_ratio: Option<f64>,
    /// Turns of the steering wheel from lock to lock, as counted, 0.3 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turns_lock_to_lock: Option<f64>,
    /// Ball to the middle of its shaft, 20 to 500 mm.
    pub pitman_arm_mm: f64,
    /// At the road wheel, ball to the kingpin's line, 20 to 500 mm.
    pub steering_arm_mm: f64,
    /// One road wheel from lock to lock, 10 to 120 degrees.
    pub wheel_sweep_deg: f64,
    /// Others that are thought of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<OtherBox>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Another box or other arms; what is left out stays as it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OtherBox {
    /// In words: "longer pitman arm".
    pub label: String,
    /// 2 to 60.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub box_ratio: Option<f64>,
    /// 20 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitman_arm_mm: Option<f64>,
    /// 20 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steering_arm_mm: Option<f64>,
}

/// A brake or clutch pedal and its cylinder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PedalArms {
    /// Pivot to the middle of the pad, 10 to 800 mm.
    pub pad_mm: f64,
    /// Pivot to the push rod's pin, 10 to 800 mm, less than the pad's.
    pub rod_mm: f64,
    /// Push of the foot, 10 to 2,000 N; absent: 300.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot_n: Option<f64>,
    /// Bore of the master cylinder, 5 to 80 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bore_mm: Option<f64>,
    /// The cylinder's stroke in use, 1 to 150 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stroke_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A caster that is wanted, and where the wedge for it would go: under a spring pad, or into a cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WantedCaster {
    /// Now, on level ground, −15 to 20 degrees.
    pub caster_deg: f64,
    /// −15 to 20 degrees.
    pub wanted_deg: f64,
    /// Length of the pad between spring and axle, 20 to 300 mm; this or the depth of a cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pad_mm: Option<f64>,
    /// Of a pad: where the axle is; absent: below its spring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle: Option<AxleAt>,
    /// Depth of the tube or bar that is cut, 10 to 200 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_depth_mm: Option<f64>,
    /// Of a cut: how far from the axle, mm; absent: at the axle or in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_from_axle_mm: Option<f64>,
    /// Of a cut: the rod's length from the axle to its ball, 100 to 5,000 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rod_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Where an axle is seen from its spring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum AxleAt {
    /// It hangs under the spring.
    BelowSpring,
    /// It lies on the spring.
    AboveSpring,
}

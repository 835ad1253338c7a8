//! The steering of the front wheels and what leads their axle, as it was measured. It is written as the bench sum of bump steer takes it.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// One front wheel's steering, mm, heights above level ground beside the snapshot it was measured in, at nominal load. Places are `[x, y, z]`: ahead of the
/// front axle, left of the centre plane, above the ground, each −10,000 to 10,000.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Steering {
    /// Ball on the steering box's arm.
    pub pitman_ball: [f64; 3],
    /// Ball on the steering arm of the wheel.
    pub arm_ball: [f64; 3],
    /// The kingpin.
    pub kingpin: Kingpin,
    /// Centre of the wheel on its spindle.
    pub hub: [f64; 3],
    /// What leads the axle.
    pub guide: AxleGuide,
    /// How far the wheel goes down and up from rest, `[-60, 60]`, within −500 to 500 mm.
    pub travel_mm: [f64; 2],
    /// From one travel of the curve to the next, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_mm: Option<f64>,
    /// Name of the snapshot beside which it was measured; absent: the first.
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

/// The axis about which a wheel is steered.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Kingpin {
    /// A point on it, `[x, y, z]`, mm.
    pub point: [f64; 3],
    /// Its direction; length and sign do not count, but it must point up rather than lie.
    pub axis: [f64; 3],
}

/// What leads an axle up and down.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum AxleGuide {
    /// A radius rod, a hairpin or a split wishbone, rigid with the axle: it turns about the pivot at the frame.
    RadiusRod {
        /// `[x, y, z]`, mm.
        pivot: [f64; 3],
    },
    /// The axle only rises.
    Parallel,
    /// A leaf spring: the axle goes along an arc about the fixed eye without turning.
    Leaf {
        /// The eye that is fixed to the frame, `[x, y, z]`, mm.
        eye: [f64; 3],
        /// 50 to 5,000 mm; about three quarters of the half between eye and axle [common practice, no source].
        radius_mm: f64,
    },
    /// Two links above each other, both from the frame to the axle.
    FourBar {
        /// The lower link.
        lower: SideLink,
        /// The upper link.
        upper: SideLink,
    },
}

/// A link seen from the side, `[x, z]`, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SideLink {
    /// Its end at the frame.
    pub frame: [f64; 2],
    /// Its end at the axle, at least 10 mm from the other.
    pub axle: [f64; 2],
}

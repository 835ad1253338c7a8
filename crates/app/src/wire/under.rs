//! What is under a car and goes with how it stands, as typed: low points, lamps, rod, ratios, shaft, level parts, ground, loads.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::car::Attached;

/// The form, and what it is asked beside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct UnderView {
    /// As it would be typed.
    pub form: UnderForm,
    /// "28 Aug 2031": the newest snapshot; empty where there is none.
    pub newest: String,
    /// "31 Jul 2031": the first one; empty where there is none.
    pub first: String,
    /// Kinds of lamp that the table of 49 CFR 571.108 names.
    pub lamp_kinds: Vec<String>,
}

/// Everything that is checked, as typed. Every field may be empty; a whole part that is empty is not known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct UnderForm {
    /// The car.
    pub car: String,
    /// Unit of bare lengths.
    pub tape: TapeUnit,
    /// True: what is new or changed was measured as the car stood in the first snapshot; false: in the newest.
    #[serde(default)]
    pub as_first: bool,
    /// Low points.
    #[serde(default)]
    pub low_points: Vec<LowPointForm>,
    /// Lamps.
    #[serde(default)]
    pub lamps: Vec<LampForm>,
    /// Ball of the radius rod at the frame, behind the front axle.
    #[serde(default)]
    pub rod_ball: String,
    /// Length of the rod.
    #[serde(default)]
    pub rod_length: String,
    /// Caster, degrees.
    #[serde(default)]
    pub caster: String,
    /// Carburetor flange, oil level.
    #[serde(default)]
    pub level_parts: Vec<LevelPartForm>,
    /// Slope of the apron, degrees.
    #[serde(default)]
    pub apron: String,
    /// Slope of the trailer's ramp, degrees.
    #[serde(default)]
    pub trailer_ramp: String,
    /// Luggage, kg.
    #[serde(default)]
    pub luggage_mass: String,
    /// Its middle behind the front axle.
    #[serde(default)]
    pub luggage_place: String,
    /// Load on the ball, kg.
    #[serde(default)]
    pub tow_mass: String,
    /// The ball behind the front axle.
    #[serde(default)]
    pub tow_place: String,
}

/// A low point as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct LowPointForm {
    /// Its name in files; empty for a new one.
    #[serde(default)]
    pub id: String,
    /// What the person calls it.
    pub label: String,
    /// What it goes with.
    pub attach: Attached,
    /// Behind the front axle ("-400" ahead of it).
    pub behind: String,
    /// Left of the car's middle ("-300" right of it); empty: in the middle.
    pub left: String,
    /// Above the ground.
    pub height: String,
}

/// A lamp as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct LampForm {
    /// Its name in files; empty for a new one.
    #[serde(default)]
    pub id: String,
    /// As the table of 49 CFR 571.108 calls it.
    pub kind: String,
    /// Behind the front axle ("-240" ahead of it).
    pub behind: String,
    /// Left of the car's middle.
    pub left: String,
    /// Its centre above the ground.
    pub height: String,
    /// How far the beam falls, percent.
    pub drop: String,
}

/// A part that wants to stand level, as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct LevelPartForm {
    /// "carburetor flange"
    pub label: String,
    /// How far it tips nose-down, degrees.
    pub tips: String,
    /// How far it may tip, degrees; empty: 3.
    pub limit: String,
}

//! What is asked about a floor: adding and changing it, levelling its spots, sharing it.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};

/// Adds a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct FloorForm {
    /// Whose spots it carries.
    pub car: String,
    /// What the person calls it.
    pub label: String,
    /// How it is levelled.
    pub levelling: Levelling,
    /// With `flat_to`: the ±, as typed.
    #[serde(default)]
    pub flat_to: String,
    /// Unit of the rule.
    pub tape: TapeUnit,
}

/// How a floor is levelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Levelling {
    /// A clear hose.
    WaterLevel,
    /// A laser line and a rule.
    LaserLine,
    /// A straightedge with an angle gauge over two spots.
    Straightedge,
    /// Not levelled.
    NotLevelled,
    /// The person says it is flat to about ± something.
    FlatTo,
}

/// Names a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct FloorRef {
    /// Id.
    pub floor: String,
}

/// One staff reading at a spot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TakeFloorReading {
    /// Id of the floor.
    pub floor: String,
    /// 1, 2, …
    pub pass_no: u32,
    /// `S1` to `S4`, or `under:` and a point of the car that marked the floor out.
    pub point: String,
    /// As typed.
    pub text: String,
    /// Unit of a bare number.
    pub tape: TapeUnit,
    /// A number of the request made by the shell, so that a repeated request is stored once.
    pub request_id: String,
}

/// Renames a floor, says how flat it is, or begins to level it. Readings stay as they are.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ChangeFloor {
    /// Id of the floor.
    pub floor: String,
    /// What the person calls it.
    pub label: String,
    /// How it is levelled from now on; `not_levelled` and `flat_to` only where nothing was read.
    pub levelling: Levelling,
    /// With `flat_to`: the ±, as typed.
    #[serde(default)]
    pub flat_to: String,
    /// Unit of the rule.
    pub tape: TapeUnit,
}

/// Begins one more pass, or one more set of straightedge readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct AddPass {
    /// Id of the floor.
    pub floor: String,
    /// With what; absent: as last time.
    #[serde(default)]
    pub levelling: Option<Levelling>,
}

/// Where a straightedge lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum EdgeLine {
    /// On S1 and S2.
    FrontAcross,
    /// On S3 and S4.
    RearAcross,
    /// On S1 and S3.
    LeftAlong,
    /// On S2 and S4.
    RightAlong,
}

/// One reading of the angle gauge on a straightedge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TakeStraightedge {
    /// Id of the floor.
    pub floor: String,
    /// Which set, 1, 2, …
    pub pass_no: u32,
    /// Where it lies.
    pub line: EdgeLine,
    /// The gauge turned end for end.
    pub reversed: bool,
    /// As typed, degrees; positive: the left end, or the front end, is higher.
    pub text: String,
    /// Take it although it is unusual.
    #[serde(default)]
    pub insist: bool,
    /// A number of the request made by the shell.
    pub request_id: String,
}

/// Strikes a reading of a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct StrikeFloorReading {
    /// Id of the floor.
    pub floor: String,
    /// Id of the reading.
    pub reading: String,
    /// The person's reason.
    pub reason: String,
}

/// Lets a car stand on a floor that another car marked out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct UseFloor {
    /// The car.
    pub car: String,
    /// The floor.
    pub floor: String,
}

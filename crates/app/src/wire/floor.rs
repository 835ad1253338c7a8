//! A floor: adding it, levelling its four spots.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::corner::Corner;
use trueground_core::stance::Figure;

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
    /// `S1` to `S4`.
    pub point: String,
    /// As typed.
    pub text: String,
    /// Unit of a bare number.
    pub tape: TapeUnit,
    /// A number of the request made by the shell, so that a repeated request is stored once.
    pub request_id: String,
}

/// A floor and its levelling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FloorView {
    /// Id.
    pub floor: String,
    /// What the person calls it.
    pub label: String,
    /// How it is levelled.
    pub levelling: Levelling,
    /// Unit of the rule.
    pub tape: TapeUnit,
    /// Passes in order, each with its four spots.
    pub passes: Vec<PassView>,
    /// The spot to read now; absent when the passes begun are complete.
    pub next: Option<NextSpot>,
    /// The reading last taken back, which `put_back_floor_reading` would bring again.
    pub taken_back: Option<SpotTakenBack>,
    /// "Spots 1 to 3: same as pass 1, within 1 mm." or what differs.
    pub agreement: Option<Agreement>,
    /// The picture, once all four spots are read in a pass.
    pub block: Option<FloorBlock>,
}

/// One pass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PassView {
    /// 1, 2, …
    pub pass_no: u32,
    /// In the order of the spots.
    pub spots: Vec<SpotView>,
}

/// One spot in a pass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SpotView {
    /// `S1` to `S4`.
    pub point: String,
    /// The corner of facing A that stands on it.
    pub corner: Corner,
    /// As typed; absent: not read yet.
    pub text: Option<String>,
    /// mm.
    pub value_mm: Option<f64>,
    /// As printed in the rule's unit.
    pub printed: Option<String>,
}

/// What to read now.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NextSpot {
    /// 1, 2, …
    pub pass_no: u32,
    /// `S1` to `S4`.
    pub point: String,
    /// What comes after: "next: spot 2", "last spot of this pass".
    pub then: String,
}

/// A staff reading that was taken back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SpotTakenBack {
    /// 1, 2, …
    pub pass_no: u32,
    /// `S1` to `S4`.
    pub point: String,
    /// "spot 3 of pass 2, 865"
    pub words: String,
}

/// Whether two passes agree.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Agreement {
    /// `same`, `changed`, `cant_tell`.
    pub word: String,
    /// Whole sentence.
    pub sentence: String,
}

/// The floor as a block, mm; all by spot in the order S1 to S4.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FloorBlock {
    /// Above the lowest spot.
    pub above_lowest_mm: [f64; 4],
    /// Elevation with uncertainty, over the mean of the four.
    pub elevation_mm: [Figure; 4],
    /// Wheelbase and tracks it was marked out for, mm: along, front across, rear across.
    pub size_mm: [f64; 3],
    /// The plane part, per cent of its steepest slope.
    pub tilt_percent: f64,
    /// The plane part above its lowest spot, mm.
    pub tilt_mm: [f64; 4],
    /// Twist: S1 − S2 − S3 + S4, mm.
    pub twist_mm: Figure,
    /// The rest without the plane, mm: alternating quarter twists.
    pub twist_part_mm: [f64; 4],
    /// The picture in words, with its numbers.
    pub text: String,
}

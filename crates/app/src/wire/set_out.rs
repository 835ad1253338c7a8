//! Setting out: what the tape must read on a floor for a stance that is wanted.

use super::floor_view::FloorBlock;
use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::capture::Facing;
use trueground_core::car::PointKind;
use trueground_core::corner::Corner;

/// Sets a target or a snapshot out on a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SetOutAsk {
    /// The car.
    pub car: String,
    /// The target; or else a snapshot.
    pub target: Option<String>,
    /// Id of the snapshot.
    pub snapshot: Option<String>,
    /// Id of the floor.
    pub floor: String,
    /// The tape that will be read.
    pub tape: TapeUnit,
    /// Which way round the car will stand.
    #[serde(default)]
    pub facing: Facing,
}

/// A stance set out on a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SetOutView {
    /// What is set out: the target's or the snapshot's name.
    pub wanted: String,
    /// "home driveway, levelled"
    pub floor: String,
    /// The result in a sentence.
    pub headline: String,
    /// The next sentence.
    pub detail: String,
    /// Point by point; empty where the floor is not levelled.
    pub rows: Vec<SetOutRow>,
    /// What left and right must come to between them, where the floor is not levelled.
    pub means: Vec<SetOutMean>,
    /// The floor with its plates, where it is levelled.
    pub block: Option<FloorBlock>,
    /// The corner that stands on each spot, S1 to S4: "front left".
    pub spots: [String; 4],
    /// For a mock-up: stands under points, and blocks that hold the wheel centres.
    pub stands: Vec<SetOutLength>,
    /// Wheel centres, S1 to S4.
    pub wheel_centres: Vec<SetOutLength>,
    /// What it holds for, whole sentences.
    pub notes: Vec<String>,
    /// The readings as a picture in words.
    pub text: String,
}

/// A point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SetOutRow {
    /// Its name in files.
    pub point: String,
    /// Its corner.
    pub corner: Corner,
    /// Its kind.
    pub kind: PointKind,
    /// "Frame rail"
    pub words: String,
    /// Height over level ground, mm.
    pub level_mm: f64,
    /// What the tape must read here, mm; absent where it cannot be told.
    pub reads_mm: Option<f64>,
    /// Its standard uncertainty, mm.
    pub u_mm: Option<f64>,
    /// As the tape shows it, with its unit.
    pub printed: String,
    /// In the other unit.
    pub other: String,
}

/// A mean of left and right.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SetOutMean {
    /// "Frame rails, front"
    pub words: String,
    /// mm.
    pub mean_mm: f64,
    /// As the tape shows it, with its unit.
    pub printed: String,
}

/// A length to cut or to stack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SetOutLength {
    /// Point or spot.
    pub at: String,
    /// "front left, frame rail"
    pub words: String,
    /// mm.
    pub length_mm: f64,
    /// Standard uncertainty, mm.
    pub u_mm: f64,
    /// As the tape shows it, with its unit.
    pub printed: String,
}

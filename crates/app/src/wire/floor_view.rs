//! A floor as it is shown: what to read now, what was read, and its picture.

use super::floor::{EdgeLine, Levelling};
use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::corner::Corner;
use trueground_core::stance::Figure;

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
    /// "levelled, two passes", "not levelled".
    pub state: String,
    /// True where all four spots can be told from each other's twist.
    pub levelled: bool,
    /// What follows where it is not levelled, one sentence; empty where it is.
    pub consequence: String,
    /// "Levelled 12 Apr 2031, 7 months ago."
    pub age: Option<String>,
    /// The car that marked its spots out.
    pub marked_out_by: String,
    /// "Flat to about ±", as typed.
    pub flat_to: String,
    /// True where anything was read on it.
    pub read: bool,
    /// Passes in order, each with its four spots.
    pub passes: Vec<PassView>,
    /// What to read now; absent when what was begun is complete.
    pub next: Option<NextSpot>,
    /// What can be read, in groups: the four spots, across, and what is more.
    pub groups: Vec<StationGroup>,
    /// Every reading ever taken, pass by pass.
    pub book: Vec<BookPass>,
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
    /// `S1` to `S4`, `under:` and a point, or of a straightedge its two spots, `S1/S2`.
    pub point: String,
    /// The gauge turned end for end.
    pub reversed: bool,
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
    /// What to read once more: still readable, since its line stands.
    pub again: Option<Again>,
}

/// A station of the newest pass or set that should be read once more.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Again {
    /// As in [`NextSpot`].
    pub point: String,
    /// The gauge turned end for end.
    pub reversed: bool,
    /// "Read spot 3 once more"
    pub words: String,
}

/// Stations that belong together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StationGroup {
    /// `spots`, `under`, `across`, `along`.
    pub group: String,
    /// "along the sides"
    pub words: String,
    /// What it is good for, one sentence.
    pub gain: String,
    /// In the order of reading.
    pub stations: Vec<StationView>,
}

/// One thing to read in the newest pass or set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StationView {
    /// As in [`NextSpot`].
    pub point: String,
    /// 1, 2, …
    pub pass_no: u32,
    /// With a straightedge: where it lies.
    pub line: Option<EdgeLine>,
    /// The gauge turned end for end.
    pub reversed: bool,
    /// "spot 3, rear left", "under the front left fender lip", "across the front spots"
    pub words: String,
    /// What to do, one sentence.
    pub how: String,
    /// As typed; absent: not read yet.
    pub text: Option<String>,
    /// mm, or degrees of a straightedge.
    pub value: Option<f64>,
    /// "865", "1.2°, left end higher"
    pub printed: Option<String>,
}

/// What was read in one pass or set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookPass {
    /// "Pass 1, water level, 12 Apr 2031"
    pub words: String,
    /// In the order of reading.
    pub rows: Vec<BookFloorRow>,
}

/// One reading of a floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookFloorRow {
    /// Id of the reading.
    pub reading: String,
    /// "spot 3"
    pub words: String,
    /// As typed.
    pub text: String,
    /// As printed.
    pub printed: String,
    /// Why it does not count: "struck: misread", "taken back".
    pub struck: Option<String>,
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
    /// Of the tilt, standard uncertainty, per cent.
    pub tilt_u_percent: f64,
    /// False where nothing tells front from rear; they are then drawn at one height.
    pub along_read: bool,
    /// False where nothing tells left from right.
    pub across_read: bool,
    /// Plates that would even it out.
    pub plates: PlatesView,
    /// The picture in words, with its numbers.
    pub text: String,
}

/// What plates would do; spots are named by the corner of facing A.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlatesView {
    /// True where the twist is beyond its own ±.
    pub worth_it: bool,
    /// One plate that takes all twist out, mm.
    pub one_mm: Figure,
    /// It lies under the one or the other, never both.
    pub one_under: [Corner; 2],
    /// Four that make the spots level, S1 to S4, mm; absent where one direction was not read.
    pub level_mm: Option<[Figure; 4]>,
}

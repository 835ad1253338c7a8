//! The level result of a snapshot: numbers, pictures, doubts, and the why sheet.

use super::car::Verdict;
use super::floor_view::FloorBlock;
use super::garage::SideView;
use serde::{Deserialize, Serialize};
use trueground_core::capture::Facing;
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::{BudgetLine, Figure, Line, SnapshotStance};

/// Asks for a snapshot's level result; an unfinished one may be looked at too.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeResult {
    /// The snapshot.
    pub snapshot: String,
    /// Kind of point to show, `frame_rail`; empty: the app chooses.
    #[serde(default)]
    pub kind: String,
}

/// A snapshot's level result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ResultView {
    /// The snapshot.
    pub snapshot: String,
    /// The car.
    pub car: String,
    /// What the person calls the car.
    pub car_label: String,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// "Drive, levelled"
    pub floor: String,
    /// Id of that floor, so that it can be levelled from here; absent: no floor was named.
    pub floor_id: Option<String>,
    /// Load in words.
    pub load: String,
    /// A body on rated stands: nothing here is a ride height.
    pub mock_up: bool,
    /// What the condition does to the numbers, one sentence each: load, warm or unread pressures.
    pub condition: Vec<String>,
    /// Which way round.
    pub facing: Facing,
    /// True once finished.
    pub finished: bool,
    /// The result in one sentence: "The floor made it lean."
    pub headline: String,
    /// The sentence under it.
    pub detail: String,
    /// Kinds that can be shown: code and words.
    pub kinds: Vec<KindChoice>,
    /// The kind shown.
    pub kind: String,
    /// "Fender lips"
    pub kind_words: String,
    /// The four corners of that kind.
    pub corners: Corners<CornerResult>,
    /// Its line, as loaded.
    pub line: Option<Line>,
    /// Its line at nominal load and pressures; absent where the two are the same.
    pub line_nominal: Option<Line>,
    /// Side view.
    pub side: Option<SideView>,
    /// The floor, if levelled.
    pub block: Option<FloorBlock>,
    /// Verdict side to side.
    pub even: Option<Verdict>,
    /// The car's twists that this snapshot tells by itself and that can be kept as a gauge.
    pub twists: Vec<TwistOffer>,
    /// Which kept twists it leans on, and what they make of its floor; empty where it leans on none.
    pub twist_used: String,
    /// What the points that were not read cost, "Without the rear left rail: no rake, no twist. The front mean stands."; empty
    /// where all four are read.
    pub missing: String,
    /// What is not known, and why; one sentence each.
    pub not_known: Vec<String>,
    /// Readings that do not fit, one sentence each.
    pub doubtful: Vec<String>,
    /// What was corrected since it was finished, one sentence each.
    pub corrections: Vec<String>,
    /// What to read next, most useful first, in words.
    pub next: Vec<NextView>,
    /// All numbers of the core.
    pub stance: SnapshotStance,
}

/// A twist of the car that can be kept as a gauge for floors that nobody levelled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TwistOffer {
    /// Code of the kind of point.
    pub kind: String,
    /// "Frame rails: 4 mm, ±3, front left and rear right high"
    pub words: String,
    /// It is kept, as found here.
    pub kept: bool,
}

/// A kind of point that can be shown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KindChoice {
    /// `frame_rail`
    pub kind: String,
    /// "Frame rails"
    pub words: String,
}

/// One corner of the shown kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CornerResult {
    /// The point's name; absent where the car has no such point there.
    pub point: Option<String>,
    /// Level floor, as loaded.
    pub level_mm: Option<Figure>,
    /// At nominal load and pressures.
    pub nominal_mm: Option<Figure>,
    /// Mean of what the tape said, mm.
    pub tape_mm: Option<f64>,
    /// As printed in the display unit.
    pub tape_printed: Option<String>,
}

/// A reading that would help, in words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NextView {
    /// Verb of the core: `survey_spots`, …
    pub what: String,
    /// "Level the four spots"
    pub words: String,
    /// "±5 becomes ±3"
    pub gain: String,
    /// What it is for, in words.
    #[serde(rename = "for")]
    pub target: String,
}

/// Asks where a corner's number comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct AskWhy {
    /// The snapshot.
    pub snapshot: String,
    /// Path of the figure: `heights.rail.RL`, `lines.frame_rail.rake_deg`.
    pub figure: String,
}

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WhyView {
    /// "rear left, frame rail"
    pub title: String,
    /// The corner, where it has one.
    pub corner: Option<Corner>,
    /// The number.
    pub figure: Figure,
    /// Unit, `mm` or `deg`.
    pub unit: String,
    /// Sum in whole mm that adds up as printed; empty for angles.
    pub sum: Vec<SumLine>,
    /// Uncertainty by source, largest first, as core has it.
    pub budget: Vec<BudgetRow>,
    /// How they add, one sentence.
    pub adds: String,
    /// The reading that would shrink it most.
    pub next: Option<NextView>,
}

/// One line of the sum.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SumLine {
    /// Whole mm.
    pub value_mm: f64,
    /// "by tape: six readings, two bounces"
    pub words: String,
}

/// One source of doubt in words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BudgetRow {
    /// As the core has it.
    pub line: BudgetLine,
    /// "Bounces"
    pub words: String,
    /// "two of them"
    pub detail: String,
    /// ±2u.
    pub band: f64,
    /// True where nothing was read (hatched).
    pub not_measured: bool,
}

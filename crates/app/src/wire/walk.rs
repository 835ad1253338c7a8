//! The walk-around: one unfinished snapshot, step by step.

use super::garage::{SideView, TapeUnit};
use serde::{Deserialize, Serialize};
use trueground_core::capture::Facing;
use trueground_core::car::PointKind;
use trueground_core::corner::{Corner, Corners};

/// Begins a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SnapshotForm {
    /// The car.
    pub car: String,
    /// The floor; absent: somewhere that is not levelled.
    #[serde(default)]
    pub floor: Option<String>,
    /// Which way round.
    pub facing: Facing,
    /// What the person calls it.
    #[serde(default)]
    pub label: String,
    /// Kinds of point to read at each corner.
    pub kinds: Vec<PointKind>,
    /// Also wheel centre to floor.
    pub hubs: bool,
    /// Rounds in one bounce, 1 to 5.
    pub rounds: u32,
    /// Bounces, 1 to 4.
    pub bounces: u32,
    /// Also the angle gauge on both rails, straight and reversed, in each bounce.
    pub angle_gauge: bool,
    /// Also the angle gauge across the frame, front and rear, straight and reversed, in each bounce.
    #[serde(default)]
    pub gauge_across: bool,
    /// Also the same points from one level line, and on which side of them it runs; absent: not.
    #[serde(default)]
    pub level_line: Option<LevelLine>,
    /// The tape.
    pub tape: TapeUnit,
    /// Pressures, as typed; a bare number is kPa; all four empty: not read, as the car's nominal ones.
    pub pressures: Corners<String>,
    /// Kilometres on the clock, as typed; may be empty.
    #[serde(default)]
    pub odometer: String,
}

/// Where a level line runs against the car's points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum LevelLine {
    /// Above them: the rule reads from the line down to the point.
    Above,
    /// Below them: the rule reads from the line up to the point.
    Below,
}

/// Names a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SnapshotRef {
    /// Id.
    pub snapshot: String,
}

/// Goes to a step of the walk.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct GoToStep {
    /// The snapshot.
    pub snapshot: String,
    /// Place in [`WalkView::steps`]; their number is the end.
    pub step: u32,
}

/// Keeps what is half typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct KeepDraft {
    /// The snapshot.
    pub snapshot: String,
    /// Place in [`WalkView::steps`].
    pub step: u32,
    /// As typed so far.
    pub text: String,
}

/// Takes a reading, tape or gauge as the step asks. It is on disk when the reply comes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TakeReading {
    /// The snapshot.
    pub snapshot: String,
    /// Place in [`WalkView::steps`].
    pub step: u32,
    /// As typed.
    pub text: String,
    /// Takes it though it differs much from the others (the person was asked).
    #[serde(default)]
    pub insist: bool,
    /// A number of the request made by the shell, so that a repeated request is stored once.
    pub request_id: String,
}

/// An unfinished snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WalkView {
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
    /// Load in words.
    pub load: String,
    /// Which way round.
    pub facing: Facing,
    /// The tape.
    pub tape: TapeUnit,
    /// How many rounds a bounce has.
    pub rounds: u32,
    /// How many bounces.
    pub bounces: u32,
    /// Where the level line runs, if points are read from one.
    pub level_line: Option<LevelLine>,
    /// Every step in walking order.
    pub steps: Vec<StepView>,
    /// Place of the present step; equal to the number of steps when all are read.
    pub at: u32,
    /// Half-typed text kept for the present step; while `differs` asks, for the step it asks about.
    pub draft: String,
    /// How many steps are read.
    pub read: u32,
    /// "12 of 16 read, 14:32."
    pub state: String,
    /// The reading last taken back, which `put_back` would bring again.
    pub taken_back: Option<TakenBack>,
    /// True where `undo_reading` would take something back.
    pub can_undo: bool,
    /// Set while the reading taken last differs from its repeats: ask in place. It stands, after a restart too, until another
    /// is taken or one is struck; `go_to_step` keeps both and goes on.
    pub differs: Option<Differs>,
    /// Readings struck with a reason; they stay in the book and take no part.
    pub struck: Vec<StruckView>,
    /// Picture measures for the walk-around: the car at its design or last heights.
    pub side: SideView,
}

/// One step of the walk.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StepView {
    /// What is read.
    pub kind: StepKind,
    /// Corner (tape) or the corner next to the rail's front (gauge).
    pub corner: Corner,
    /// Name in files: `rail.FR`, `hub.FL`, `frame_rail_left`, `frame_front`, `on:rail.FR`.
    #[serde(rename = "ref")]
    pub point: String,
    /// "frame rail, painted mark"
    pub words: String,
    /// One word for a table: "lip", "rail", "hub", "gauge".
    pub short: String,
    /// Which bounce, from 1.
    pub bounce: u32,
    /// Which round, from 1.
    pub round: u32,
    /// Gauge turned end for end.
    pub reversed: bool,
    /// Place of the mark behind the front axle, mm (for the close view).
    pub s_mm: f64,
    /// As typed; absent: not read yet.
    pub text: Option<String>,
    /// As printed: "265", "10 7/16", "2.7°"; "hidden" never stands here, the interface hides it.
    pub printed: Option<String>,
    /// mm or degrees.
    pub value: Option<f64>,
    /// What comes after: "next: hub, same wheel".
    pub then: String,
}

/// What a step reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Height of a point above the floor straight below it.
    Height,
    /// Wheel centre to floor.
    Hub,
    /// Angle gauge on a rail or across the frame.
    Gauge,
    /// From a level line to a point, up or down as the plan says.
    Plane,
}

/// Strikes the reading of a step; it stays in the book, and the step can be read again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct StrikeReading {
    /// The snapshot.
    pub snapshot: String,
    /// Place in [`WalkView::steps`].
    pub step: u32,
    /// The person's reason, "wrong edge".
    pub reason: String,
}

/// A struck reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StruckView {
    /// "front right lip"
    pub words: String,
    /// As printed.
    pub printed: String,
    /// "wrong edge"
    pub reason: String,
    /// Time of day, `14:24`; empty where it is not known.
    pub at: String,
}

/// A reading that was taken back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TakenBack {
    /// Its step.
    pub step: u32,
    /// "rear right lip, 574"
    pub words: String,
}

/// Two repeats that differ more than the tape explains. The reading was stored; the question is whether to read again.
/// Reading it once more is `take_reading` with this `step` again: kept as one more repeat of it, never in its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Differs {
    /// The step just taken.
    pub step: u32,
    /// "These two differ by 11 mm. Read it once more?"
    pub sentence: String,
    /// "RR reads an inch more than the first round: 24 5/8, 23 5/8." where it looks like a slip.
    pub hint: String,
    /// The repeats, mm or degrees, in the order of rounds.
    pub values: Vec<f64>,
    /// The same as printed.
    pub printed: Vec<String>,
}

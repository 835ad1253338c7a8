//! The walk-around: one unfinished snapshot, step by step.

use super::condition::{GaugeUnit, LoadForm, SlopeView, StandsOn};
use super::garage::{SideView, TapeUnit};
use super::sheet::SheetView;
use serde::{Deserialize, Serialize};
use trueground_core::capture::{ConditionPart, Facing};
use trueground_core::car::PointKind;
use trueground_core::corner::{Corner, Corners};
use trueground_core::units::TemperatureUnit;

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
    /// Also from each wheel centre up to the fender lip.
    #[serde(default)]
    pub hub_to_lip: bool,
    /// Which corner comes first, and which way round.
    #[serde(default)]
    pub order: WalkOrder,
    /// What the tape reads in; one of one's own says so itself.
    pub tape: TapeUnit,
    /// One's own tape; absent: one that nothing is known of.
    #[serde(default)]
    pub own_tape: Option<String>,
    /// One's own angle gauge, likewise.
    #[serde(default)]
    pub own_gauge: Option<String>,
    /// What it stands on.
    #[serde(default)]
    pub stands_on: StandsOn,
    /// Which parts of the condition the person said today; the others are not claimed. Absent: all of them.
    #[serde(default)]
    pub confirmed: Option<Vec<ConditionPart>>,
    /// What is aboard beside the nominal load.
    #[serde(default)]
    pub load: LoadForm,
    /// Pressures, as typed, a bare number in `pressure_unit`; all four empty: not read, as the car's nominal ones.
    pub pressures: Corners<String>,
    /// What the gauge is divided in.
    #[serde(default)]
    pub pressure_unit: GaugeUnit,
    /// Read warm, after a drive.
    #[serde(default)]
    pub tires_warm: bool,
    /// Kilometres on the clock, as typed; may be empty.
    #[serde(default)]
    pub odometer: String,
    /// Temperature of the air, as typed, a bare number in `air_unit`; may be empty.
    #[serde(default)]
    pub air: String,
    /// What the thermometer is divided in.
    #[serde(default)]
    pub air_unit: TemperatureUnit,
    /// It was read onto a booking sheet and is entered now, in the order of the sheet.
    #[serde(default)]
    pub from_sheet: bool,
    /// The day of such readings, as typed, not after today.
    #[serde(default)]
    pub date: String,
    /// Their time of day, as typed.
    #[serde(default)]
    pub time: String,
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

/// Where a walk begins and which way round the car it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct WalkOrder {
    /// The first corner.
    pub start: Corner,
    /// Clockwise as seen from above: from the front left to the front right.
    pub clockwise: bool,
}

impl Default for WalkOrder {
    fn default() -> Self {
        Self { start: Corner::FL, clockwise: true }
    }
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

/// Changes the order of an unfinished walk; what is read stays read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct OrderWalk {
    /// The snapshot.
    pub snapshot: String,
    /// From now on.
    pub order: WalkOrder,
}

/// Leaves a step out until the person comes back to it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SkipStep {
    /// The snapshot.
    pub snapshot: String,
    /// Place in [`WalkView::steps`].
    pub step: u32,
    /// All that is left to read at this corner, in every round and bounce, and not this step alone.
    #[serde(default)]
    pub whole_corner: bool,
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
    /// One's own tape or gauge that this one reading was taken with; absent: the snapshot's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
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
    /// A body on rated stands: not rolled, not bounced, and nothing read is a ride height.
    pub mock_up: bool,
    /// The tilt of the floor it stands on, where that is levelled.
    pub slope: Option<SlopeView>,
    /// Which way round.
    pub facing: Facing,
    /// The tape.
    pub tape: TapeUnit,
    /// The tape of one's own that readings are taken with unless they name another; absent: the snapshot names none.
    pub own_tape: Option<String>,
    /// How many rounds a bounce has.
    pub rounds: u32,
    /// How many bounces.
    pub bounces: u32,
    /// Where the level line runs, if points are read from one.
    pub level_line: Option<LevelLine>,
    /// Where it begins and which way round.
    pub order: WalkOrder,
    /// The corners in walking order.
    pub corners: Vec<Corner>,
    /// Which spot each wheel stands on, `S4`; absent where the floor has none.
    pub wheel_on_spot: Option<Corners<String>>,
    /// Every step in walking order.
    pub steps: Vec<StepView>,
    /// Place of the present step; equal to the number of steps when all are read or skipped.
    pub at: u32,
    /// Half-typed text kept for the present step, from before it was left too; while `differs` asks, for the step it asks about.
    pub draft: String,
    /// How many steps are read.
    pub read: u32,
    /// How many are skipped and not read.
    pub skipped: u32,
    /// "12 of 16 read, 1 skipped, 14:32."
    pub state: String,
    /// What was taken back last, which `put_back` would bring again.
    pub taken_back: Option<TakenBack>,
    /// True where `undo_reading` would take something back.
    pub can_undo: bool,
    /// What it would take back, "rear right lip, 574"; empty where there is nothing.
    pub undo_words: String,
    /// Set while the reading taken last looks like a slip: ask in place. It stands, after a restart too, until another is taken
    /// or one is struck; `go_to_step` keeps all and goes on.
    pub differs: Option<Differs>,
    /// A remark on the reading taken last that asks nothing; empty: none. "Front, left and right read about 25 mm more than on
    /// 12 July 2031: a change, no slip."
    pub note: String,
    /// Readings struck with a reason; they stay in the book and take no part.
    pub struck: Vec<StruckView>,
    /// Picture measures for the walk-around: the car at its design or last heights.
    pub side: SideView,
    /// The booking sheet it is entered from; absent: it is walked.
    pub sheet: Option<SheetView>,
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
    /// The point in two or three words: "frame rail", "hub", "angle gauge".
    pub plain: String,
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
    /// Left out until the person comes back to it.
    pub skipped: bool,
    /// Where it is in one line: "front left, frame rail, round 1 of 2, bounce 1 of 2".
    pub place: String,
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
    /// Wheel centre up to the fender lip.
    HubToLip,
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

/// Lets a struck reading count again; that it was struck stays in the book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct UnstrikeReading {
    /// The snapshot.
    pub snapshot: String,
    /// [`StruckView::reading`].
    pub reading: String,
}

/// A struck reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StruckView {
    /// Id of the reading.
    pub reading: String,
    /// Its step; absent where this walk has none for it.
    pub step: Option<u32>,
    /// "front right lip"
    pub words: String,
    /// As printed.
    pub printed: String,
    /// "wrong edge"
    pub reason: String,
    /// Time of day, `14:24`; empty where it is not known.
    pub at: String,
    /// True where it can count again: nothing else is read in its place.
    pub can_unstrike: bool,
}

/// What was taken back: a reading, the striking of one, or a skip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TakenBack {
    /// Its step.
    pub step: u32,
    /// "rear right lip, 574", "the striking of rear right lip, 574"
    pub words: String,
}

/// A reading that differs from what it is held against by more than the noise. It was stored; the question is whether to read
/// again.
/// Reading it once more is `take_reading` with this `step` again: kept as one more repeat of it, never in its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Differs {
    /// The step in question, mostly the one just taken.
    pub step: u32,
    /// What it is held against.
    pub from: DiffersFrom,
    /// "These two differ by 11 mm. Read it once more?"
    pub sentence: String,
    /// "RR reads an inch more than the first round: 24 5/8, 23 5/8. Read it again." where it looks like a slip.
    pub hint: String,
    /// mm or degrees: the repeats in the order of rounds, or what it is held against and the reading.
    pub values: Vec<f64>,
    /// The same as printed.
    pub printed: Vec<String>,
    /// The same named: "round 1", "12 July 2031", "now".
    pub labels: Vec<String>,
    /// The round of each at this step, where it can be struck here.
    pub rounds: Vec<Option<u32>>,
}

/// What a reading is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum DiffersFrom {
    /// The other rounds of this bounce.
    Repeats,
    /// The other bounces of this snapshot.
    Bounces,
    /// The last finished snapshot with this mark.
    LastSnapshot,
    /// The other side of the axle in earlier snapshots.
    SwappedSides,
    /// The twist the car is known to have.
    KnownTwist,
}

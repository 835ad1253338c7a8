//! A car's page.

use super::car_form::CarForm;
use super::condition::{LastTime, LoadSheet};
use super::follow_up::NextDue;
use super::garage::SideView;
use super::walk::SnapshotForm;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use trueground_core::car::Vehicle;
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::Figure;

/// A car's page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CarView {
    /// Id.
    pub car: String,
    /// The car.
    pub vehicle: Vehicle,
    /// The form that would make it, to change it.
    pub form: CarForm,
    /// How many readings hang on each mark, by its name; marks without any are left out.
    pub read: BTreeMap<String, u32>,
    /// The car's twists that are kept as a gauge.
    pub twists: Vec<TwistView>,
    /// Its floors, last used first.
    pub floors: Vec<FloorRow>,
    /// Floors that other cars marked out and this one does not use yet.
    pub other_floors: Vec<FloorRow>,
    /// Newest first; a snapshot's place is the order of entry, never the clock.
    pub snapshots: Vec<SnapshotRow>,
    /// The unfinished snapshot, if there is one.
    pub unfinished: Option<String>,
    /// Picture of the last finished snapshot at its chosen kind.
    pub side: Option<SideView>,
    /// Rake of the last finished snapshot, degrees, positive nose-down.
    pub rake_deg: Option<Figure>,
    /// The corners of the last finished snapshot.
    pub corners: Option<Corners<Figure>>,
    /// "Frame rails"
    pub corners_words: Option<String>,
    /// Verdict side to side, if there is one.
    pub even: Option<Verdict>,
    /// What to do next, one sentence beginning with a verb.
    pub next: String,
    /// What is left to do after work on it; absent where nothing is.
    pub due: Option<NextDue>,
    /// The form that begins the next snapshot, filled in as the last one was (its floor, kinds, rounds, tape, pressures); the
    /// app's own choice where there was none.
    pub begin: SnapshotForm,
    /// The condition of the last snapshot on its wheels, for "same as last time?"; absent before the first.
    pub last_time: Option<LastTime>,
    /// What the load section needs to know.
    pub load: LoadSheet,
}

/// A twist of the car that is kept as a gauge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TwistView {
    /// Code of the kind of point, `frame_rail`.
    pub kind: String,
    /// "Frame rails: left front and right rear 4 mm low, ±6, from 12 Apr 2031."
    pub sentence: String,
    /// Since when and why it is no longer used; empty while it is.
    pub ended: String,
}

/// Keeps the twist found in a snapshot as a gauge for later floors.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct KeepTwist {
    /// The snapshot it was found in.
    pub snapshot: String,
    /// Code of the kind of point, `frame_rail`.
    pub kind: String,
}

/// Withdraws a kept twist.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct WithdrawTwist {
    /// The car.
    pub car: String,
    /// Code of the kind of point, `frame_rail`.
    pub kind: String,
}

/// A verdict: its word and the sentence round it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Verdict {
    /// `even`, `uneven`, `cant_tell`.
    pub word: String,
    /// Whole sentence.
    pub sentence: String,
}

/// A floor in a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FloorRow {
    /// Id.
    pub floor: String,
    /// What the person calls it.
    pub label: String,
    /// True where all four spots are levelled.
    pub levelled: bool,
    /// "levelled, two passes", "not levelled", "flat to about ± 10 mm".
    pub state: String,
    /// The car that marked it out, where that is another one.
    pub of: Option<String>,
    /// Where this car's wheels stand beside its spots and what that loses; empty on its own floors.
    pub beside: String,
}

/// A snapshot in a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SnapshotRow {
    /// Id.
    pub snapshot: String,
    /// What the person calls it.
    pub label: String,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// The floor's label with "levelled" or "not levelled".
    pub floor: String,
    /// "nose to the street", "turned end for end"
    pub facing: String,
    /// Load in words.
    pub load: String,
    /// A body on rated stands, not a ride height.
    pub mock_up: bool,
    /// True once finished.
    pub finished: bool,
    /// "12 of 16 read, 14:32." or the result in one sentence.
    pub state: String,
}

/// Names a reading's place: a corner and a point there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Place {
    /// The corner.
    pub corner: Corner,
    /// "frame rail, painted mark"
    pub words: String,
}

//! A car: the form that adds it, and its page.

use super::garage::{SideView, TapeUnit};
use super::walk::SnapshotForm;
use serde::{Deserialize, Serialize};
use trueground_core::car::{Outline, PointKind, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::Figure;

/// Adds a car. Every measure as typed; the reply names all fields that cannot be read at once.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CarForm {
    /// What the person calls it.
    pub label: String,
    /// Which outline stands for it.
    pub outline: Outline,
    /// Unit of bare numbers in this form.
    pub tape: TapeUnit,
    /// As typed.
    pub wheelbase: String,
    /// As typed.
    pub track_front: String,
    /// As typed.
    pub track_rear: String,
    /// Kinds of point to mark, each on both sides, front and rear.
    pub points: Vec<PointsForm>,
    /// As printed on the sidewall.
    pub tires: Corners<TireForm>,
    /// What the car carries when it is measured, in words.
    #[serde(default)]
    pub nominal_load: String,
}

/// Where the four points of one kind are; left and right mirror each other.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PointsForm {
    /// The kind.
    pub kind: PointKind,
    /// Front pair: behind the front axle, as typed ("0" right over it, "-100" ahead of it).
    pub front_behind_axle: String,
    /// Front pair: from left mark to right mark, as typed.
    pub front_apart: String,
    /// Rear pair: ahead of the rear axle, as typed.
    pub rear_ahead_of_axle: String,
    /// Rear pair: from left mark to right mark, as typed.
    pub rear_apart: String,
    /// Where the mark is, in words.
    #[serde(default)]
    pub what: String,
}

/// A tire as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TireForm {
    /// Marking on the sidewall.
    pub marking: String,
    /// Cold pressure, as typed, `210`, `30 psi`, `2.1 bar`; a bare number is kPa.
    pub pressure: String,
    /// Diameter measured round the free tire, as typed; empty: from the marking.
    #[serde(default)]
    pub measured_diameter: String,
}

/// Changes a car's measures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ChangeCar {
    /// Id.
    pub car: String,
    /// All of it anew.
    pub form: CarForm,
}

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
    /// Its floors, last used first.
    pub floors: Vec<FloorRow>,
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
    /// The form that begins the next snapshot, filled in as the last one was (its floor, kinds, rounds, tape, pressures); the
    /// app's own choice where there was none.
    pub begin: SnapshotForm,
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

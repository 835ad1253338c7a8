//! Targets: stances that are wanted of a car, the form that makes one, and its picture while it is filled in.

use super::garage::{SideView, TapeUnit};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use trueground_core::car::PointKind;
use trueground_core::corner::Corner;
use trueground_core::target::{End, Keep, Rule};

/// The targets of a car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetsView {
    /// The car.
    pub car: String,
    /// Those that are offered, the newest first.
    pub rows: Vec<TargetRow>,
    /// Those that were put away.
    pub put_away: Vec<TargetRow>,
    /// The one that the request just kept, brought back or opened.
    pub kept: Option<String>,
    /// What is to be said about it, whole sentences; what could not be carried over from another car.
    pub said: Vec<String>,
    /// An empty form for this car.
    pub blank: TargetForm,
    /// The points a height can be wanted of.
    pub points: Vec<TargetPoint>,
    /// Snapshots that a target can be made from, the newest first.
    pub snapshots: Vec<TargetChoice>,
    /// Other cars that a target can be copied to.
    pub cars: Vec<TargetChoice>,
}

/// A target in a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetRow {
    /// Its name in the car's file.
    pub target: String,
    /// What the person calls it.
    pub label: String,
    /// "4 heights, ±6 mm; 1 limit"
    pub what: String,
    /// How it came about and when: "From the snapshot of 12 Apr 2031."
    pub made: String,
    /// Its picture; absent where it says no line.
    pub side: Option<SideView>,
    /// Rake that is wanted of the line in the picture, degrees, positive nose-down.
    pub rake_deg: Option<f64>,
    /// The form that changes it.
    pub form: TargetForm,
}

/// Something that is named in a list to choose from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetChoice {
    /// Id.
    pub id: String,
    /// "12 Apr 2031, home driveway"
    pub words: String,
}

/// A point that a height can be wanted of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetPoint {
    /// Its name in files.
    pub point: String,
    /// Its kind.
    pub kind: PointKind,
    /// Its corner.
    pub corner: Corner,
    /// "Frame rail"
    pub words: String,
}

/// How a target is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum TargetWay {
    /// Heights are typed.
    Typed,
    /// The nominal heights of a snapshot.
    Snapshot,
    /// A rake and the height of one end.
    Rake,
    /// Tire sizes and the lowest rail.
    Silhouette,
    /// Nothing but limits.
    Limits,
}

/// A target as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TargetForm {
    /// Whose it is.
    pub car: String,
    /// The one that is changed.
    pub target: Option<String>,
    /// What the person calls it.
    pub label: String,
    /// How it is made.
    pub way: TargetWay,
    /// Unit of bare numbers.
    pub tape: TapeUnit,
    /// With `typed`: by point; an empty one is not wanted.
    #[serde(default)]
    pub heights: BTreeMap<String, String>,
    /// With `snapshot`: its id.
    #[serde(default)]
    pub snapshot: String,
    /// With `rake`: the kind of point.
    pub kind: PointKind,
    /// With `rake`: which end's height is typed.
    pub end: End,
    /// With `rake`: that height.
    #[serde(default)]
    pub height: String,
    /// With `rake`, and with `silhouette` where it is wanted, degrees.
    #[serde(default)]
    pub rake: String,
    /// With `silhouette`: marking of the front tires.
    #[serde(default)]
    pub tire_front: String,
    /// With `silhouette`: of the rear tires.
    #[serde(default)]
    pub tire_rear: String,
    /// With `silhouette`: height of the lowest rail.
    #[serde(default)]
    pub lowest_rail: String,
    /// How far a height may be off; empty: 6 mm.
    #[serde(default)]
    pub tolerance: String,
    /// By point, where it is another; an empty one is the usual.
    #[serde(default)]
    pub tolerances: BTreeMap<String, String>,
    /// How far the rake may be off, degrees; empty: not said.
    #[serde(default)]
    pub rake_tolerance: String,
    /// How far left and right may differ; empty: not said.
    #[serde(default)]
    pub side_to_side: String,
    /// Limits.
    #[serde(default)]
    pub limits: Vec<LimitForm>,
    /// A remark.
    #[serde(default)]
    pub note: String,
}

/// A limit as typed: for every point of a kind, at one end or at both.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct LimitForm {
    /// The kind.
    pub kind: PointKind,
    /// At one end only; absent: at both.
    pub end: Option<End>,
    /// The points themselves, where they are not all of that kind at those ends; emptied when kind or end is chosen anew.
    #[serde(default)]
    pub points: Vec<String>,
    /// Not below; empty: no lowest.
    pub lowest: String,
    /// Not above; empty: no highest.
    pub highest: String,
    /// What sort of rule.
    pub rule: Rule,
    /// Who says so.
    pub says: String,
}

/// Puts a target away, or brings it back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PutAwayTarget {
    /// Whose it is.
    pub car: String,
    /// The target.
    pub target: String,
    /// True to put it away, false to bring it back.
    pub away: bool,
}

/// Names a target.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TargetRef {
    /// Whose it is.
    pub car: String,
    /// The target.
    pub target: String,
}

/// Copies a target to another car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CopyTarget {
    /// Whose it is.
    pub car: String,
    /// The target.
    pub target: String,
    /// The other car.
    pub to: String,
    /// What stays as it is where the marks lie at another distance.
    pub keep: Keep,
}

/// Opens the file of a target for a car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct OpenTargetFile {
    /// For which car.
    pub car: String,
    /// Name of the file.
    pub name: String,
    /// What is in it.
    pub text: String,
    /// What stays as it is where the marks lie at another distance.
    pub keep: Keep,
}

/// A target while it is filled in: what can be read of the form.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetSketch {
    /// The car with the wanted line, and the limits' lines.
    pub side: Option<SideView>,
    /// The car as it stands now by the same kind of point, if it was read.
    pub now: Option<SideView>,
    /// Every height that is wanted so far.
    pub heights: Vec<WantedHeightView>,
    /// The limits that can be read so far.
    pub limits: Vec<LimitLine>,
    /// What follows: "Rear 69 mm higher than the front, nose-down 2.0°."
    pub follows: Vec<String>,
}

/// A height that is wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WantedHeightView {
    /// The point.
    pub point: String,
    /// Its corner.
    pub corner: Corner,
    /// "Frame rail"
    pub words: String,
    /// Behind the front axle, mm.
    pub s_mm: f64,
    /// mm.
    pub height_mm: f64,
    /// How far it may be off, mm.
    pub tolerance_mm: f64,
    /// As a tape shows it, with its unit.
    pub printed: String,
}

/// A limit as a line in the picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LimitLine {
    /// Where its foremost point lies behind the front axle, mm.
    pub from_s_mm: f64,
    /// Where its rearmost point lies, mm.
    pub to_s_mm: f64,
    /// Not below, mm.
    pub lowest_mm: Option<f64>,
    /// Not above, mm.
    pub highest_mm: Option<f64>,
    /// "show class, open cars: frame rails not below 110 mm"
    pub words: String,
}

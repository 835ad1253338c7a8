//! The stance: one car on ideal level ground in a stated condition, every number with its uncertainty and how it is known.

use crate::car::{PointKind, RefPoint, Vehicle};
use crate::corner::{Corner, Corners};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How a number came to be known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Known {
    /// Readings did the work.
    Measured,
    /// More than half of the variance comes from an assumption or from a prior on the suspension.
    Assumed,
    /// Not to be had from these readings; there is no value.
    Undetermined,
}

/// A result: value and standard uncertainty (k = 1), or an honest gap.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Figure {
    /// Absent when undetermined.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// Standard uncertainty, k = 1; absent when undetermined.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Where it comes from.
    pub known: Known,
    /// For an undetermined one: how wide it is if the floor's twist is what people call usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band_if: Option<BandIf>,
}

/// A bound for an undetermined figure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BandIf {
    /// The floor twist supposed, mm.
    pub floor_twist_mm: f64,
    /// The figure's half width then: a bound, not a standard uncertainty, in the figure's unit.
    pub half_width_mm: f64,
}

/// One snapshot's result: as loaded, at nominal load, and what stands behind it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SnapshotStance {
    /// The snapshot's name.
    pub id: String,
    /// Level floor, as loaded, by point.
    pub heights: BTreeMap<String, Figure>,
    /// Level floor, at nominal load and pressures, by point.
    pub heights_nominal: BTreeMap<String, Figure>,
    /// By kind of point (`fender_lip`, …), as loaded.
    pub lines: BTreeMap<String, Line>,
    /// By kind of point, at nominal load and pressures.
    pub lines_nominal: BTreeMap<String, Line>,
    /// Wheel centre to floor, by corner, where the hub was read.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub loaded_radius: BTreeMap<String, Figure>,
    /// The ground under this car, in the car's sense.
    pub floor: FloorUnderCar,
    /// Readings that do not fit the others, largest first.
    pub doubtful: Vec<Doubtful>,
    /// What to read next, most useful first.
    pub next_reading: Vec<NextReading>,
    /// Of the whole adjustment.
    pub degrees_of_freedom: f64,
    /// vᵀPv over the degrees of freedom; 1 is what the stated uncertainties promise.
    pub variance_factor: Option<f64>,
    /// The global test at 5 %: whether the readings fit their stated uncertainty.
    pub fits_stated_uncertainty: Option<bool>,
}

impl SnapshotStance {
    /// The marks on which its line of a kind rests, by corner: the one in use of those that were read.
    pub fn marks<'v>(&self, vehicle: &'v Vehicle, kind: PointKind) -> [Option<&'v RefPoint>; 4] {
        Corner::ALL.map(|corner| vehicle.mark_at(kind, corner, |point| self.heights.contains_key(&point.id)))
    }
}

/// The four points of one kind as a line seen from the side and from behind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Line {
    /// Mean of left and right at the front, mm.
    pub front_mean_mm: Figure,
    /// Mean of left and right at the rear, mm.
    pub rear_mean_mm: Figure,
    /// Rear mean less front mean, mm.
    pub rake_mm: Figure,
    /// Positive nose-down, degrees.
    pub rake_deg: Figure,
    /// mm.
    pub front_left_minus_right_mm: Figure,
    /// mm.
    pub rear_left_minus_right_mm: Figure,
    /// Front left − front right − rear left + rear right, mm.
    pub twist_mm: Figure,
    /// Roll of the body, positive left side up, mm over the front track; free of floor twist where the roll share is known.
    pub lean_mm: Figure,
}

/// The ground under one car as it stood.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FloorUnderCar {
    /// Elevation of each wheel's place, mm, over the mean of the four.
    pub elevation_mm: Corners<Figure>,
    /// Front left − front right − rear left + rear right, mm.
    pub twist_mm: Figure,
    /// Positive when the ground rises to the rear, degrees.
    pub long_slope_deg: Figure,
    /// Positive when the left is higher, degrees.
    pub cross_slope_front_deg: Figure,
    /// Positive when the left is higher, degrees.
    pub cross_slope_rear_deg: Figure,
}

/// A reading that does not fit the others.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Doubtful {
    /// Repeat number of a tape reading, pass number of a staff reading.
    pub reading: u32,
    /// The bounce it belongs to; absent for the floor's readings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bounce: Option<String>,
    /// The point, spot or place it was taken at; `instrument:` and an id where a tape or gauge contradicts the others, `instrument`
    /// for what names none: `observed` and `expected` are then its zero.
    #[serde(rename = "ref")]
    pub point: String,
    /// Residual over its own standard deviation.
    pub standardised_residual: f64,
    /// False where it was left out of the result.
    pub used: bool,
    /// As entered, mm (or deg for a gauge).
    pub observed: f64,
    /// What the others say it should have been.
    pub expected: f64,
}

/// A reading that could still be taken, and what it would bring.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NextReading {
    /// `survey_pass`, `survey_spots`, `survey_under`, `another_bounce`, `repeat:<ref>`, `level_rails`, `turn_car`, `plane_on_car`.
    pub what: String,
    /// Path of the result it helps most, such as `heights.lip.FL`.
    #[serde(rename = "for")]
    pub target: String,
    /// Standard uncertainty now; absent where the result is undetermined.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_now: Option<f64>,
    /// Standard uncertainty then; absent where it would stay undetermined.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_then: Option<f64>,
}

/// Where one figure's uncertainty comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BudgetLine {
    /// Source of doubt.
    pub source: DoubtSource,
    /// Its part as a standard uncertainty in the figure's unit; the squares of all lines add to the figure's.
    pub u: f64,
    /// True where nothing was read and a prior or an assumption stands in.
    pub assumed: bool,
    /// Id of the tape or gauge whose zero it is, where readings name one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
}

/// Sources of doubt, as a person would name them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum DoubtSource {
    /// The tape readings.
    Tape,
    /// Zero of the tape's hook.
    TapeZero,
    /// Bounces.
    Bounces,
    /// Levelling of the spots.
    Spots,
    /// The floor under the marks: levelled there, or bumps and crown that were not.
    FloorUnderMark,
    /// Where the wheels stand on their spots.
    Placement,
    /// How the car shares a twist between its axles.
    RollShare,
    /// How far it leans and pitches with the ground.
    LeanGain,
    /// Angle gauge readings and zero.
    AngleGauge,
    /// Straightness of the rails.
    RailStraightness,
    /// A statement of the person.
    Assumption,
    /// Tilt of the floor (nearly nothing).
    Slope,
    /// The correction to nominal load and pressures.
    LoadAndPressure,
}

/// What all snapshots of a file say together about the car and the instruments.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SharedFigures {
    /// Part of the front floor's cross slope that the body follows, 0 to 1; `measured` where the readings found it.
    pub roll_share_front: Figure,
    /// Lean of the body over the cross slope that it follows.
    pub lean_gain: Figure,
    /// Zero of the tape's hook, mm: what its readings say too much.
    pub tape_zero_mm: Figure,
    /// Zero of the angle gauge, deg: what a straight reading says too much.
    pub gauge_zero_deg: Figure,
}

/// Kinds of point in one snapshot, in the order of [`PointKind`].
pub fn kinds_in(heights: &BTreeMap<String, Figure>, kind_of: impl Fn(&str) -> Option<PointKind>) -> Vec<PointKind> {
    PointKind::ALL.into_iter().filter(|kind| heights.keys().any(|id| kind_of(id) == Some(*kind))).collect()
}

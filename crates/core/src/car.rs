//! The car as it is described in an exchange file: its measures, reference points, tires and springs.
//!
//! Axes are those of ISO 8855 with the origin on the front axle's centre line: x forward, y left, z up. Everything behind
//! the front axle has a negative `x_mm`.

use crate::corner::{Corner, Corners};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// A car. `extra` keeps what a newer program wrote and this one does not know, so that nothing is lost on export.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Vehicle {
    /// What the person calls the car.
    pub label: String,
    /// Between the axles along the car, 500 to 10,000 mm.
    pub wheelbase_mm: f64,
    /// Between the front wheel centres, 300 to 4,000 mm.
    pub track_front_mm: f64,
    /// Between the rear wheel centres, 300 to 4,000 mm.
    pub track_rear_mm: f64,
    /// The marked points, each named once.
    #[serde(default, deserialize_with = "crate::capture::or_default")]
    pub ref_points: Vec<RefPoint>,
    /// The tires, all four or none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tires: Option<Corners<FittedTire>>,
    /// Springs, as far as known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub suspension: Option<Suspension>,
    /// In words, what the car carries when its heights are compared.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nominal_load: Option<String>,
    /// Mass with the nominal load, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_kg_approx: Option<f64>,
    /// Part of the front floor's cross slope that the body follows, 0 to 1; absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roll_share_front: Option<Estimate>,
    /// Lean of the body over the cross slope that it follows; above 1, since weight leans downhill; absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lean_gain: Option<Estimate>,
    /// Twist of a kind of point, FL − FR − RL + RR, known from before or believed, mm.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub known_twist_mm: BTreeMap<PointKind, Estimate>,
    /// Which of our own drawn outlines stands for the car.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outline: Option<Outline>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A number with its standard uncertainty (k = 1), as a file states it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Estimate {
    /// The number.
    pub value: f64,
    /// Its standard uncertainty, above 0.
    pub u: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A marked hard point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RefPoint {
    /// Name in files and readings, such as `lip.FL`.
    pub id: String,
    /// The corner it belongs to.
    pub corner: Corner,
    /// What sort of point it is; points are compared within a kind.
    pub kind: PointKind,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    pub y_mm: f64,
    /// Where the mark is, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Sorts of reference point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum PointKind {
    /// Lower edge of the fender lip over the wheel centre.
    FenderLip,
    /// Underside of a frame rail.
    FrameRail,
    /// A seam of the body.
    BodySeam,
    /// Lower edge of the rocker panel.
    Rocker,
    /// Where a spring sits.
    SpringPerch,
    /// Anything else that is marked.
    Other,
}

impl PointKind {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::FenderLip, Self::FrameRail, Self::BodySeam, Self::Rocker, Self::SpringPerch, Self::Other];

    /// Name in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::FenderLip => "fender_lip",
            Self::FrameRail => "frame_rail",
            Self::BodySeam => "body_seam",
            Self::Rocker => "rocker",
            Self::SpringPerch => "spring_perch",
            Self::Other => "other",
        }
    }

    /// In words, one of them: "fender lip".
    pub const fn words(self) -> &'static str {
        match self {
            Self::FenderLip => "fender lip",
            Self::FrameRail => "frame rail",
            Self::BodySeam => "body seam",
            Self::Rocker => "rocker edge",
            Self::SpringPerch => "spring perch",
            Self::Other => "marked point",
        }
    }

    /// First part of a point's name: `lip` in `lip.FL`.
    pub const fn stem(self) -> &'static str {
        match self {
            Self::FenderLip => "lip",
            Self::FrameRail => "rail",
            Self::BodySeam => "seam",
            Self::Rocker => "rocker",
            Self::SpringPerch => "perch",
            Self::Other => "point",
        }
    }
}

/// A tire as it is on the car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FittedTire {
    /// The marking on the sidewall.
    pub designation: String,
    /// Diameter without load, mm.
    pub free_diameter_mm: f64,
    /// Rim diameter at the bead seat, mm.
    pub rim_diameter_mm: f64,
    /// Cold pressure the heights refer to, kPa.
    pub nominal_pressure_kpa: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Springs of both axles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Suspension {
    /// The front axle's.
    pub front: AxleSprings,
    /// The rear axle's.
    pub rear: AxleSprings,
}

/// Springs of one axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AxleSprings {
    /// In words: "beam, one transverse leaf".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<String>,
    /// Distance between the springs (not the track), mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spring_base_mm: Option<f64>,
    /// Both wheels of the axle, spring and tire in series, N/mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_ride_rate_n_per_mm: Option<RideRate>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A rate with a relative standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RideRate {
    /// N/mm, above 0.
    pub value: f64,
    /// Standard uncertainty over value, above 0.
    pub rel_u: f64,
}

/// Our own plain outlines, drawn by the interface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Outline {
    /// Open, no fenders.
    Roadster,
    /// Closed, two doors.
    Coupe,
    /// Closed, four doors.
    Sedan,
    /// Cab and bed.
    Pickup,
    /// Rails and wheels only.
    BareFrame,
}

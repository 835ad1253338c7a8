//! The car as it is described in an exchange file: its measures, reference points, tires and springs.
//!
//! Axes are those of ISO 8855 with the origin on the front axle's centre line: x forward, y left, z up. Everything behind
//! the front axle has a negative `x_mm`.

mod bench_sums;
mod carried;
mod drivetrain;
mod extent;
mod fitment;
mod ground_angles;
mod jacking;
mod known_twist;
mod lamp;
mod leaf_pack;
mod level_part;
mod low_point;
mod mark;
mod radius_rod;
mod springs;
mod square;
mod steering;
mod travel;
mod weighed;

pub use bench_sums::*;
pub use carried::*;
pub use drivetrain::*;
pub use extent::*;
pub use fitment::*;
pub use ground_angles::*;
pub use jacking::*;
pub use known_twist::*;
pub use lamp::*;
pub use leaf_pack::*;
pub use level_part::*;
pub use low_point::*;
pub(crate) use mark::mark_place;
pub use radius_rod::*;
pub use springs::*;
pub use square::*;
pub use steering::*;
pub use travel::*;
pub use weighed::*;

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
    /// Part of that mass on the front axle, 0 to 1, from a scale ticket or a handbook.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_mass_share: Option<f64>,
    /// What scales said, at the nominal load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighed: Option<Weighed>,
    /// The fuel tank.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tank: Option<Tank>,
    /// Where people sit.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub seats: Vec<Seat>,
    /// Luggage as it is usually stowed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub luggage: Option<Carried>,
    /// What a trailer lays on the ball.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tow_ball: Option<Carried>,
    /// Part of the front floor's cross slope that the body follows, 0 to 1; absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roll_share_front: Option<Estimate>,
    /// Lean of the body over the cross slope that it follows; above 1, since weight leans downhill; absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lean_gain: Option<Estimate>,
    /// Twist of a kind of point, FL − FR − RL + RR, known from before or believed, mm.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub known_twist_mm: BTreeMap<PointKind, KnownTwist>,
    /// Which of our own drawn outlines stands for the car.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outline: Option<Outline>,
    /// What the outline is fitted to, as far as measured.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Extent::is_empty")]
    pub extent: Extent,
    /// Low points; heights as first measured, at nominal load.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub clearance_points: Vec<LowPoint>,
    /// Lamps; heights as first measured, at nominal load.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub lamps: Vec<Lamp>,
    /// The one lamp of an older file, a low beam; what `lamps` says comes before it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lamp: Option<Lamp>,
    /// What leads the front axle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius_rod: Option<RadiusRod>,
    /// Ratios.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drive: Option<Drive>,
    /// Joints of the shaft.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driveline: Option<Driveline>,
    /// Parts that want to stand level.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub attitude: Vec<LevelPart>,
    /// The steering, where its points were measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steering: Option<Steering>,
    /// The leaf springs, leaf by leaf.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "LeafPacks::is_empty")]
    pub leaf_packs: LeafPacks,
    /// The wheels in their openings, and others that are thought of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fitment: Option<Fitment>,
    /// What the axles' travel has left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel: Option<Travel>,
    /// Whether axles and frame stand square.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub square: Option<Square>,
    /// Jacks, places to lift at, straps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jacking: Option<Jacking>,
    /// The radiator's core.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiator: Option<Radiator>,
    /// Steering box and arms.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steering_box: Option<BoxAndArms>,
    /// The brake pedal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pedal: Option<PedalArms>,
    /// A caster that is wanted, and where its wedge would go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_caster: Option<WantedCaster>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl Vehicle {
    /// Its lamps, that of an older file too.
    pub fn all_lamps(&self) -> &[Lamp] {
        if self.lamps.is_empty() { self.lamp.as_slice() } else { &self.lamps }
    }

    /// Every part that says beside which snapshot it was measured: its place under `vehicle`, and the snapshot's name.
    pub fn measured_beside(&self) -> impl Iterator<Item = (String, &str)> {
        let points = self.clearance_points.iter().map(|point| point.measured_in.as_deref());
        let lamps = self.lamps.iter().map(|lamp| lamp.measured_in.as_deref());
        let parts = self.attitude.iter().map(|part| part.measured_in.as_deref());
        let numbered = |list: &'static str| move |(number, beside)| (format!("{list}[{number}]"), beside);
        let lamp = self.lamp.iter().map(|lamp| ("lamp".to_owned(), lamp.measured_in.as_deref()));
        let rod = self.radius_rod.iter().map(|rod| ("radius_rod".to_owned(), rod.measured_in.as_deref()));
        let line = self.driveline.iter().map(|line| ("driveline".to_owned(), line.measured_in.as_deref()));
        let steering = self.steering.iter().map(|points| ("steering".to_owned(), points.measured_in.as_deref()));
        let axles = self.travel.iter().flat_map(|travel| [("front", &travel.front), ("rear", &travel.rear)]);
        let hung = axles.flat_map(|(end, axle)| {
            let shackle = axle.shackle.iter().map(|part| ("shackle", part.measured_in.as_deref()));
            let shock = axle.shock.iter().map(|part| ("shock", part.measured_in.as_deref()));
            let hose = axle.hose.iter().map(|part| ("hose", part.measured_in.as_deref()));
            shackle.chain(shock).chain(hose).map(move |(part, beside)| (format!("travel.{end}.{part}"), beside))
        });
        let lifts = self.jacking.iter().flat_map(|jacking| &jacking.points).map(|point| point.measured_in.as_deref());
        let points_of = self.steering.iter().flat_map(|part| &part.measured_in_of).map(|(_, id)| ("steering", id));
        let joints_of = self.driveline.iter().flat_map(|part| &part.measured_in_of).map(|(_, id)| ("driveline", id));
        let of = points_of.chain(joints_of).map(|(part, id)| (part.to_owned(), Some(id.as_str())));
        let lists = points.enumerate().map(numbered("clearance_points"));
        let lists = lists.chain(lamps.enumerate().map(numbered("lamps")));
        let lists = lists.chain(parts.enumerate().map(numbered("attitude")));
        let lists = lists.chain(lifts.enumerate().map(numbered("jacking.points"))).chain(hung);
        lists
            .chain(of)
            .chain(lamp)
            .chain(rod)
            .chain(line)
            .chain(steering)
            .filter_map(|(at, beside)| Some((at, beside?)))
    }
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
    /// True where it is no longer read; its readings stay.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
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

//! The wheels in their openings: rims, measured gaps, how far they steer, and other wheels that are thought of.

use crate::corner::Corner;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Wheels in their openings, as measured on the day of the first snapshot, at nominal load.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Fitment {
    /// Each wheel that was measured.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "BTreeMap::is_empty")]
    pub wheels: BTreeMap<Corner, WheelFit>,
    /// How the front wheels steer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steer: Option<Steer>,
    /// Other wheels that are thought of, each named once.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "Vec::is_empty")]
    pub others: Vec<OtherWheel>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A rim, by what is stamped on it or measured. Offset or backspacing, not both.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RimFit {
    /// Between the bead seats, 60 to 400 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rim_width_mm: Option<f64>,
    /// Mounting face outboard of the rim's middle, −200 to 200 mm: more of it brings the wheel inboard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offset_mm: Option<f64>,
    /// From the inboard edge of the rim to the mounting face, 0 to 400 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backspacing_mm: Option<f64>,
    /// Widest part of the mounted tire, 60 to 450 mm; absent: by its marking and the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section_width_mm: Option<f64>,
    /// What the sidewall says the tire carries, 50 to 5,000 kg; absent: by the load index of its marking.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_load_kg: Option<f64>,
}

/// A wheel as it stands in its opening.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WheelFit {
    /// Its rim and tire.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(flatten))]
    pub rim: RimFit,
    /// Gaps from the tire to what stands round it.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "BTreeMap::is_empty")]
    pub gaps: BTreeMap<GapPlace, Gap>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What stands round a tire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum GapPlace {
    /// The fender lip or skin, outboard.
    FenderOuter,
    /// The wheel house, inboard.
    FenderInner,
    /// The frame rail, inboard.
    Frame,
    /// The spring, inboard.
    Spring,
    /// A rod, an arm or a hose, inboard.
    Rod,
    /// The shock absorber, inboard.
    Shock,
    /// The edge of the opening ahead of the tire, at the wheel centre's height.
    Ahead,
    /// The edge of the opening behind it.
    Behind,
    /// What is above the tread.
    Above,
}

/// On which side of the tire a place lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapSide {
    /// Away from the car's middle.
    Outboard,
    /// Toward it.
    Inboard,
    /// Ahead or behind.
    Along,
    /// Over the tread.
    Over,
}

impl GapPlace {
    /// All of them, from outside inward, then round the opening.
    pub const ALL: [Self; 9] = [
        Self::FenderOuter,
        Self::FenderInner,
        Self::Frame,
        Self::Spring,
        Self::Rod,
        Self::Shock,
        Self::Ahead,
        Self::Behind,
        Self::Above,
    ];

    /// Name in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::FenderOuter => "fender_outer",
            Self::FenderInner => "fender_inner",
            Self::Frame => "frame",
            Self::Spring => "spring",
            Self::Rod => "rod",
            Self::Shock => "shock",
            Self::Ahead => "ahead",
            Self::Behind => "behind",
            Self::Above => "above",
        }
    }

    /// In words, as a gap runs to it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FenderOuter => "fender lip",
            Self::FenderInner => "wheel house",
            Self::Frame => "frame rail",
            Self::Spring => "spring",
            Self::Rod => "rod",
            Self::Shock => "shock",
            Self::Ahead => "front of the opening",
            Self::Behind => "rear of the opening",
            Self::Above => "above the tread",
        }
    }

    /// Which side of the tire it lies on.
    pub const fn side(self) -> GapSide {
        match self {
            Self::FenderOuter => GapSide::Outboard,
            Self::FenderInner | Self::Frame | Self::Spring | Self::Rod | Self::Shock => GapSide::Inboard,
            Self::Ahead | Self::Behind => GapSide::Along,
            Self::Above => GapSide::Over,
        }
    }
}

/// A gap from the tire's widest part (above: from its tread) to what stands there. Below 0 they overlap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Gap {
    /// Standing, wheels straight ahead, −50 to 1,000 mm.
    pub at_rest_mm: f64,
    /// The same gap with the wheel at the top of its travel, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_bump_mm: Option<f64>,
    /// The least of it from lock to lock, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_lock_mm: Option<f64>,
    /// Height of the place above the floor, where it is nearest, mm: what swings past it at lock is a narrower part of the tire.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<f64>,
    /// Of a thing that is no rail: ahead of the wheel centre, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub along_mm: Option<f64>,
    /// Standard uncertainty of the reading, mm; absent: 1.5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// How the front wheels steer. Kingpin by its distance to the mounting face, or by the scrub radius.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Steer {
    /// How far the wheel on the inside of the turn steers, 5 to 60 degrees: its front swings outward.
    pub lock_inner_deg: f64,
    /// How far the wheel on the outside of the turn steers; absent: as far.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lock_outer_deg: Option<f64>,
    /// Wheel's mounting face outboard of the kingpin at the height of the wheel centre, −100 to 400 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kingpin_to_face_mm: Option<f64>,
    /// Tire's middle outboard of where the kingpin's line meets the ground, with the present wheel, −200 to 300 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scrub_radius_mm: Option<f64>,
    /// The kingpin leans inward at its top by that, 0 to 20 degrees; absent: 7 ± 2.5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kingpin_lean_deg: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Another wheel and tire that is thought of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OtherWheel {
    /// In words: "205 on 7 inch".
    pub label: String,
    /// Which axle it is for; absent: both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle: Option<Axle>,
    /// Marking of its tire.
    pub marking: String,
    /// Its rim and tire.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(flatten))]
    pub rim: RimFit,
    /// Between hub and wheel, 0 to 100 mm: brings the wheel outboard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacer_mm: Option<f64>,
    /// Its tire's diameter without load, where it was measured, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_diameter_mm: Option<f64>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// One of the two axles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Axle {
    /// The front one.
    Front,
    /// The rear one.
    Rear,
}

impl OtherWheel {
    /// Whether it is for the wheel at that corner.
    pub fn is_for(&self, corner: Corner) -> bool {
        self.axle.is_none_or(|axle| (axle == Axle::Front) == corner.is_front())
    }
}

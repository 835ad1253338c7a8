//! A stance that is wanted: heights with their tolerances, limits that a rule sets, a rake; and how it came about.
//!
//! An entry never changes: what is changed makes a new one that replaces it, and putting one away is a dated mark beside it.

mod carry;
mod check;
mod choose;
mod make;
mod only;
mod share;

pub use carry::{Carried, Keep, carry};
pub(crate) use check::{check_limits, check_numbers};
pub use make::{End, Silhouette, rake_heights, run_mm, silhouette, snapshot_heights};
pub use only::Unreadable;
pub use share::{LARGEST_BYTES, SharedCar, TargetFile};

use crate::capture::or_default;
use crate::car::PointKind;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Side to side and against a target, a quarter of an inch; common practice, no source.
pub const USUAL_TOLERANCE_MM: f64 = 6.0;

const fn usual_tolerance_mm() -> f64 {
    USUAL_TOLERANCE_MM
}

/// What is wanted of a car, at nominal load and pressures on level ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Target {
    /// Name in files; empty in a file of version 1, whose only target is called `target`.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "String::is_empty")]
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// By point, mm.
    #[serde(default, deserialize_with = "or_default")]
    pub heights_mm: BTreeMap<String, f64>,
    /// How far a height may be off, mm.
    #[serde(default = "usual_tolerance_mm")]
    pub tolerance_mm: f64,
    /// By point, where it is another than `tolerance_mm`, mm.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "BTreeMap::is_empty")]
    pub tolerances_mm: BTreeMap<String, f64>,
    /// Heights that must not be left, in place of heights that are wanted or beside them.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub limits: Vec<Limit>,
    /// Rake wanted, degrees, positive nose-down; absent: that of the heights.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rake_deg: Option<f64>,
    /// The kind of point whose rake that is; absent: every kind whose four heights are given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rake_kind: Option<PointKind>,
    /// How far the rake may be off, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rake_tolerance_deg: Option<f64>,
    /// How far left and right may differ, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side_to_side_tolerance_mm: Option<f64>,
    /// The tires the heights are meant with, where it matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tires: Option<AxleTires>,
    /// How it came about; absent: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub made: Option<Made>,
    /// A remark of the person.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Day of this entry, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// Name of the earlier entry that this one replaces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A height that points must not go below, or above, and who says so.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "TargetLimit"))]
pub struct Limit {
    /// The points it holds for.
    pub points: Vec<String>,
    /// Not below, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lowest_mm: Option<f64>,
    /// Not above, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub highest_mm: Option<f64>,
    /// What sort of rule it is.
    #[serde(default, deserialize_with = "or_default")]
    pub rule: Rule,
    /// Who says so, in the person's words.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "String::is_empty")]
    pub says: String,
}

/// Sorts of limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "TargetRule"))]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// Of a show's class.
    ShowClass,
    /// Of a club.
    ClubRule,
    /// The lowest height at which nothing touches, as the person found it.
    LowestSafe,
    /// Any other.
    #[default]
    Own,
}

impl Rule {
    /// In words: "show class".
    pub const fn words(self) -> &'static str {
        match self {
            Self::ShowClass => "show class",
            Self::ClubRule => "club rule",
            Self::LowestSafe => "lowest safe height",
            Self::Own => "own limit",
        }
    }
}

impl Limit {
    /// "show class, open roadsters": the sort of rule, and who says so.
    pub fn words(&self) -> String {
        match self.says.trim() {
            "" => self.rule.words().to_owned(),
            says => format!("{}, {}", self.rule.words(), crate::wording::shown(says)),
        }
    }
}

/// Markings of the tires of an axle each.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AxleTires {
    /// At the front, as on the sidewall.
    #[serde(default, deserialize_with = "or_default")]
    pub front: String,
    /// At the rear.
    #[serde(default, deserialize_with = "or_default")]
    pub rear: String,
}

/// How a target came about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "TargetMade"))]
#[serde(tag = "from", rename_all = "snake_case")]
pub enum Made {
    /// Heights were typed.
    Typed,
    /// The nominal heights of a snapshot.
    Snapshot {
        /// Its name in the file.
        snapshot: String,
        /// Its day.
        date: String,
    },
    /// A rake and the height of one end.
    RakeAndHeight,
    /// Tire sizes and the lowest rail.
    Silhouette,
    /// Another car's target.
    Car {
        /// What that car is called.
        car: String,
        /// What its target is called.
        target: String,
    },
}

/// That a target was put away, or brought back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TargetMark {
    /// Name of the mark, so that it counts once.
    pub uuid: String,
    /// The target's name; `target` for that of a file of version 1.
    pub target: String,
    /// What was done.
    pub what: TargetMarkKind,
    /// When, ISO 8601 with its offset.
    #[serde(default, deserialize_with = "or_default")]
    pub at: String,
}

/// What can be done to a target without changing it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum TargetMarkKind {
    /// No longer offered.
    PutAway,
    /// Offered again.
    BroughtBack,
}

impl Default for Target {
    fn default() -> Self {
        Self {
            id: String::new(),
            label: String::new(),
            heights_mm: BTreeMap::new(),
            tolerance_mm: USUAL_TOLERANCE_MM,
            tolerances_mm: BTreeMap::new(),
            limits: Vec::new(),
            rake_deg: None,
            rake_kind: None,
            rake_tolerance_deg: None,
            side_to_side_tolerance_mm: None,
            tires: None,
            made: None,
            note: String::new(),
            since: None,
            replaces: None,
            extra: Map::new(),
        }
    }
}

impl Target {
    /// How far the height of a point may be off, mm.
    pub fn tolerance_of(&self, point: &str) -> f64 {
        self.tolerances_mm.get(point).copied().unwrap_or(self.tolerance_mm)
    }

    /// The rake that is stated for a kind of point, degrees.
    pub fn stated_rake_deg(&self, kind: PointKind) -> Option<f64> {
        self.rake_deg.filter(|_| self.rake_kind.is_none_or(|own| own == kind))
    }

    /// True where nothing is wanted and nothing limited.
    pub fn is_empty(&self) -> bool {
        self.heights_mm.is_empty() && self.limits.is_empty() && !(self.rake_deg.is_some() && self.rake_kind.is_some())
    }
}

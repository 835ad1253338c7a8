//! Ground that the car has to drive over: a driveway, an apron, a crest, a trailer's ramp or a speed hump, from a tight string and a
//! rule at about ten stations, or from its few measures.
//!
//! The way is counted as the car drives in. Heights of a measured ground come from the string down; see [`Profile`] for how the
//! string's slope and its sag go in, and what is not known of the result.

mod check;
mod choose;
mod profile;
mod string;

pub use check::{check, faults};
pub use profile::{Profile, Source};
pub use string::{Station, StringLine};

use crate::capture::or_default;
use crate::checks::ramp::Shape;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A piece of ground, as it stands in the exchange file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OwnGround {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// What it is.
    #[serde(default)]
    pub kind: GroundKind,
    /// Day it was measured or typed, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// Measured: from a string with a rule.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub string: Option<StringLine>,
    /// Not measured along the way: from its few measures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<Shape>,
    /// No longer driven over.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "std::ops::Not::not")]
    pub put_away: bool,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What a ground is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum GroundKind {
    /// The way from the street to where the car stands.
    #[default]
    Driveway,
    /// The sloped edge of a drive or lot.
    Apron,
    /// The edge at the top of a slope.
    Crest,
    /// Up onto a trailer.
    TrailerRamp,
    /// A hump across a street.
    SpeedHump,
}

impl GroundKind {
    /// In a sentence: "the apron".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Driveway => "driveway",
            Self::Apron => "apron",
            Self::Crest => "crest",
            Self::TrailerRamp => "ramp",
            Self::SpeedHump => "speed hump",
        }
    }
}

impl OwnGround {
    /// What it is called: its label, or its name in the file.
    pub fn called(&self) -> &str {
        if self.label.trim().is_empty() { &self.id } else { self.label.trim() }
    }

    /// In a sentence with its article: "the 11° ramp", "the apron Yard".
    pub fn words(&self) -> String {
        let label = self.label.trim();
        match self.shape {
            _ if !label.is_empty() && label.to_lowercase().contains(self.kind.words()) => format!("the {label}"),
            Some(Shape::Ramp { angle_deg, .. } | Shape::Crest { angle_deg }) if label.is_empty() => {
                format!("the {}\u{b0} {}", (angle_deg * 10.0).round() / 10.0, self.kind.words())
            }
            _ if label.is_empty() => format!("the {}", self.kind.words()),
            _ => format!("the {} {label}", self.kind.words()),
        }
    }

    /// From where on places along it are counted: "the edge", "its foot", "the string\u{2019}s beginning".
    pub const fn counted_from(&self) -> &'static str {
        match self.shape {
            Some(Shape::Ramp { .. } | Shape::Crest { .. }) => "the edge",
            Some(Shape::Hump { .. }) => "its foot",
            None => "the string\u{2019}s beginning",
        }
    }
}

//! Measures that a car's description takes part by part: a wheel in its opening, travel, squareness, jacks. Every value as typed.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A part of a car that is measured by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum MeasuredPart {
    /// A wheel in its opening; `of` is the corner.
    Wheel,
    /// How the front wheels steer.
    Steer,
    /// Another wheel that is thought of; `of` is its place in the list, empty for a new one.
    OtherWheel,
    /// Travel of an axle; `of` is `front` or `rear`.
    Travel,
    /// Whether it stands square.
    Square,
    /// A jack; `of` as for another wheel.
    Jack,
    /// A place to lift at; `of` likewise.
    JackPoint,
    /// A strap; `of` likewise.
    Strap,
    /// The radiator.
    Radiator,
    /// What scales said of the car.
    Weighed,
}

/// Names one part of one car.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct MeasuredRef {
    /// The car.
    pub car: String,
    /// The part.
    pub part: MeasuredPart,
    /// Which one of it.
    #[serde(default)]
    pub of: String,
}

/// A part's form, filled in with what is known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MeasuredForm {
    /// The car.
    pub car: String,
    /// The part.
    pub part: MeasuredPart,
    /// Which one of it.
    pub of: String,
    /// Unit of bare lengths.
    pub tape: TapeUnit,
    /// "Front left in its opening"
    pub title: String,
    /// What to know before reaching under.
    pub caution: String,
    /// In the order they are asked.
    pub sections: Vec<MeasuredSection>,
    /// True where it is kept and can be left out.
    pub known: bool,
}

/// Fields that belong together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MeasuredSection {
    /// "Gaps at rest"
    pub title: String,
    /// What it is good for; empty where it stands open.
    pub good: String,
    /// The fields.
    pub fields: Vec<MeasuredField>,
}

/// A field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MeasuredField {
    /// Its name in [`KeepMeasured::fields`].
    pub name: String,
    /// "To the fender lip"
    pub words: String,
    /// "°", "kg"; a tape's unit for a length; empty for words.
    pub unit: String,
    /// How it is read, in a few words.
    pub hint: String,
    /// As it would be typed.
    pub value: String,
    /// What can be chosen; empty for a text.
    pub choices: Vec<MeasuredChoice>,
}

/// One of several words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MeasuredChoice {
    /// As it is kept.
    pub value: String,
    /// As it is read.
    pub words: String,
}

/// Keeps a part as typed; an empty field is not known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct KeepMeasured {
    /// The car.
    pub car: String,
    /// The part.
    pub part: MeasuredPart,
    /// Which one of it.
    #[serde(default)]
    pub of: String,
    /// Unit of bare lengths.
    pub tape: TapeUnit,
    /// By name, as typed.
    pub fields: BTreeMap<String, String>,
}

//! Parts of a car that are described for a check of their own: the form that asks for them, and what every page of one has.

use super::TapeUnit;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A part that is described.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Mechanism {
    /// Gears, axle ratio, and others to set beside them.
    Gearing,
    /// The steering and what leads its axle.
    Steering,
    /// The shaft to the rear axle, and what wants to stand level.
    Driveline,
    /// The front leaf springs.
    FrontSpring,
    /// The rear leaf springs.
    RearSpring,
    /// Steering box and both arms.
    SteeringBox,
    /// The brake pedal.
    Pedal,
    /// A caster that is wanted.
    Wedge,
}

/// Names a part of a car.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct MechanismRef {
    /// The car.
    pub car: String,
    /// Which part.
    pub part: Mechanism,
}

/// A part as it is typed. An empty form takes the description away.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct MechanismForm {
    /// The car.
    pub car: String,
    /// Which part.
    pub part: Mechanism,
    /// What a bare length is in.
    pub tape: TapeUnit,
    /// What was typed, by name of the field: `pitman_ball.x`, `leaves.2.thickness`.
    pub values: BTreeMap<String, String>,
}

/// The form of a part, as the app asks for it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismFormView {
    /// "The steering, point by point"
    pub title: String,
    /// What to know before going under the car; empty where nothing is.
    pub caution: String,
    /// In the order they are asked for.
    pub sections: Vec<MechanismSection>,
    /// As the car has it now.
    pub form: MechanismForm,
}

/// What belongs together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismSection {
    /// "Ball on the steering box’s arm"
    pub title: String,
    /// How to measure it.
    pub words: String,
    /// Shown in the picture while it is asked for; empty where there is none: `pitman_ball`.
    pub shows: String,
    /// Asked for only where another field has one of these.
    pub only: Option<MechanismOnly>,
    /// One by one.
    pub fields: Vec<MechanismField>,
    /// Rows of fields, as many as the person adds.
    pub list: Option<MechanismList>,
}

/// When a section is asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismOnly {
    /// Name of the other field.
    pub name: String,
    /// What it must have.
    pub values: Vec<String>,
}

/// One thing that is asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismField {
    /// Its name in the form; in a list without the row.
    pub name: String,
    /// "Ahead of the front axle"
    pub words: String,
    /// An example, or which way counts.
    pub hint: String,
    /// What stands behind it: "°"; `length` for the tape's own.
    pub unit: String,
    /// What it is chosen from; empty where it is typed.
    pub choices: Vec<MechanismChoice>,
}

/// Something to choose.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismChoice {
    /// As it goes into the form.
    pub value: String,
    /// In words.
    pub words: String,
}

/// Rows of fields.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismList {
    /// The first part of its fields' names: `leaves` of `leaves.2.thickness`.
    pub name: String,
    /// "Leaf": a row is called so with its number.
    pub one: String,
    /// "Add a leaf"
    pub add: String,
    /// Most rows.
    pub most: u32,
    /// Of each row.
    pub fields: Vec<MechanismField>,
}

/// What every page of a part says beside its picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismWords {
    /// False where the car's part is not described yet: then only the headline, the detail and the notes say something.
    pub described: bool,
    /// The result in a sentence.
    pub headline: String,
    /// The next sentence.
    pub detail: String,
    /// Numbers with what they are held against.
    pub rows: Vec<MechanismRow>,
    /// What to know before and after working on it, whole sentences.
    pub cautions: Vec<String>,
    /// Where the numbers come from, whole sentences.
    pub notes: Vec<String>,
    /// The picture in words.
    pub text: String,
}

/// One number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MechanismRow {
    /// A name for it.
    pub of: String,
    /// "Front joint"
    pub bold: String,
    /// "Within 3°, a maker of joints"
    pub line: String,
    /// "2.1°"
    pub value: String,
    /// "±0.4°"
    pub band: String,
    /// Verdict as the checks have it, `clears`, `touches`, `within`, `outside`, `can't_tell`; empty where there is none.
    pub verdict: String,
    /// The number itself, in mm, degrees or turns a minute.
    pub number: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// Points of a picture seen from the left, mm: behind the front axle is negative `x_mm`, `z_mm` above level ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SidePoint {
    /// A name for it: `pitman_ball`.
    pub of: String,
    /// "pitman ball"
    pub words: String,
    /// mm.
    pub x_mm: f64,
    /// mm.
    pub z_mm: f64,
}

/// A line through a picture's points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SideLine {
    /// A name for it: `drag_link`.
    pub of: String,
    /// "drag link"
    pub words: String,
    /// `[x, z]` each, mm.
    pub points: Vec<[f64; 2]>,
}

/// A point of a curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CurveAt {
    /// Along the picture.
    pub along: f64,
    /// Up the picture.
    pub value: f64,
}

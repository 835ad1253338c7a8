//! The form of a car, section by section. Every measure travels as typed.

use super::garage::{SideView, TapeUnit};
use serde::{Deserialize, Serialize};
use trueground_core::car::{Outline, PointKind, SpringKind};
use trueground_core::corner::{Corner, Corners};

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
    /// Marks that stand alone: further ones of a kind, or of a kind that is not marked at all four corners.
    #[serde(default)]
    pub further: Vec<PointForm>,
    /// As printed on the sidewall.
    pub tires: Corners<TireForm>,
    /// Where the car ends; each may be empty.
    #[serde(default)]
    pub body: BodyForm,
    /// How it is sprung; each may be empty.
    #[serde(default)]
    pub springs: SpringsForm,
    /// What it weighs and where loads sit; each may be empty.
    #[serde(default)]
    pub loads: LoadsForm,
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
    /// No longer read. Marks that carry readings stay with them; marks that carry none go.
    #[serde(default)]
    pub retired: bool,
}

/// One mark.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PointForm {
    /// Its name in files; empty for a new one.
    #[serde(default)]
    pub id: String,
    /// The corner it belongs to.
    pub corner: Corner,
    /// The kind.
    pub kind: PointKind,
    /// Behind the front axle, as typed ("-100" ahead of it).
    pub behind_front_axle: String,
    /// From the middle of the car out to it, as typed.
    pub from_middle: String,
    /// Where the mark is, in words.
    #[serde(default)]
    pub what: String,
    /// No longer read.
    #[serde(default)]
    pub retired: bool,
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

/// What fits the outline to the car, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(default, deny_unknown_fields)]
pub struct BodyForm {
    /// Front wheel centre to the foremost part.
    pub overhang_front: String,
    /// Rear wheel centre to the rearmost part.
    pub overhang_rear: String,
    /// Floor to the top of the roof or the windscreen, as it stands.
    pub roof_height: String,
    /// Floor to the rear edge of the hood, as it stands.
    pub hood_height: String,
}

/// Springs of both axles and what follows from them, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(default, deny_unknown_fields)]
pub struct SpringsForm {
    /// The front axle.
    pub front: AxleForm,
    /// The rear axle.
    pub rear: AxleForm,
    /// "0.36 ± 0.12"; empty: from the springs where they are known.
    pub roll_share: String,
    /// "1.10 ± 0.06"
    pub lean_gain: String,
}

/// Springs of one axle, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(default, deny_unknown_fields)]
pub struct AxleForm {
    /// Sort of spring, if chosen.
    pub spring: Option<SpringKind>,
    /// In words: "beam, one transverse leaf".
    pub words: String,
    /// Between the springs.
    pub base: String,
    /// One side's spring; a bare number is N/mm.
    pub side_rate: String,
    /// Both wheels, spring and tire together; a bare number is N/mm.
    pub ride_rate: String,
    /// The bar; a bare number is N·m for each degree.
    pub bar: String,
}

/// Mass, tank and seats, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(default, deny_unknown_fields)]
pub struct LoadsForm {
    /// A bare number is kg.
    pub mass: String,
    /// Part on the front axle; a bare number is %.
    pub front_share: String,
    /// Front axle on the scale; a bare number is kg.
    pub axle_front: String,
    /// Rear axle on the scale; a bare number is kg.
    pub axle_rear: String,
    /// A bare number is litres.
    pub tank_size: String,
    /// Middle of the tank behind the front axle.
    pub tank_place: String,
    /// Middle of the front seat behind the front axle.
    pub seat_front: String,
    /// Middle of the rear seat behind the front axle.
    pub seat_rear: String,
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

/// Asks for the picture of a form half filled in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SketchCar {
    /// The car that is changed; absent: a new one.
    #[serde(default)]
    pub car: Option<String>,
    /// As typed so far.
    pub form: CarForm,
}

/// A form as a picture, from what of it can be read; usual sizes stand in for the rest.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CarSketch {
    /// The car from the side.
    pub side: SideView,
    /// Every mark that can be placed.
    pub marks: Vec<SketchMark>,
    /// "From the springs: 0.36 ± 0.12 of a twist at the front.", or what is supposed.
    pub roll_share: String,
    /// "Mass 1060 kg, 48 % of it in front.", or what is supposed.
    pub mass: String,
}

/// A mark on the picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SketchMark {
    /// What the names of its fields begin with: `points.0.front`, `further.2`.
    pub field: String,
    /// Its kind.
    pub kind: PointKind,
    /// Its corner.
    pub corner: Corner,
    /// Behind the front axle, mm.
    pub s_mm: f64,
    /// Left of the centre plane, mm.
    pub y_mm: f64,
}

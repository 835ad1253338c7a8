//! The garage: every car, and how the app is set.

use serde::{Deserialize, Serialize};
use trueground_core::car::Outline;
use trueground_core::stance::Figure;

/// A request without content.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nothing {}

/// What opens first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GarageView {
    /// Last used first.
    pub cars: Vec<CarRow>,
    /// How the app is set.
    pub settings: Settings,
    /// What the person should know about the store: recovered, set aside, older copy offered. Sentences.
    pub notices: Vec<String>,
}

/// One car in the garage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CarRow {
    /// Id.
    pub car: String,
    /// What the person calls it.
    pub label: String,
    /// Which outline stands for it.
    pub outline: Outline,
    /// Its measures for the drawing.
    pub side: Option<SideView>,
    /// Day of the last finished snapshot, `YYYY-MM-DD`.
    pub last_date: Option<String>,
    /// One sentence of state: "Nose-down 2.0°, even side to side.", "Not read yet."
    pub state: String,
    /// The unfinished snapshot, if there is one.
    pub unfinished: Option<String>,
    /// "12 of 16 read, 14:32."
    pub unfinished_state: Option<String>,
}

/// What a side view needs, from the core, mm: nothing in it is typed by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SideView {
    /// Which of our own drawn outlines stands on these wheels.
    pub outline: Outline,
    /// Between the axles.
    pub wheelbase_mm: f64,
    /// Name of the kind of point the rail line goes through, in words: "frame rails".
    pub line_words: String,
    /// Code of that kind: `frame_rail`.
    pub kind: String,
    /// Place of the front mark behind the front axle, mm.
    pub front_s_mm: f64,
    /// Place of the rear mark behind the front axle, mm.
    pub rear_s_mm: f64,
    /// Height at the front mark, mean of left and right.
    pub front_mm: Figure,
    /// Height at the rear mark.
    pub rear_mm: Figure,
    /// Height of the body's reference line (frame rail bottom or its estimate) at the axles, mm, for placing the outline.
    pub rail_front_mm: f64,
    /// The same at the rear axle.
    pub rail_rear_mm: f64,
    /// Heights of the fender lips front and rear, where they were read (openings are drawn to them).
    pub lip_front_mm: Option<f64>,
    /// The same at the rear.
    pub lip_rear_mm: Option<f64>,
    /// Front wheel centre to the foremost part, where it was measured.
    pub overhang_front_mm: Option<f64>,
    /// Rear wheel centre to the rearmost part, where it was measured.
    pub overhang_rear_mm: Option<f64>,
    /// Roof above the rails, where it was measured.
    pub roof_over_rail_mm: Option<f64>,
    /// Rear edge of the hood above the rails, where it was measured.
    pub hood_over_rail_mm: Option<f64>,
    /// Front wheel.
    pub front_wheel: WheelView,
    /// Rear wheel.
    pub rear_wheel: WheelView,
    /// The picture in words, with its numbers.
    pub text: String,
}

impl SideView {
    /// Height of the rails mid-wheelbase, mm.
    pub(crate) fn rail_mm(&self) -> f64 {
        f64::midpoint(self.rail_front_mm, self.rail_rear_mm)
    }
}

/// A wheel for drawing, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WheelView {
    /// Free radius.
    pub free_radius_mm: f64,
    /// Centre above the ground.
    pub loaded_radius_mm: f64,
    /// Rim radius.
    pub rim_radius_mm: f64,
    /// Width of the section.
    pub section_mm: f64,
    /// Between the wheel centres of this axle.
    pub track_mm: f64,
}

/// How the app is set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Settings {
    /// Unit of a new tape.
    pub tape: TapeUnit,
    /// Unit of printed lengths.
    pub display: TapeUnit,
    /// Day, night or as the system says.
    pub theme: Theme,
    /// Take and erase at the left.
    pub left_hand: bool,
    /// Says each accepted reading aloud, where the system has a voice of its own.
    #[serde(default)]
    pub read_back: bool,
}

/// What a tape reads in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum TapeUnit {
    /// Inches in sixteenths.
    In,
    /// Inches in thirty-seconds.
    In32,
    /// Millimetres.
    Mm,
    /// Centimetres, divided in millimetres.
    Cm,
}

/// Colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Theme {
    /// As the system says.
    System,
    /// Bare metal.
    Day,
    /// Dyed plate.
    Night,
}

/// Names a car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CarRef {
    /// Id.
    pub car: String,
}

/// A file's text to read in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ImportFile {
    /// Name of the file, for messages.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// A car as an exchange file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Exported {
    /// A name to save it under.
    pub file_name: String,
    /// JSON.
    pub text: String,
    /// What is not in it because it is lost, whole sentences.
    pub notices: Vec<String>,
}

/// An empty booking sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BlankSheet {
    /// A name to save it under.
    pub file_name: String,
    /// A page that stands alone: nothing is fetched, nothing runs.
    pub html: String,
}

/// Asks what a typed length means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ReadLength {
    /// As typed.
    pub text: String,
    /// Unit of a bare number.
    pub tape: TapeUnit,
}

/// What a typed length means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LengthRead {
    /// mm.
    pub value_mm: f64,
    /// In the tape's unit, as printed: "10 7/16 in".
    pub printed: String,
    /// In the other unit, as printed: "265 mm".
    pub other: String,
}

/// Asks what a sidewall marking means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ReadTire {
    /// As typed.
    pub marking: String,
}

/// What a sidewall marking means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TireRead {
    /// Free diameter, mm.
    pub diameter_mm: f64,
    /// Its standard uncertainty, mm.
    pub u_mm: f64,
    /// Rim diameter, mm.
    pub rim_diameter_mm: f64,
    /// Section width, mm.
    pub section_width_mm: f64,
    /// `standard`, `formula`, `estimate`.
    pub basis: String,
    /// In words: "6.00-16: about 718 mm ± 20, an estimate. A tape round it is better."
    pub sentence: String,
}

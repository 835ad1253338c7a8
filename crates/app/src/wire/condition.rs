//! How the car stands: load, pressures, floor and facing as typed, as last time, and the forms that are kept half filled in.

use super::garage::SideView;
use super::walk::SnapshotForm;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use trueground_core::capture::ConditionPart;

/// What the car stands on, as the person says it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum StandsOn {
    /// Its own wheels.
    #[default]
    Wheels,
    /// Rated stands: a mock-up, its own kind.
    RatedStands,
    /// A jack: refused.
    Jack,
}

/// What the pressure gauge is divided in; a bare number is in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum GaugeUnit {
    /// Kilopascals.
    #[default]
    Kpa,
    /// Pounds per square inch.
    Psi,
    /// Bar.
    Bar,
}

/// What is aboard beside the car's nominal load, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields, default)]
pub struct LoadForm {
    /// Fuel against the car's usual mark.
    pub fuel: FuelForm,
    /// People, luggage, and what is missing.
    pub aboard: Vec<AboardForm>,
}

impl LoadForm {
    /// True where anything of it was typed.
    pub(crate) fn says_something(&self) -> bool {
        !self.aboard.is_empty() || !self.fuel.now.trim().is_empty()
    }
}

/// Fuel as typed: a mark is `0` to `4` quarters of the tank, or litres: `30 l`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields, default)]
pub struct FuelForm {
    /// What is in it now; empty: as usual.
    pub now: String,
    /// What is in it at nominal load.
    pub usual: String,
    /// What the tank holds, litres.
    pub tank: String,
    /// Where the tank is.
    pub place: LoadPlace,
    /// How far behind the front axle, as typed, mm or with a unit; empty: the usual place.
    pub behind: String,
}

impl Default for FuelForm {
    fn default() -> Self {
        let (now, tank, behind) = Default::default();
        Self { now, usual: "2".to_owned(), tank, place: LoadPlace::BehindRear, behind }
    }
}

/// Somebody or something aboard, as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct AboardForm {
    /// "driver", "spare wheel left at home"
    #[serde(default)]
    pub what: String,
    /// `75`, `165 lb`; `-18` is missing from the nominal load.
    pub mass: String,
    /// Where.
    pub place: LoadPlace,
    /// Which side.
    #[serde(default)]
    pub side: LoadSide,
    /// How far behind the front axle, as typed, mm or with a unit; empty: the usual place.
    #[serde(default)]
    pub behind: String,
}

/// Named places in a car.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum LoadPlace {
    /// The driver's seat.
    #[default]
    Driver,
    /// The seat beside it.
    Passenger,
    /// The rear seat.
    RearSeat,
    /// Behind the rear axle.
    BehindRear,
    /// Ahead of the front axle.
    AheadFront,
    /// A place of its own.
    Own,
}

/// Which side of the middle a mass is on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum LoadSide {
    /// A quarter of the track to the left.
    Left,
    /// In the middle.
    #[default]
    Middle,
    /// A quarter of the track to the right.
    Right,
}

/// What the load section needs to know about a car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadSheet {
    /// The car's nominal load in words; absent: not named.
    pub nominal: Option<String>,
    /// The car for the picture.
    pub side: SideView,
    /// Named places and about where they are.
    pub places: Vec<PlaceView>,
}

/// A named place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlaceView {
    /// The place.
    pub place: LoadPlace,
    /// "driver's seat"
    pub words: String,
    /// How far behind the front axle, as it would be typed; empty for a place of its own.
    pub behind: String,
    /// "about 1470 mm; change it if you know it"
    pub hint: String,
}

/// Asks what a load comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ReadLoad {
    /// The car.
    pub car: String,
    /// As typed.
    pub load: LoadForm,
}

/// What a load comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadRead {
    /// Each mass at its place, for the picture.
    pub masses: Vec<MassView>,
    /// "97 kg more than half tank, nobody aboard: about 4 mm lower at the front, 9 mm lower at the rear."
    pub sentence: String,
}

/// A mass at its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MassView {
    /// "driver"
    pub label: String,
    /// kg, negative where it is missing.
    pub mass_kg: f64,
    /// "75 kg"
    pub printed: String,
    /// Behind the front axle, mm.
    pub s_mm: f64,
}

/// The last snapshot's condition, line by line, for "same as last time?".
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LastTime {
    /// "12 Apr 2031"
    pub day: String,
    /// In the order in which they are asked.
    pub lines: Vec<LastLine>,
}

/// One line of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LastLine {
    /// Which part.
    pub part: ConditionPart,
    /// "Drive, levelled 12 Aug 2031"
    pub words: String,
}

/// The condition of an unfinished snapshot, to be changed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ConditionView {
    /// The snapshot.
    pub snapshot: String,
    /// As it was typed.
    pub form: SnapshotForm,
}

/// Changes the condition of an unfinished snapshot; its readings and its walk stay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ChangeCondition {
    /// The snapshot.
    pub snapshot: String,
    /// All of the condition anew; what is walked is not looked at.
    pub form: SnapshotForm,
}

/// Keeps a form half filled in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct KeepForm {
    /// The form's name: "begin 0190…".
    pub name: String,
    /// As filled in so far; absent: the form is done with.
    pub text: Option<String>,
}

/// Forms half filled in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KeptForms {
    /// Text by name.
    pub forms: BTreeMap<String, String>,
}

/// The tilt of a levelled floor, before the car is rolled on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SlopeView {
    /// True above 5 %.
    pub steep: bool,
    /// "This floor is tilted by 2.7 %."
    pub sentence: String,
}

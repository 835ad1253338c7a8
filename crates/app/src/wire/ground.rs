//! Ground that the garage's cars drive over: the list, the form, and the stations under a string.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::checks::ramp::HumpShape;
use trueground_core::ground::GroundKind;

/// Names a ground.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct GroundRef {
    /// Name.
    pub ground: String,
}

/// Every ground of the garage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundsView {
    /// In the order they were made.
    pub rows: Vec<GroundRow>,
    /// Put away, and can be brought back.
    pub put_away: Vec<GroundRow>,
    /// An empty form.
    pub blank: GroundForm,
}

/// A ground in a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundRow {
    /// Name.
    pub ground: String,
    /// "11° ramp", "home driveway"
    pub label: String,
    /// "Eleven stations over 4000 mm, 1 Aug 2031"
    pub what: String,
    /// True where it is measured with a string.
    pub measured: bool,
    /// True where a car can be driven over it.
    pub ready: bool,
    /// Its profile, `[s, z]`, mm; empty where it has none yet.
    pub profile: Vec<[f64; 2]>,
}

/// How a ground is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum GroundWay {
    /// With a string and a rule.
    String,
    /// From its few measures.
    Measures,
}

/// Adds a ground, or changes one. Texts as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct GroundForm {
    /// The one that is changed; absent: a new one.
    #[serde(default)]
    pub ground: Option<String>,
    /// What the person calls it; may be empty for one from its measures.
    pub label: String,
    /// What it is.
    pub kind: GroundKind,
    /// How it is known.
    pub way: GroundWay,
    /// Unit of what is typed.
    pub tape: TapeUnit,
    /// How steeply the string rises the way the car drives in, degrees; empty: nobody looked.
    #[serde(default)]
    pub slope: String,
    /// How far the string hangs through at its middle; empty: worked out.
    #[serde(default)]
    pub sag: String,
    /// Angle of a ramp, apron or crest, degrees.
    #[serde(default)]
    pub angle: String,
    /// Length of the sloped piece, or of a hump from foot to foot.
    #[serde(default)]
    pub length: String,
    /// How high it leads, or the height of a hump.
    #[serde(default)]
    pub rise: String,
    /// Level piece in a hump.
    #[serde(default)]
    pub flat: String,
    /// How a hump rises.
    #[serde(default)]
    pub hump: HumpShape,
}

/// A station under the string.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TakeStation {
    /// Name of the ground.
    pub ground: String,
    /// Along the string from its beginning, as typed.
    pub along: String,
    /// From the string down to the ground, as typed.
    pub down: String,
    /// Unit of both.
    pub tape: TapeUnit,
    /// True: it may lie between two that were read.
    #[serde(default)]
    pub between: bool,
    /// The same number is kept once.
    pub request_id: String,
}

/// Puts a ground away, or brings it back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PutAwayGround {
    /// Name.
    pub ground: String,
    /// False: brought back.
    pub away: bool,
}

/// A ground's page: its stations, and the next one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundView {
    /// Name.
    pub ground: String,
    /// "home driveway"
    pub label: String,
    /// "driveway"
    pub kind_words: String,
    /// What was typed, to change it.
    pub form: GroundForm,
    /// Unit of the rule.
    pub tape: TapeUnit,
    /// In the order they are driven over.
    pub stations: Vec<GroundStation>,
    /// "6 stations over 2000 mm"
    pub state: String,
    /// What to do with the string, or what is still missing; one sentence each.
    pub notes: Vec<String>,
    /// Where the next station would be, as the tape shows it.
    pub next_along: String,
    /// "station 7, at 2400 mm"
    pub next_words: String,
    /// A station that was taken back and can be put back: "1600 mm along, 131 mm down".
    pub taken_back: Option<String>,
    /// True where a car can be driven over it.
    pub ready: bool,
    /// Its profile, `[s, z]`, mm.
    pub profile: Vec<[f64; 2]>,
    /// The same in words.
    pub text: String,
    /// False for one from its measures, which has no stations.
    pub measured: bool,
}

/// A station that was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundStation {
    /// Along the string, mm.
    pub along_mm: f64,
    /// From the string down, mm.
    pub down_mm: f64,
    /// As the tape shows them: "1600".
    pub along: String,
    /// "131"
    pub down: String,
    /// "a step of 35 mm up"; empty for none.
    pub step: String,
}

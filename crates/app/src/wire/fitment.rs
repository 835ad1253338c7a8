//! Wheels in their openings: every gap in every state, with the wheel that is there and with another.

use super::{StanceChoice, StanceChoices, StanceRef};
use serde::{Deserialize, Serialize};
use trueground_core::checks::fitment::WheelState;
use trueground_core::corner::Corner;

/// Asks for the wheels in their openings at a stance.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeFitment {
    /// The car.
    pub car: String,
    /// How it stands; absent: as it was last measured.
    #[serde(default)]
    pub stance: Option<StanceRef>,
}

/// Wheels in their openings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FitmentView {
    /// The car.
    pub car: String,
    /// "as on 10 Jul 2031", or "as measured".
    pub as_on: String,
    /// Stances that can be chosen.
    pub choices: StanceChoices,
    /// The one that is shown; absent before the first snapshot.
    pub stance: Option<StanceChoice>,
    /// True where it was not measured: predicted.
    pub predicted: bool,
    /// Wheels that can be shown, each with its own tire and with each other wheel for its axle.
    pub openings: Vec<OpeningView>,
    /// The four wheels, and what of each is known.
    pub wheels: Vec<MeasuredRow>,
    /// Other wheels that are thought of.
    pub others: Vec<MeasuredRow>,
    /// Steering, travel, squareness, jacks and the rest.
    pub parts: Vec<MeasuredRow>,
    /// What is said where no wheel can be shown: the sentence, and what to do.
    pub nothing: Option<String>,
    /// What to know.
    pub cautions: Vec<String>,
}

/// A part that is measured by itself, in a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct MeasuredRow {
    /// The part.
    pub part: super::MeasuredPart,
    /// Which one of it; empty for one that would be new.
    pub of: String,
    /// "Front left"
    pub words: String,
    /// "nine gaps, rim 6 in", "not measured".
    pub state: String,
    /// True where something of it is kept.
    pub known: bool,
}

/// A wheel in its opening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OpeningView {
    /// Where.
    pub corner: Corner,
    /// "Front left"
    pub corner_words: String,
    /// Label of the other wheel; absent for the one that is there.
    pub other: Option<String>,
    /// "185 on 6 inch"
    pub now_words: String,
    /// The state that says most.
    pub worst: WheelState,
    /// States that can be told, at rest first.
    pub states: Vec<FitStateView>,
    /// Scrub radius, edges, centring, load.
    pub facts: Vec<FitFact>,
    /// What the picture is drawn from.
    pub scene: FitScene,
}

/// A wheel in one state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FitStateView {
    /// Which.
    pub state: WheelState,
    /// "at rest"
    pub words: String,
    /// "Touches at full lock."
    pub headline: String,
    /// `touches`, `cant_tell`, `clears`
    pub word: String,
    /// "Front left: the frame rail, from 32° of 33° on."
    pub detail: String,
    /// The nearest first.
    pub gaps: Vec<FitGap>,
    /// The picture as a sentence.
    pub text: String,
}

/// A gap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FitGap {
    /// `fender_outer`
    pub place: String,
    /// "fender lip"
    pub words: String,
    /// mm; absent where it cannot be told.
    pub mm: Option<f64>,
    /// Its standard uncertainty, mm.
    pub u_mm: Option<f64>,
    /// With the wheel that is there, where another is shown, mm.
    pub now_mm: Option<f64>,
    /// `touches`, `cant_tell`, `clears`
    pub word: String,
    /// "Touches, from 32° of 33° on", with how it is known.
    pub line: String,
}

/// A number of a wheel that is no gap.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FitFact {
    /// "Scrub radius"
    pub words: String,
    /// "5 mm, now 13"
    pub value: String,
    /// One line more; may be empty.
    pub detail: String,
}

/// What the picture is drawn from, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FitScene {
    /// The wheel that is there.
    pub now: WheelShape,
    /// The other.
    pub other: Option<WheelShape>,
    /// Gaps at rest with the wheel that is there, where measured.
    pub places: Vec<ScenePlace>,
    /// Up to the solid stop, where known.
    pub bump_mm: Option<f64>,
    /// Both locks, degrees, and the kingpin inboard of the tire's middle.
    pub lock: Option<SceneLock>,
}

/// A place round the wheel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ScenePlace {
    /// `fender_outer`
    pub place: String,
    /// From the present tire's widest part, or its tread.
    pub gap_mm: f64,
    /// Above the floor, where measured.
    pub height_mm: Option<f64>,
    /// Ahead of the wheel centre, where measured.
    pub along_mm: Option<f64>,
}

/// How it steers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SceneLock {
    /// As the wheel inside the turn, degrees.
    pub inner_deg: f64,
    /// As the one outside.
    pub outer_deg: f64,
    /// Kingpin inboard of the present tire's middle.
    pub kingpin_mm: f64,
}

/// A wheel as it is drawn, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct WheelShape {
    /// Widest part of the tire.
    pub section_mm: f64,
    /// Without load.
    pub radius_mm: f64,
    /// Wheel centre to floor.
    pub loaded_mm: f64,
    /// Between the bead seats.
    pub rim_width_mm: f64,
    /// At the bead seats.
    pub rim_diameter_mm: f64,
    /// Mounting face outboard of the tire's middle.
    pub offset_mm: f64,
    /// Tire's middle outboard of that of the wheel that is there.
    pub out_mm: f64,
}

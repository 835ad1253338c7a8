//! The steering's page: how far the wheels steer by themselves over bumps.

use super::{CurveAt, MechanismWords, SideLine, SidePoint, StanceChoice, StanceChoices, StanceRef};
use serde::{Deserialize, Serialize};

/// Asks for the page of a part at a stance.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeMechanism {
    /// The car.
    pub car: String,
    /// How it stands; absent: as it was last measured.
    #[serde(default)]
    pub stance: Option<StanceRef>,
    /// True: lengths are told in inches; else in mm.
    #[serde(default)]
    pub inches: bool,
}

/// The steering's page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SteeringView {
    /// The car.
    pub car: String,
    /// What it says.
    pub words: MechanismWords,
    /// Stances that can be chosen.
    pub choices: StanceChoices,
    /// The one that is shown; absent before the first snapshot.
    pub stance: Option<StanceChoice>,
    /// True where it was not measured: predicted.
    pub predicted: bool,
    /// The pictures; absent where nothing is described or something cannot reach.
    pub picture: Option<SteeringPicture>,
}

/// Curve and side view.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SteeringPicture {
    /// Steer in degrees, positive to the left, over travel in mm, positive with the wheel up.
    pub now: Vec<CurveAt>,
    /// The same with the pitman ball at its best height.
    pub best: Vec<CurveAt>,
    /// Ends, pivots and centres.
    pub points: Vec<SidePoint>,
    /// Drag link and guide.
    pub lines: Vec<SideLine>,
    /// The drag link from the best pitman ball.
    pub best_link: SideLine,
    /// Radius of the loaded wheel, mm.
    pub wheel_mm: f64,
    /// The steer of both curves in words, for the picture.
    pub curve_text: String,
}

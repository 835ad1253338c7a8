//! A stance driven over a ground: where it comes nearest, the picture of it, the gap along the way, and the answers turned round.

use super::checks::CheckWord;
use super::compare::{NothingToCompare, StanceChoice, StanceLine, StanceRef};
use super::garage::SideView;
use serde::{Deserialize, Serialize};
use trueground_core::checks::over_ground::Facing;

/// Asks for a stance on a ground.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeRamp {
    /// The car.
    pub car: String,
    /// The stance; absent: the newest snapshot.
    #[serde(default)]
    pub stance: Option<StanceRef>,
    /// Name of the ground; empty: the one on which it comes nearest.
    #[serde(default)]
    pub ground: String,
    /// Which end leads; absent: the one that comes nearer.
    #[serde(default)]
    pub facing: Option<Facing>,
}

/// The screen of ramp and driveway.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RampView {
    /// The car.
    pub car: String,
    /// Snapshots, the newest first.
    pub snapshots: Vec<StanceChoice>,
    /// Targets, the newest first.
    pub targets: Vec<StanceChoice>,
    /// The end of the settling, where it is not too early to say.
    pub forecast: Option<StanceChoice>,
    /// How it will stand on days to come; empty without a forecast.
    pub ahead: Vec<StanceChoice>,
    /// What kept plans would make of it.
    pub planned: Vec<StanceChoice>,
    /// Why there is no forecast, or no target, one sentence each.
    pub missing: Vec<String>,
    /// Grounds that can be chosen.
    pub grounds: Vec<GroundChoice>,
    /// What is said where nothing can be driven yet.
    pub nothing: Option<NothingToDrive>,
    /// The stance on the ground.
    pub driven: Option<DrivenView>,
}

/// What stands in place of a drive, and what would help.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NothingToDrive {
    /// Headline and sentence.
    pub said: NothingToCompare,
    /// `snapshot`, `ground` or `points`.
    pub wants: String,
}

/// A ground that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GroundChoice {
    /// Name.
    pub ground: String,
    /// "11° ramp"
    pub words: String,
}

/// A stance on a ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DrivenView {
    /// Which stance.
    pub stance: StanceChoice,
    /// True where it was not measured.
    pub predicted: bool,
    /// Name of the ground.
    pub ground: String,
    /// "11° ramp"
    pub ground_words: String,
    /// Which end leads.
    pub facing: Facing,
    /// Against touching.
    pub word: CheckWord,
    /// "Touches the 11° ramp."
    pub headline: String,
    /// "By 8 mm at the exhaust bend, from 1015 to 1190 mm past the edge. Standing still; bounce needs 25 more."
    pub detail: String,
    /// The same the other way in; empty where it does not matter.
    pub other_way: String,
    /// Least gap, mm.
    pub gap_mm: f64,
    /// Standard uncertainty (k = 1), mm.
    pub u_mm: f64,
    /// What has it: "exhaust bend".
    pub point: String,
    /// "±4: the car 4, the ground 0"
    pub doubt: String,
    /// The car on the ground.
    pub picture: RampPicture,
    /// The gap along the way.
    pub curve: RampCurve,
    /// Answers turned round, other grounds, the angles on the flat.
    pub rows: Vec<RampRow>,
    /// What to look after; sentences.
    pub cautions: Vec<String>,
    /// Everything as text, one sentence a line.
    pub text: Vec<String>,
}

/// The car set on the ground where it comes nearest; it faces +s, which is drawn to the left. mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RampPicture {
    /// The car on level ground.
    pub side: SideView,
    /// Corners of the ground `[s, z]`.
    pub ground: Vec<[f64; 2]>,
    /// Where the measured or typed part begins and ends.
    pub known: [f64; 2],
    /// Wheel centres, front and rear.
    pub wheels: [[f64; 2]; 2],
    /// How much nose-up against level ground, degrees.
    pub nose_up_deg: f64,
    /// The point that comes nearest.
    pub at: [f64; 2],
    /// Low points on the car, `[s, z]` as it stands.
    pub points: Vec<[f64; 2]>,
    /// "8 mm"
    pub number: String,
    /// Words at the ground, and where: "deck".
    pub words: String,
    /// The picture in words.
    pub text: String,
}

/// The gap of the point along the way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RampCurve {
    /// "Exhaust bend, driving in"
    pub title: String,
    /// The stance that is shown, and the newest snapshot where that is another.
    pub lines: Vec<RampLine>,
    /// Kept for bounce, mm.
    pub kept_mm: f64,
    /// Front axle from … to, where it is in the ground; absent where it is not.
    pub touching: Option<[f64; 2]>,
    /// "front axle past the edge, mm"
    pub counted: String,
    /// From and to on the line of places, mm.
    pub span: [f64; 2],
    /// The picture in words.
    pub text: String,
}

/// One stance's gap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RampLine {
    /// "2 Aug", "for the show"
    pub label: String,
    /// How it is drawn.
    pub line: StanceLine,
    /// `[front axle, gap]`, mm.
    pub points: Vec<[f64; 2]>,
}

/// One answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RampRow {
    /// For tests: `steepest`, `lowest`, `plank`, `approach`, `departure`, or `ground.` and a name.
    pub row: String,
    /// How it stands.
    pub word: CheckWord,
    /// "Steepest it clears"
    pub subject: String,
    /// "With 25 spare: 7.9°"
    pub line: String,
    /// "10.1°"; may be empty.
    pub number: String,
    /// "breakover"; may be empty.
    pub under: String,
    /// A ground that it opens.
    pub ground: Option<String>,
}

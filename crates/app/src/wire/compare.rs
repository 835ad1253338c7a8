//! Two stances of one car against each other: which two, and everything the screen says of them.

use super::garage::SideView;
use super::result::KindChoice;
use serde::{Deserialize, Serialize};
use trueground_core::corner::Corners;
use trueground_core::stance::Known;

/// Sorts of stance that can be compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum StanceOf {
    /// A finished snapshot on its wheels.
    Snapshot,
    /// A target of the car.
    Target,
    /// Where the settling will end.
    Forecast,
    /// What a kept plan, or the one that is being drawn up, would make of the car.
    Planned,
}

/// One stance of a car.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct StanceRef {
    /// Which sort.
    pub of: StanceOf,
    /// Id of the snapshot, target or plan, empty for the plan that is being drawn up; of a forecast its day as typed, or empty for the
    /// end of the settling.
    #[serde(default)]
    pub id: String,
}

/// Asks for two stances of a car against each other.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CompareAsk {
    /// The car.
    pub car: String,
    /// One; absent: the app chooses.
    #[serde(default)]
    pub this: Option<StanceRef>,
    /// The other; absent: the app chooses.
    #[serde(default)]
    pub other: Option<StanceRef>,
    /// Kind of point to show, `frame_rail`; empty: the app chooses.
    #[serde(default)]
    pub kind: String,
    /// True: nothing is taken out, the differences are those of the day.
    #[serde(default)]
    pub as_loaded: bool,
    /// How far height differences are drawn apart on paper, 1 to 10; 0: five times.
    #[serde(default)]
    pub times: u8,
}

impl CompareAsk {
    /// A car's stances, none of them chosen.
    pub fn of(car: &str) -> Self {
        Self { car: car.to_owned(), this: None, other: None, kind: String::new(), as_loaded: false, times: 0 }
    }
}

/// How a stance is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum StanceLine {
    /// Measured, the newer of two.
    Now,
    /// Measured, the older of two.
    Earlier,
    /// Wanted.
    Target,
    /// Not yet so.
    Predicted,
}

/// Every stance of a car that can be chosen.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StanceChoices {
    /// Snapshots, the newest first.
    pub snapshots: Vec<StanceChoice>,
    /// Targets, the newest first.
    pub targets: Vec<StanceChoice>,
    /// The end of the settling, where it is not too early to say.
    pub forecast: Option<StanceChoice>,
    /// How it will stand on days to come; empty without a forecast.
    pub ahead: Vec<StanceChoice>,
    /// The plan that is being drawn up, and what kept plans would make of it.
    pub planned: Vec<StanceChoice>,
    /// Why there is no forecast, or no target, one sentence each.
    pub missing: Vec<String>,
}

/// A stance that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StanceChoice {
    /// Which one.
    pub stance: StanceRef,
    /// "28 Aug 2031", "low and forward", "settled".
    pub label: String,
    /// In a legend: "now" for the newest snapshot, else as `label`.
    pub short: String,
    /// "Yard, levelled; half tank, nobody aboard".
    pub detail: String,
    /// How it is drawn.
    pub line: StanceLine,
}

/// The Compare tab.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CompareView {
    /// The car.
    pub car: String,
    /// Snapshots, the newest first.
    pub snapshots: Vec<StanceChoice>,
    /// Targets, the newest first.
    pub targets: Vec<StanceChoice>,
    /// The end of the settling, where it is not too early to say.
    pub forecast: Option<StanceChoice>,
    /// How it will stand on days to come: in two weeks, in a month, and on the day that was asked for; empty without a forecast.
    pub ahead: Vec<StanceChoice>,
    /// What kept plans would make of the car, the newest first.
    pub planned: Vec<StanceChoice>,
    /// Why there is no forecast, or no target, one sentence each.
    pub missing: Vec<String>,
    /// Where two stances are not there yet: what is said instead, a headline and a sentence.
    pub nothing: Option<NothingToCompare>,
    /// The two that were asked for, or that the app chose.
    pub comparison: Option<ComparisonView>,
}

/// What stands in place of a comparison.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct NothingToCompare {
    /// "Nothing to compare yet."
    pub headline: String,
    /// What to do.
    pub sentence: String,
}

/// Two stances against each other: every difference is `this` less `other`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ComparisonView {
    /// The newer one, or what is held against a target.
    pub this: StanceChoice,
    /// The older one, or the target.
    pub other: StanceChoice,
    /// Day of the measured one, `YYYY-MM-DD`; empty where neither was measured.
    pub date: String,
    /// "Yard, levelled"
    pub floor: String,
    /// "Same load and tires", "Load differs".
    pub alike: String,
    /// The result in one sentence.
    pub headline: String,
    /// The sentence under it; may be empty.
    pub detail: String,
    /// What was not alike, first what matters most, one sentence each.
    pub unequal: Vec<String>,
    /// What load and pressures made of the differences, one sentence each.
    pub taken_out: Vec<String>,
    /// Whether they are in the differences that are shown.
    pub as_loaded: bool,
    /// Kinds that both have.
    pub kinds: Vec<KindChoice>,
    /// The kind shown.
    pub kind: String,
    /// "Frame rails against the target"
    pub title: String,
    /// "shaded ±6"; empty where there is no tolerance.
    pub tolerance: String,
    /// By corner.
    pub corners: Corners<DifferenceView>,
    /// Mean of the front's left and right.
    pub front: DifferenceView,
    /// The same behind.
    pub rear: DifferenceView,
    /// Rake, lean, side to side: a verdict each.
    pub findings: Vec<FindingView>,
    /// Points against the limits of the target, a verdict each.
    pub limits: Vec<FindingView>,
    /// The differences as movements of the body, and what no shim takes out; one sentence each.
    pub split: Vec<String>,
    /// Tire part and spring part, one sentence each; empty where the wheel centres were not read in both.
    pub parts: Vec<String>,
    /// Both seen from the side; absent where front or rear is not told.
    pub overlay: Option<OverlayView>,
    /// The side view in words, with its numbers.
    pub text: String,
    /// The plan view in words, with its numbers.
    pub plan_text: String,
    /// The car for the plan view.
    pub plan: SideView,
}

/// One difference in mm, ready to be set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DifferenceView {
    /// "front left"
    pub place: String,
    /// mm; absent where nothing tells it.
    pub value_mm: Option<f64>,
    /// Standard uncertainty (k = 1), mm.
    pub u_mm: Option<f64>,
    /// Where it comes from.
    pub known: Known,
    /// How far it may be off, mm; absent between two snapshots.
    pub tolerance_mm: Option<f64>,
    /// The height of `this` there, "267 ±4"; empty where it is not told.
    pub this: String,
    /// The height of `other` there, "246".
    pub other: String,
    /// "21", without sign; empty where nothing tells it.
    pub number: String,
    /// "±4 mm"
    pub band: String,
    /// "higher", "lower"; empty where the number is 0 or not told.
    pub word: String,
    /// `same`, `changed`, `on`, `off`, `cant_tell`, or `not_read`.
    pub verdict: String,
    /// "off", "can’t tell", "not read"
    pub verdict_words: String,
    /// "front left 21 mm higher, ±4: off"
    pub sentence: String,
}

/// One finding with its verdict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FindingView {
    /// `rake`, `lean`, `sides`, `limit.rail.FL`.
    pub of: String,
    /// `same`, `changed`, `on`, `off`, `even`, `uneven`, `within`, `outside`, `cant_tell`.
    pub verdict: String,
    /// The verdict as the sentence begins: "Off".
    pub bold: String,
    /// The rest: ": 0.6° less nose-down than the target".
    pub rest: String,
    /// True where the difference points down: less nose-down, right side up.
    pub below: bool,
}

/// Both stances from the side, true: heights differ, lengths do not.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OverlayView {
    /// The one that is drawn as a car, or with its outline where neither was measured.
    pub figure: SideView,
    /// The other, on the same wheels.
    pub over: SideView,
    /// How the figure is drawn; `now` as a whole car.
    pub figure_line: StanceLine,
    /// How the other is drawn.
    pub over_line: StanceLine,
}

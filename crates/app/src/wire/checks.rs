//! What follows from a stance: findings, each with its number, its limit and where that comes from, and every check under every load.

use super::compare::{NothingToCompare, StanceChoice, StanceRef};
use super::garage::SideView;
use super::result::SumLine;
use serde::{Deserialize, Serialize};

/// Asks what follows from a stance.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeChecks {
    /// The car.
    pub car: String,
    /// The stance; absent: the newest snapshot.
    #[serde(default)]
    pub stance: Option<StanceRef>,
    /// What is aboard, as the core names it: `two_up`; empty: the nominal load.
    #[serde(default)]
    pub load: String,
    /// Rules that are held against, as the core names them: `rim_line`.
    #[serde(default)]
    pub rules: Vec<String>,
}

/// What follows from a stance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ChecksView {
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
    /// What is said where nothing can be checked yet.
    pub nothing: Option<NothingToCompare>,
    /// The checks of the stance.
    pub checked: Option<CheckedView>,
}

/// The checks of one stance under one load.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckedView {
    /// Which stance.
    pub stance: StanceChoice,
    /// Day of a measured one, `YYYY-MM-DD`; empty for one that was not.
    pub date: String,
    /// "Yard, levelled"
    pub floor: String,
    /// True where it was not measured: predicted.
    pub predicted: bool,
    /// Name of the load it is checked under.
    pub load: String,
    /// Loads that can be chosen.
    pub loads: Vec<LoadChoice>,
    /// Rules that can be held against.
    pub rules: Vec<RuleChoice>,
    /// The result in one sentence.
    pub headline: String,
    /// The sentence under it.
    pub detail: String,
    /// "12 findings, 2 cautions"
    pub counted: String,
    /// Touches, cautions, can't tell, clears, plain numbers, nothing read: in that order.
    pub rows: Vec<CheckRow>,
    /// What to look after before driving, where something touches or is near it; sentences.
    pub cautions: Vec<String>,
    /// Every check under every load.
    pub table: CheckTable,
    /// The car from its left with its low points.
    pub scene: Option<CheckScene>,
    /// Everything as text, one sentence a line.
    pub text: Vec<String>,
}

/// A load that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadChoice {
    /// As it is asked for.
    pub load: String,
    /// "two up"
    pub words: String,
    /// What it adds, and where the number comes from.
    pub aboard: String,
    /// Why it cannot be chosen; empty where it can.
    pub missing: String,
}

/// A rule that can be held against.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct RuleChoice {
    /// As it is asked for.
    pub rule: String,
    /// "Rim line"
    pub words: String,
    /// What it says, and where.
    pub detail: String,
    /// Whether it is held against now.
    pub on: bool,
}

/// How a finding stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum CheckWord {
    /// Something touches.
    Touches,
    /// Outside of what a rule or a custom says.
    Caution,
    /// Nearer to its limit than its doubt.
    CantTell,
    /// Nothing touches.
    Clears,
    /// Inside what a rule or a custom says.
    Within,
    /// The same as in the newest snapshot.
    Same,
    /// A number without a limit.
    Number,
    /// Nobody measured it.
    NotRead,
}

/// One row of findings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckRow {
    /// The check it comes from: `clearance`.
    pub check: String,
    /// What was looked at: `exhaust`, `rim line`.
    pub what: String,
    /// How it stands.
    pub word: CheckWord,
    /// "Exhaust pipe low bend"
    pub subject: String,
    /// "Touches. The ground as the car's file has it"
    pub line: String,
    /// In `unit`; absent where nothing was read.
    pub value: Option<f64>,
    /// Standard uncertainty (k = 1), in `unit`.
    pub u: Option<f64>,
    /// `mm`, `deg`, `percent`, `rpm`.
    pub unit: String,
    /// What it is held against, in `unit`.
    pub limit: Option<f64>,
    /// Where the limit or the number comes from.
    pub source: String,
    /// "−8"
    pub number: String,
    /// "±4"
    pub band: String,
    /// "33 mm short", "113 mm spare"; may be empty.
    pub margin: String,
    /// "142": what it is now, under a stance that was not measured; empty else, and where nothing is known of now.
    pub now: String,
    /// For the person, whole.
    pub sentence: String,
    /// How a height comes about, whole mm that add up as printed; empty for others.
    pub sum: Vec<SumLine>,
    /// Where the ± of a height comes from, the largest first; empty for others.
    pub doubts: Vec<CheckDoubt>,
    /// What belongs together under this row: the other angles, the other tires; the worst first.
    pub parts: Vec<CheckPart>,
    /// A picture of it.
    pub picture: Option<CheckPicture>,
}

/// One source of the doubt of a height.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckDoubt {
    /// "Tape at the point"
    pub words: String,
    /// "one reading"
    pub detail: String,
    /// Two standard uncertainties, mm.
    pub band_mm: f64,
}

/// One of several findings of a row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckPart {
    /// How it stands.
    pub word: CheckWord,
    /// "Front left flat: exhaust"
    pub words: String,
    /// "94 ±4 mm"
    pub number: String,
}

/// Every check under every load.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckTable {
    /// One column a load, in words.
    pub loads: Vec<String>,
    /// One row a finding row of the nominal load.
    pub rows: Vec<CheckTableRow>,
}

/// A check under every load.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckTableRow {
    /// "Exhaust pipe low bend"
    pub subject: String,
    /// "mm"
    pub unit: String,
    /// "±4", of the load where it is largest; empty where no number has one.
    pub band: String,
    /// One for each load; number empty where it has none.
    pub cells: Vec<CheckCell>,
}

/// A check under one load.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckCell {
    /// "117"
    pub number: String,
    /// How it stands.
    pub word: CheckWord,
}

/// Pictures of a finding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(tag = "of", rename_all = "snake_case")]
pub enum CheckPicture {
    /// The car from its left.
    Side {
        /// What is drawn.
        scene: Box<CheckScene>,
    },
    /// A beam over its way.
    Beam {
        /// Centre of the lamp above level ground, mm.
        height_mm: f64,
        /// As it was aimed, percent.
        then_percent: f64,
        /// Now, percent.
        now_percent: f64,
        /// In words.
        text: String,
    },
    /// Lean of the kingpin seen from the left.
    Caster {
        /// As it was measured, deg.
        then_deg: f64,
        /// Now, deg.
        now_deg: f64,
        /// In words.
        text: String,
    },
}

/// The car from its left with what is low, to true scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CheckScene {
    /// The car at that stance and load.
    pub side: SideView,
    /// Low points.
    pub points: Vec<ScenePoint>,
    /// Rim line, strings.
    pub lines: Vec<SceneLine>,
    /// In words, with its numbers.
    pub text: String,
}

/// A low point in a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ScenePoint {
    /// Its name.
    pub words: String,
    /// Behind the front axle, mm.
    pub s_mm: f64,
    /// Above level ground, mm.
    pub z_mm: f64,
    /// "126"
    pub number: String,
    /// The lowest of all.
    pub lowest: bool,
    /// True where it goes with an axle.
    pub axle: bool,
}

/// A line in a picture, mm behind the front axle and above level ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SceneLine {
    /// "rim line"
    pub words: String,
    /// `[s, z]`
    pub from_mm: [f64; 2],
    /// `[s, z]`
    pub to_mm: [f64; 2],
}

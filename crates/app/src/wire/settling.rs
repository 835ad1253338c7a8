//! The Settling tab: what a car's heights have done since the work on its springs, drawn and in words.

use super::result::KindChoice;
use serde::{Deserialize, Serialize};
use trueground_core::stance::Figure;

/// Asks what the Settling tab shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeSettling {
    /// The car.
    pub car: String,
    /// Kind of point to show, `frame_rail`; empty: the one that was read on the most days.
    #[serde(default)]
    pub kind: String,
    /// Along what the settling is drawn.
    #[serde(default)]
    pub clock: SettlingClock,
    /// Which law.
    #[serde(default)]
    pub model: SettlingModel,
}

/// Along what the settling is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum SettlingClock {
    /// Days since the work.
    #[default]
    Days,
    /// Kilometres since the work, where they were booked.
    Kilometres,
}

/// Which law is laid through the heights.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum SettlingModel {
    /// The one that fits better.
    #[default]
    Best,
    /// Ever slower, to a rest.
    Exponential,
    /// Ever slower, without end.
    Logarithmic,
    /// Fast, then ever slower without end.
    Both,
}

/// Whether it has settled; the words on the screen are the sentences beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum SettlingWord {
    /// By the curve less than 2 mm is to come, and hardly more than 3 in two months.
    Settled,
    /// More is.
    StillSettling,
    /// The days do not tell yet.
    CantTell,
}

/// The Settling tab.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingView {
    /// The car.
    pub car: String,
    /// "3 May to 12 July"; empty where nothing was read.
    pub dates: String,
    /// The same with its year.
    pub dates_long: String,
    /// "Garage, levelled", "two floors"
    pub floor: String,
    /// "9 days"
    pub counted: String,
    /// Front and rear together.
    pub word: SettlingWord,
    /// "Settled since 17 June."
    pub headline: String,
    /// The sentence under it.
    pub detail: String,
    /// What is shown and from when it counts: "Fender lips. Day 0 is 3 May: rear leaves out."
    pub about: String,
    /// What it shows the points of, and what can be shown: code and words.
    pub kind: String,
    /// All that was read since day 0.
    pub kinds: Vec<KindChoice>,
    /// By what it is drawn.
    pub clock: SettlingClock,
    /// By what it can be.
    pub clocks: Vec<SettlingClock>,
    /// "days"
    pub clock_words: String,
    /// Day 0, `YYYY-MM-DD`; empty where nothing was read.
    pub day_0: String,
    /// Where the picture ends, in the unit of the clock; it begins at 0.
    pub until: f64,
    /// The last reading, in the unit of the clock.
    pub last: f64,
    /// Front and rear, where they were read.
    pub ends: Vec<SettlingEnd>,
    /// Work on the car since day 0, that of day 0 too.
    pub marks: Vec<SettlingMark>,
    /// Stretches on which the car was stored: they do not count.
    pub stored: Vec<SettlingStretch>,
    /// Where less than 2 mm was left at both ends; absent unless it has settled.
    pub settled: Option<SettlingMark>,
    /// "by 2 May 2032": the day of which the height at rest is told; empty where the curves end by themselves.
    pub rest_by: String,
    /// Which law the curve is, and which one comes next; empty where none is laid.
    pub law: String,
    /// The laws that can be asked for; empty where nothing was read.
    pub laws: Vec<SettlingLaw>,
    /// The one asked for.
    pub model: SettlingModel,
    /// Rake and lean since day 0.
    pub strips: Vec<SettlingStrip>,
    /// Every day since day 0, the last first.
    pub days: Vec<SettlingDay>,
    /// How the curve was found, what was left out and what it leans on; one sentence each.
    pub notes: Vec<String>,
    /// Why no curve is drawn at either end; empty where one is.
    pub no_curve: String,
    /// What to do next: "17 May, same marks. Align later."
    pub next: String,
    /// The day it speaks of, `YYYY-MM-DD`; empty where none is better than another.
    pub next_date: String,
    /// The picture in words.
    pub text: String,
}

/// A law that can be asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingLaw {
    /// What to ask for.
    pub model: SettlingModel,
    /// "Ever slower, to a rest"
    pub words: String,
    /// Its name, and how it fits each end: "Exponential. Front fits best, rear fits as well."
    pub detail: String,
}

/// Front or rear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingEnd {
    /// `front`, `rear`
    pub end: String,
    /// By itself.
    pub word: SettlingWord,
    /// Its heights in order.
    pub points: Vec<SettlingPoint>,
    /// The law, evenly from the first reading on; empty where none can be told yet.
    pub curve: Vec<SettlingCurve>,
    /// Height at rest.
    pub rest_mm: Option<Figure>,
    /// Still to come down after the last reading.
    pub remaining_mm: Option<Figure>,
}

/// One height.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingPoint {
    /// The snapshot it belongs to.
    pub snapshot: String,
    /// In the unit of the clock.
    pub at: f64,
    /// At the usual load and pressures; this is what counts.
    pub height_mm: f64,
    /// ±2u.
    pub band_mm: f64,
    /// As it stood that day, where load or pressures moved it by half a millimetre or more: drawn hollow.
    pub stood_mm: Option<f64>,
    /// Why, in a few words: "full tank"; empty where nothing did.
    pub cause: String,
    /// It takes part in the curve.
    pub counts: bool,
}

/// The law at one place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingCurve {
    /// In the unit of the clock.
    pub at: f64,
    /// The law.
    pub height_mm: f64,
    /// Its ±2u.
    pub band_mm: f64,
}

/// A place on the line of time, and what is there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingMark {
    /// In the unit of the clock.
    pub at: f64,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// "settled, 17 June", "1 Sept, torque check"
    pub words: String,
}

/// A stretch of time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingStretch {
    /// In the unit of the clock.
    pub from: f64,
    /// The end of the picture where it has not ended.
    pub to: f64,
}

/// Rake or lean over time, and whether it drifts once the car has settled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingStrip {
    /// `rake`, `lean`
    pub what: String,
    /// "Rake: rear lower than front, mm": what its numbers count.
    pub words: String,
    /// Since day 0, in order.
    pub points: Vec<SettlingStripPoint>,
    /// Rake as the laws of front and rear have it; empty where none can be told, and of lean.
    pub curve: Vec<SettlingCurve>,
    /// Every value with its day, and the work, in words.
    pub values: String,
    /// How it stood first and last, and whether that is a change.
    pub change: String,
    /// Whether it drifts.
    pub word: DriftWord,
    /// The same in a sentence, with the days that lie outside of their limits.
    pub drift: String,
    /// What is drawn, and how often a steady car is called drifting; empty without limits.
    pub legend: String,
}

/// Whether rake or lean drifts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum DriftWord {
    /// The last days lie where the first did.
    Steady,
    /// They do not.
    Drifting,
    /// Too few days since it has settled, or it has not.
    CantTell,
}

/// One rake or lean.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingStripPoint {
    /// The snapshot it belongs to.
    pub snapshot: String,
    /// In the unit of the clock.
    pub at: f64,
    /// mm.
    pub value_mm: f64,
    /// ±2u.
    pub band_mm: f64,
    /// Where it should lie, from the fifth day after settling on.
    pub limits: Option<SettlingLimits>,
}

/// Where a day and the fading mean of the last days should lie, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingLimits {
    /// A day below is out.
    pub lower_mm: f64,
    /// A day above is.
    pub upper_mm: f64,
    /// The fading mean.
    pub mean_mm: f64,
    /// Below it, it drifts.
    pub mean_lower_mm: f64,
    /// Above it, too.
    pub mean_upper_mm: f64,
    /// The day lies outside.
    pub is_out: bool,
}

/// A day in the list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SettlingDay {
    /// The snapshot.
    pub snapshot: String,
    /// "24 May"
    pub date: String,
    /// "day 21"
    pub at_words: String,
    /// What the person called it, where that says more.
    pub label: String,
    /// At the usual load and pressures.
    pub front_mm: Option<Figure>,
    /// The same behind.
    pub rear_mm: Option<Figure>,
    /// As it stood, where load or pressures moved it.
    pub stood_front_mm: Option<f64>,
    /// The same behind.
    pub stood_rear_mm: Option<f64>,
    /// "full tank"; empty on a day as usual.
    pub cause: String,
    /// "Fuel tank full instead of half, 22 kg: 7 mm lower at the rear, 1 mm higher at the front. Taken out."
    pub taken_out: String,
    /// "The front is 9 mm off the other days and left out of the curve."
    pub left_out: String,
}

//! A car's history: snapshots, work and notes, corrections, levellings on one line of time, and the form of an event.

use super::condition::LastTime;
use super::photo::PhotoView;
use super::walk::SnapshotForm;
use serde::{Deserialize, Serialize};
use trueground_core::capture::EventEnd;

/// Asks for a stretch of a car's history.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct OpenHistory {
    /// The car.
    pub car: String,
    /// Only these parts; empty: all.
    pub only: Vec<HistoryPart>,
    /// How many entries are shown already, from the newest on.
    pub after: usize,
}

/// What an entry of the history is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum HistoryPart {
    /// A snapshot, with its photos.
    Snapshot,
    /// Work on the car.
    Work,
    /// A note.
    Note,
    /// A correction of a finished snapshot.
    Correction,
    /// A floor that was levelled.
    Levelling,
    /// A target that was kept.
    Target,
}

/// A stretch of a car's history, newest first.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct HistoryView {
    /// The car.
    pub car: String,
    /// What the person calls it.
    pub label: String,
    /// The entries of this stretch.
    pub entries: Vec<HistoryEntry>,
    /// How many entries there are of the parts that were asked for.
    pub total: usize,
    /// Parts that occur, for choosing among them.
    pub parts: Vec<PartCount>,
    /// Kinds of work that can be entered.
    pub kinds: Vec<EventChoice>,
    /// An empty form of an event, with today's date.
    pub blank: EventForm,
    /// The snapshot nearest to a year ago, where there is one within a quarter of a year of it.
    pub last_year: Option<LastYear>,
}

/// A part of the history that occurs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PartCount {
    /// The part.
    pub part: HistoryPart,
    /// "Snapshots"
    pub words: String,
    /// How many.
    pub count: usize,
}

/// One entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct HistoryEntry {
    /// Its own name in this history.
    pub id: String,
    /// What it is.
    pub part: HistoryPart,
    /// "May 2031": entries of one month stand under it.
    pub month: String,
    /// "3 May 2031"
    pub day: String,
    /// Which mark stands on the line of time.
    pub mark: HistoryMark,
    /// First line.
    pub title: String,
    /// What follows, each a sentence or a row of words.
    pub lines: Vec<String>,
    /// No longer counts: it is shown struck through.
    pub withdrawn: bool,
    /// The snapshot it is, or is about.
    pub snapshot: Option<String>,
    /// The floor it is about.
    pub floor: Option<String>,
    /// Work and notes: the form to change them and what happened to the entry.
    pub event: Option<EventView>,
    /// Photos of a snapshot.
    pub photos: Vec<PhotoView>,
    /// A finished snapshot on its wheels can be measured like again.
    pub again: bool,
    /// Of a snapshot: what changed since the one before it.
    pub step: Option<HistoryStep>,
    /// All of it in sentences, for whoever reads it as text.
    pub words: String,
}

/// A mark on the line of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum HistoryMark {
    /// Measured at the usual load.
    Measured,
    /// Measured with another load or other pressures.
    OtherLoad,
    /// A mock-up, or unfinished: no ride height.
    NoHeight,
    /// Work from which springs settle anew.
    SettlesAnew,
    /// Other work.
    Work,
    /// Words only.
    Words,
    /// A level line.
    Level,
    /// A target.
    Target,
}

/// What changed between a snapshot and the one before it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct HistoryStep {
    /// "7 days after 3 May 2031"
    pub since: String,
    /// Why nothing can be compared; the figures are empty then.
    pub why: Option<String>,
    /// Front, rear and rake, or single corners.
    pub figures: Vec<StepFigure>,
    /// What was not alike, whole sentences.
    pub unequal: Vec<String>,
}

/// One number of a step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StepFigure {
    /// "Front"
    pub words: String,
    /// "8 mm", "0.3°": without a sign.
    pub size: String,
    /// "±2"
    pub band: String,
    /// "lower", "more nose-down"; empty where it is nothing.
    pub way: String,
    /// `changed`, `same`, `cant_tell`.
    pub verdict: String,
}

/// The snapshot nearest to a year ago.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LastYear {
    /// It.
    pub snapshot: String,
    /// "26 Aug 2031, 364 days ago"
    pub words: String,
}

/// A kind of work that can be entered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct EventChoice {
    /// Its code.
    pub kind: String,
    /// "Leaves out"
    pub words: String,
    /// "Springs"
    pub group: String,
    /// True where springs start settling anew unless the person says otherwise.
    pub resets_settling: bool,
    /// True where front and rear can be told apart.
    pub ends: bool,
    /// True where it moves heights, so that whether springs settle anew is asked.
    pub moves: bool,
    /// What such work does to heights, one sentence.
    pub effect: String,
    /// What can hurt, one or two sentences; empty where nothing can.
    pub caution: String,
}

/// An event as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct EventForm {
    /// The car.
    pub car: String,
    /// The event that is changed; absent: a new one.
    pub event: Option<String>,
    /// Code of its kind; empty: not chosen yet.
    pub kind: String,
    /// At which end.
    pub end: Option<EventEnd>,
    /// The day.
    pub date: String,
    /// Kilometres on the clock; may be empty.
    pub odometer: String,
    /// In a few words; empty: the kind's own.
    pub what: String,
    /// Whatever else.
    pub note: String,
    /// Whether springs start settling anew; absent: as the kind does.
    pub resets_settling: Option<bool>,
}

/// Keeps an event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct KeepEvent {
    /// As typed.
    pub form: EventForm,
    /// The same request is kept once.
    pub request_id: String,
}

/// An event that is withdrawn or brought back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct EventRef {
    /// The car.
    pub car: String,
    /// Its id.
    pub event: String,
    /// The same request is kept once.
    pub request_id: String,
}

/// Work or a note in the history.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct EventView {
    /// Its id.
    pub event: String,
    /// The form that would write it, to change it.
    pub form: EventForm,
    /// What it does to heights, one sentence.
    pub effect: String,
    /// What happened to the entry: "changed 4 May 2031, 18:20: two leaves out → one leaf out"; empty where nothing did.
    pub changes: Vec<String>,
    /// True where the last thing that happened can be undone: it was withdrawn or changed.
    pub can_undo: bool,
}

/// Asks for the begin form as an earlier snapshot was.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct MeasureAgain {
    /// The car.
    pub car: String,
    /// The snapshot; absent: the one nearest to a year ago.
    pub snapshot: Option<String>,
}

/// The begin form as an earlier snapshot was; nothing in it is claimed that is not confirmed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AgainView {
    /// The snapshot.
    pub snapshot: String,
    /// Its form.
    pub form: SnapshotForm,
    /// Its condition, line by line, for "same as then?".
    pub then: LastTime,
    /// "26 Aug 2031, 364 days ago"
    pub words: String,
    /// What changed on the car, its marks, tires and floor since, whole sentences.
    pub since: Vec<String>,
}

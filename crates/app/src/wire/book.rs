//! The book of a finished snapshot: every reading and condition, what was corrected, and the correcting.

use super::condition::LoadForm;
use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::corner::Corners;

/// A finished snapshot as it stands in the book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookView {
    /// The snapshot.
    pub snapshot: String,
    /// The car.
    pub car: String,
    /// What the person calls the car.
    pub car_label: String,
    /// What the snapshot is called.
    pub label: String,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// The tape its readings are typed with.
    pub tape: TapeUnit,
    /// "16 readings, 2 corrections."
    pub state: String,
    /// Every reading, in the order of entry; those that were missed at the end.
    pub readings: Vec<BookReading>,
    /// How it stood, in words.
    pub conditions: Vec<BookCondition>,
    /// What was corrected, oldest first.
    pub corrections: Vec<BookCorrection>,
    /// Where a reading can be added that was missed.
    pub places: Vec<BookPlace>,
    /// Bounces it has.
    pub bounces: u32,
    /// Floors it may have stood on.
    pub floors: Vec<BookChoice>,
    /// Tapes of one’s own it may have been read with.
    pub tapes: Vec<BookChoice>,
}

/// A reading in the book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookReading {
    /// Id.
    pub reading: String,
    /// "front left, fender lip"
    pub words: String,
    /// Which bounce, from 1; 0 for one from a level plane.
    pub bounce: u32,
    /// Which round, from 1.
    pub round: u32,
    /// As it counts, as printed: "23 5/8", "2.7°".
    pub printed: String,
    /// As typed, so that it can be typed over.
    pub text: String,
    /// Unit of the text, `mm`, `cm`, `in` or `deg`.
    pub unit: String,
    /// True where it counts.
    pub counts: bool,
    /// Why it was struck; empty where it was not, or nobody said.
    pub struck: String,
    /// True for one that was added after the snapshot was finished.
    pub added: bool,
    /// "corrected 3 May 2031: 24 5/8 → 23 5/8, wrong edge", oldest first.
    pub corrected: Vec<String>,
}

/// One condition of the snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookCondition {
    /// `floor`, `facing`, `tire_pressure_kpa`, `odometer_km`, `date`, `label`
    pub field: String,
    /// "Odometer"
    pub name: String,
    /// In words.
    pub words: String,
    /// As a field would hold it: a text, a floor's name, `A` or `B`.
    pub typed: String,
    /// Of pressures: the four as typed fields.
    pub pressures: Option<Corners<String>>,
    /// Of the load: its form.
    pub load: Option<LoadForm>,
    /// As [`BookReading::corrected`].
    pub corrected: Vec<String>,
}

/// A correction in words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookCorrection {
    /// Id.
    pub correction: String,
    /// "3 May 2031"
    pub day: String,
    /// Time of day, `10:00`.
    pub clock: String,
    /// "Front left, fender lip, bounce 1, round 1"
    pub what: String,
    /// "24 5/8 → 23 5/8"
    pub change: String,
    /// "wrong edge"
    pub reason: String,
    /// True where a later one took it back.
    pub taken_back: bool,
}

/// A place where a reading can be added.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookPlace {
    /// `lip.FL`, `hub.FL`
    #[serde(rename = "ref")]
    pub point: String,
    /// "front left, fender lip"
    pub words: String,
}

/// A floor the car may have stood on, a tape it may have been read with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BookChoice {
    /// Its name in the book.
    pub name: String,
    /// "Drive, levelled", "the long tape"
    pub words: String,
}

/// What happens to a reading of a finished snapshot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum ReadingChange {
    /// Another value.
    Value,
    /// Struck.
    Strike,
    /// A struck one counts again.
    BringBack,
}

/// Corrects a reading of a finished snapshot; what it corrects is kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CorrectReading {
    /// The snapshot.
    pub snapshot: String,
    /// The reading.
    pub reading: String,
    /// What happens to it.
    pub change: ReadingChange,
    /// The new value as typed, a bare number in the reading's own unit; empty unless another value.
    #[serde(default)]
    pub text: String,
    /// Why.
    pub reason: String,
    /// A number of the request made by the shell, so that a repeated request is stored once.
    pub request_id: String,
}

/// Adds a reading that was missed, from a note, to a finished snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct AddMissedReading {
    /// The snapshot.
    pub snapshot: String,
    /// One of [`BookView::places`].
    #[serde(rename = "ref")]
    pub point: String,
    /// Which bounce, from 1.
    pub bounce: u32,
    /// As typed, a bare number in the unit of the snapshot's tape.
    pub text: String,
    /// The day it was read, as typed.
    pub date: String,
    /// The time of day, as typed.
    pub time: String,
    /// Why it is added now.
    pub reason: String,
    /// As [`CorrectReading::request_id`].
    pub request_id: String,
}

/// Corrects a condition of a finished snapshot; what it corrects is kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct CorrectCondition {
    /// The snapshot.
    pub snapshot: String,
    /// [`BookCondition::field`].
    pub field: String,
    /// As typed; of the floor its name, empty for somewhere that is not levelled; of the facing `A` or `B`.
    #[serde(default)]
    pub text: String,
    /// Of pressures: all four as typed, or all four empty.
    #[serde(default)]
    pub pressures: Option<Corners<String>>,
    /// Of the load: its form as typed.
    #[serde(default)]
    pub load: Option<LoadForm>,
    /// Why.
    pub reason: String,
    /// As [`CorrectReading::request_id`].
    pub request_id: String,
}

/// Takes an earlier correction back, or one that took another back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct TakeBackCorrection {
    /// The snapshot.
    pub snapshot: String,
    /// The correction.
    pub correction: String,
    /// Why.
    pub reason: String,
    /// As [`CorrectReading::request_id`].
    pub request_id: String,
}

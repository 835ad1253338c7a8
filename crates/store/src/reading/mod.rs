//! The tables `reading` and `mark`: what was read, for ever as it was typed, and what was taken back, put back or struck.

mod event;
mod row;
mod take;

pub use event::{Event, events};
pub(crate) use row::{insert, of};

use crate::Stamp;
use serde_json::{Map, Value};
use uuid::Uuid;

/// What was read with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// Tape, height above the floor, mm.
    Tape,
    /// Angle gauge on the car, degrees.
    Gauge,
    /// From a level plane to a point of the car, mm.
    Plane,
    /// From a level plane down to the floor, mm.
    Staff,
    /// Angle gauge on a straightedge over two spots of the floor, degrees.
    Straightedge,
}

impl ReadingKind {
    const fn code(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Gauge => "gauge",
            Self::Plane => "plane",
            Self::Staff => "staff",
            Self::Straightedge => "straightedge",
        }
    }

    fn from_code(code: &str) -> Option<Self> {
        let all = [Self::Tape, Self::Gauge, Self::Plane, Self::Staff, Self::Straightedge];
        all.into_iter().find(|kind| kind.code() == code)
    }
}

/// Row of the snapshot or floor that a reading belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parent {
    /// A snapshot.
    Snapshot(i64),
    /// A floor.
    Floor(i64),
}

/// A reading to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct NewReading {
    /// Fresh id.
    pub id: Uuid,
    /// What with.
    pub kind: ReadingKind,
    /// The bounce's name; empty on a floor.
    pub bounce: String,
    /// The pass or set-up, 1, 2, …; 0 for tape and gauge.
    pub pass_no: u32,
    /// Point, rail or spot; of a straightedge its two spots, `S1/S2`.
    pub place: String,
    /// Which round, 1, 2, …
    pub round: u32,
    /// Gauge turned end for end.
    pub reversed: bool,
    /// As typed.
    pub text: String,
    /// Unit of the text.
    pub unit: String,
    /// mm or degrees.
    pub value: f64,
    /// What else is to be said about it in the exchange file.
    pub extra: Map<String, Value>,
    /// Number of the request that brought it; the same number is stored once.
    pub request: Option<String>,
}

/// A kept reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub(crate) row: i64,
    /// As it was taken.
    pub taken: NewReading,
    /// When, where it was taken here and not read from a file.
    pub at: Option<Stamp>,
    /// Whether it counts.
    pub standing: Standing,
    /// Row of its last mark, 0 where it has none: larger is later.
    pub marked: i64,
    /// True where nothing was taken since its last mark.
    pub marked_last: bool,
    /// Everything that happened to it since, in the order it happened.
    pub marks: Vec<Marked>,
}

/// One thing that happened to a kept reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    pub(crate) row: i64,
    pub(crate) after_reading: i64,
    /// What.
    pub what: Mark,
    /// The person's words; empty where none were asked.
    pub reason: String,
    /// When.
    pub at: Stamp,
}

/// Whether a reading counts.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// It counts.
    Kept,
    /// Undone; it can be put back until another is taken.
    TakenBack {
        /// When.
        at: Stamp,
    },
    /// Struck with a reason, here or in the file it came from.
    Struck {
        /// The person's words.
        reason: String,
        /// When, local time.
        at: Option<String>,
    },
}

impl Reading {
    /// True where it counts.
    pub fn counts(&self) -> bool {
        self.standing == Standing::Kept
    }

    /// True where it was taken back and nothing was taken since.
    pub fn can_put_back(&self) -> bool {
        self.marked_last && matches!(self.standing, Standing::TakenBack { .. })
    }

    /// The one that putting back would bring again: the one taken back last.
    pub fn to_put_back(readings: &[Self]) -> Option<&Self> {
        readings.iter().filter(|reading| reading.can_put_back()).max_by_key(|reading| reading.marked)
    }
}

/// What happens to a kept reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Undo.
    TakenBack,
    /// Undo of the undo, or a struck one counts again.
    PutBack,
    /// Struck.
    Struck,
}

impl Mark {
    const fn code(self) -> &'static str {
        match self {
            Self::TakenBack => "taken_back",
            Self::PutBack => "put_back",
            Self::Struck => "struck",
        }
    }
}

/// What became of a reading that was handed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It is on the disk now.
    Now,
    /// It was already there: the same request came before.
    Before,
}

//! What can stand on the line of time.

use trueground_core::capture::EventKind;
use trueground_store::EventRecord;
use uuid::Uuid;

/// One thing on the line of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Item {
    /// Its day, `YYYY-MM-DD`.
    pub(super) date: String,
    pub(super) what: What,
}

/// Which thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A snapshot, by its name.
    Snapshot(String),
    /// Work or a note, by its place in the list.
    Event(usize),
    /// A correction of a snapshot, by its place there.
    Correction { snapshot: String, place: usize },
    /// A target, by its place in the car's file.
    Target(usize),
    /// Readings of a floor on this day.
    Levelling { floor: Uuid, name: String, readings: usize },
}

/// True for a note; work that is said in words only is work.
pub(super) fn is_note(record: &EventRecord) -> bool {
    record.event.known_kind() == Some(EventKind::Note)
}

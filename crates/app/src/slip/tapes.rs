//! What the tapes say too much, so that readings with two of them can be held against each other.

use crate::wire::Problem;
use crate::{Garage, instrument_page};
use std::collections::BTreeMap;
use trueground_core::capture::OwnedInstrument;
use trueground_store::{Reading, ReadingKind, SnapshotRecord};
use uuid::Uuid;

/// What is known to be too much in the readings of one snapshot, mm, by the tape each was taken with.
#[derive(Clone, Debug, Default)]
pub(crate) struct TooMuch {
    own: Option<String>,
    mm: BTreeMap<String, f64>,
}

impl TooMuch {
    /// # Errors
    /// A tape cannot be read from the garage.
    pub(crate) fn of(garage: &Garage, snapshot: &SnapshotRecord) -> Result<Self, Problem> {
        let own = snapshot.document["tape"].as_str().map(str::to_owned);
        let named = snapshot.readings.iter().filter_map(named).chain(own.as_deref());
        let mut mm = BTreeMap::new();
        for id in named {
            if !mm.contains_key(id) {
                mm.insert(id.to_owned(), too_much(garage, snapshot.car, id)?);
            }
        }
        Ok(Self { own, mm })
    }

    /// What this reading says too much, mm; 0 for what no tape read, or one that nothing is known of.
    pub(crate) fn in_reading(&self, reading: &Reading) -> f64 {
        let tape = named(reading).or(self.own.as_deref()).filter(|_| reading.taken.kind == ReadingKind::Tape);
        tape.and_then(|id| self.mm.get(id)).copied().unwrap_or_default()
    }
}

/// The tape of one's own that a reading names.
fn named(reading: &Reading) -> Option<&str> {
    reading.taken.extra.get("instrument")?.as_str()
}

/// The mark that is held in place of the end, and what the newest check or the hook adds to it.
fn too_much(garage: &Garage, car: Uuid, id: &str) -> Result<f64, Problem> {
    Ok(match instrument_page::known(garage, car, id)? {
        Some(OwnedInstrument::Tape(tape)) => match (tape.newest_check(), &tape.hook_mm) {
            (Some(check), _) => check.read_mm - check.true_mm,
            (None, Some(hook)) if tape.read_from_mm == 0.0 => hook.value,
            (None, _) => tape.read_from_mm,
        },
        _ => 0.0,
    })
}

//! The open garage: the store, and results worked out since it was opened.

use crate::now::Now;
use crate::settled::SettledCar;
use crate::solved::SolvedCar;
use crate::wire::{Problem, Settings, TapeUnit, Theme};
use std::path::Path;
use std::sync::Arc;
use trueground_store::{Store, Tending};
use uuid::Uuid;

/// Everything a verb works on.
#[derive(Debug)]
pub struct Garage {
    pub(crate) store: Store,
    pub(crate) notices: Vec<String>,
    /// The car worked out last; its version tells whether it still stands.
    pub(crate) solved: Option<Arc<SolvedCar>>,
    /// The settling worked out last.
    pub(crate) settled: Option<Arc<SettledCar>>,
    tending: Option<Tending>,
    /// Cars whose row could not be worked out again.
    left_stale: Vec<Uuid>,
}

/// What looking after the garage found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tended {
    /// What is damaged, whole sentences.
    pub damaged: Vec<String>,
    /// True where a copy was written.
    pub backed_up: bool,
}

impl Garage {
    /// Opens the garage in this file, or makes it. A damaged one is set aside and the last sound copy opened; the garage's
    /// notices then say so.
    ///
    /// # Errors
    /// Open elsewhere, newer than this program, not a garage, or refused by the disk.
    pub fn open(path: &Path, now: &Now<'_>) -> Result<Self, Problem> {
        let opened = Store::open_or_recover(path, now.stamp())?;
        Ok(Self::of(opened.store, opened.notices))
    }

    /// A garage that is gone when it is closed.
    ///
    /// # Errors
    /// Only if the database cannot be had at all.
    pub fn in_memory() -> Result<Self, Problem> {
        Ok(Self::of(Store::in_memory()?, Vec::new()))
    }

    fn of(store: Store, notices: Vec<String>) -> Self {
        Self { store, notices, solved: None, settled: None, tending: None, left_stale: Vec::new() }
    }

    /// Checks the file, writes a copy where it is sound, and works out again what the list of cars shows where that is out
    /// of date. To be called after the first picture is on the screen, never before.
    ///
    /// # Errors
    /// If the file cannot be read, or the copy cannot be written.
    pub fn tend(&mut self, now: &Now<'_>) -> Result<Tended, Problem> {
        while self.tend_a_little(now)? {}
        let tending = self.tending.take().unwrap_or_default();
        Ok(Tended { damaged: tending.damaged, backed_up: tending.backed_up })
    }

    /// Says once that something is damaged, or not what it should be, and was set aside.
    pub(crate) fn set_aside(&mut self, whose: &str, what: &str) {
        let says = format!(": {what} is damaged and was set aside.");
        if !self.notices.iter().any(|notice| notice.ends_with(&says)) {
            self.notices.push(format!("{whose}{says}"));
        }
    }

    /// The next piece of [`Garage::tend`], some hundredths of a second long, so that a reading never waits for the whole of it;
    /// false once all is done.
    ///
    /// # Errors
    /// As [`Garage::tend`].
    pub fn tend_a_little(&mut self, _now: &Now<'_>) -> Result<bool, Problem> {
        let mut tending = self.tending.take().unwrap_or_default();
        let more = self.store.tend_a_little(&mut tending);
        for damage in &tending.damaged {
            if !self.notices.contains(damage) {
                self.notices.push(damage.clone());
            }
        }
        self.tending = Some(tending);
        if more? {
            return Ok(true);
        }
        let stale = self
            .store
            .cars()?
            .into_iter()
            .find(|head| crate::garage_row::is_stale(head) && !self.left_stale.contains(&head.id));
        let Some(stale) = stale else { return Ok(false) };
        // A car that cannot be worked out is listed without its numbers; opening it says why.
        if crate::garage_row::keep(self, stale.id).is_err() {
            self.left_stale.push(stale.id);
        }
        Ok(true)
    }

    /// How the app is set.
    pub(crate) fn settings(&self) -> Result<Settings, Problem> {
        let kept = self.store.setting("app")?.and_then(|text| serde_json::from_str(&text).ok());
        Ok(kept.unwrap_or(Settings {
            tape: TapeUnit::In,
            display: TapeUnit::Mm,
            theme: Theme::System,
            left_hand: false,
            read_back: false,
        }))
    }

    pub(crate) fn find(&self, what: &'static str, text: &str) -> Result<Uuid, Problem> {
        crate::problems::id(what, text)
    }
}

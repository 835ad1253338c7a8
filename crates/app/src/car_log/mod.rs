//! A car's history on one line of time: snapshots, work and notes, corrections and levellings, newest first, a stretch at a time.

mod arrange;
mod item;
mod step;
mod write;

use crate::solved::{self, SolvedCar};
use crate::wire::{HistoryPart, HistoryView, LastYear, PartCount, Problem};
use crate::{Garage, Now, again, event};
use item::{Item, What};
use std::sync::Arc;
use trueground_store::EventRecord;
use uuid::Uuid;

/// Entries of one stretch: more than two screens of the largest window.
const STRETCH: usize = 40;

/// What the entries of a car are written from.
struct Log {
    solved: Arc<SolvedCar>,
    /// Withdrawn ones too.
    events: Vec<EventRecord>,
    /// Id, name and whether it is finished, in the order of entry.
    snapshots: Vec<(Uuid, String, bool)>,
    /// All of it, oldest first.
    items: Vec<Item>,
}

/// The newest stretch of everything.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn first(garage: &mut Garage, car: Uuid, now: &Now<'_>) -> Result<HistoryView, Problem> {
    page(garage, car, &[], 0, now)
}

/// A stretch of the parts that are asked for (all where none is), from the entry after so many on.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn page(
    garage: &mut Garage,
    car: Uuid,
    only: &[HistoryPart],
    after: usize,
    now: &Now<'_>,
) -> Result<HistoryView, Problem> {
    let mut log = Log::of(garage, car)?;
    let asked = |item: &&Item| only.is_empty() || only.contains(&log.part(item));
    let shown: Vec<Item> = log.items.iter().rev().filter(asked).cloned().collect();
    let stretch: Vec<Item> = shown.iter().skip(after).take(STRETCH).cloned().collect();
    log.solve(garage, car, &stretch)?;
    let entries = stretch.iter().map(|item| write::entry(garage, &log, item)).collect::<Result<Vec<_>, Problem>>()?;
    let last_year = match again::a_year_ago(garage, &log.solved, now)? {
        Some(id) => log
            .snapshot_of(id)
            .map(|snapshot| LastYear { snapshot: id.to_string(), words: again::ago(&snapshot.date, now) }),
        None => None,
    };
    Ok(HistoryView {
        car: car.to_string(),
        label: log.solved.file.vehicle.label.clone(),
        entries,
        total: shown.len(),
        parts: log.parts(),
        kinds: event::choices(),
        blank: event::blank(&car.to_string(), now),
        last_year,
    })
}

impl Log {
    fn of(garage: &mut Garage, car: Uuid) -> Result<Self, Problem> {
        let solved = solved::car(garage, car, None)?;
        let (events, damaged) = garage.store.car_events(car)?;
        for what in damaged {
            garage.set_aside(&solved.file.vehicle.label, &what);
        }
        let snapshots = garage.store.snapshots(car)?;
        let items = arrange::in_time(garage, &solved.file, &events, car)?;
        Ok(Self { solved, events, snapshots, items })
    }

    /// Works the car out round this stretch, where it is not worked out there already.
    fn solve(&mut self, garage: &mut Garage, car: Uuid, stretch: &[Item]) -> Result<(), Problem> {
        let names: Vec<String> = stretch
            .iter()
            .filter_map(|item| match &item.what {
                What::Snapshot(name) => Some(name.clone()),
                _ => None,
            })
            .filter(|name| self.finished(name))
            .collect();
        let base = names.last().and_then(|name| step::base(self, name)).map(|base| base.id.clone());
        let missing = names.iter().chain(&base).any(|name| self.solved.stance(name).is_none());
        if missing
            && self.solved.solution.is_ok()
            && let Some(middle) = names.get(names.len() / 2)
        {
            garage.solved = None;
            self.solved = solved::car(garage, car, Some(middle))?;
        }
        Ok(())
    }

    fn finished(&self, name: &str) -> bool {
        self.snapshots.iter().any(|(_, known, finished)| known == name && *finished)
    }

    fn id(&self, name: &str) -> Option<Uuid> {
        self.snapshots.iter().find(|(_, known, _)| known == name).map(|(id, ..)| *id)
    }

    fn snapshot_of(&self, id: Uuid) -> Option<&trueground_core::capture::Snapshot> {
        let (_, name, _) = self.snapshots.iter().find(|(known, ..)| *known == id)?;
        self.solved.snapshot(name)
    }

    fn part(&self, item: &Item) -> HistoryPart {
        match &item.what {
            What::Snapshot(_) => HistoryPart::Snapshot,
            What::Event(place) if item::is_note(&self.events[*place]) => HistoryPart::Note,
            What::Event(_) => HistoryPart::Work,
            What::Correction { .. } => HistoryPart::Correction,
            What::Levelling { .. } => HistoryPart::Levelling,
            What::Target(_) => HistoryPart::Target,
        }
    }

    /// Parts that occur, in the order they are offered.
    fn parts(&self) -> Vec<PartCount> {
        let words = [
            (HistoryPart::Snapshot, "Snapshots"),
            (HistoryPart::Work, "Work"),
            (HistoryPart::Note, "Notes"),
            (HistoryPart::Correction, "Corrections"),
            (HistoryPart::Levelling, "Levellings"),
            (HistoryPart::Target, "Targets"),
        ];
        let counted = words.into_iter().map(|(part, words)| PartCount {
            part,
            words: words.to_owned(),
            count: self.items.iter().filter(|item| self.part(item) == part).count(),
        });
        counted.filter(|part| part.count > 0).collect()
    }
}

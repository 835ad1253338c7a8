//! A snapshot in a list, and the one sentence about it.

use crate::Garage;
use crate::floor_page::with_state;
use crate::history::History;
use crate::plan::Plan;
use crate::side::shown_kinds;
use crate::solved::SolvedCar;
use crate::step::Step;
use crate::steps::steps;
use crate::verdicts::even;
use crate::wire::{Problem, SnapshotRow};
use crate::words::{capital, facing, known, rake};
use trueground_core::capture::{ConditionPart, Snapshot, Standing as StandsOn};
use trueground_core::car::Vehicle;
use trueground_core::stance::SnapshotStance;
use trueground_store::{SnapshotRecord, Stamp, Standing};
use uuid::Uuid;

/// What a mock-up is called wherever it stands.
pub(crate) const MOCK_UP: &str = "Mock-up on rated stands, not a ride height";

/// The row of a finished or unfinished snapshot; `unfinished` is the state of the latter.
pub(crate) fn row(solved: &SolvedCar, id: Uuid, snapshot: &Snapshot, unfinished: Option<String>) -> SnapshotRow {
    let floor = snapshot.floor.as_ref().and_then(|name| solved.file.floors.iter().find(|floor| floor.id == *name));
    SnapshotRow {
        snapshot: id.to_string(),
        label: label(snapshot),
        date: snapshot.date.clone(),
        floor: with_state(floor),
        facing: facing(snapshot).to_owned(),
        load: load_words(&solved.file.vehicle, snapshot),
        mock_up: !snapshot.on_wheels(),
        finished: unfinished.is_none(),
        state: match unfinished {
            Some(state) if !snapshot.on_wheels() => format!("{state} {MOCK_UP}."),
            Some(state) => state,
            None if !snapshot.on_wheels() => format!("{MOCK_UP}."),
            None => solved.stance(&snapshot.id).map_or("Finished.".to_owned(), result_in_a_sentence),
        },
    }
}

/// "Nose-down 2.0°, even side to side."
pub(crate) fn result_in_a_sentence(stance: &SnapshotStance) -> String {
    let Some(line) = shown_kinds(stance).first().and_then(|kind| stance.lines.get(kind.code())) else {
        return "Read, but not at all four corners.".to_owned();
    };
    let attitude = known(&line.rake_deg).map_or("rake can\u{2019}t be told".to_owned(), |(deg, _)| rake(deg));
    let sides = match even(line).word.as_str() {
        "even" => "even side to side",
        "uneven" => "uneven side to side",
        _ => "can\u{2019}t tell side to side",
    };
    format!("{}, {sides}.", capital(&attitude))
}

/// "12 of 16 read, 1 skipped, 14:32."
pub(crate) fn progress(snapshot: &SnapshotRecord, vehicle: &Vehicle) -> String {
    let plan = Plan::of(snapshot, vehicle);
    let steps = steps(snapshot, &plan, vehicle);
    let read = |step: &Step| snapshot.readings.iter().any(|taken| taken.counts() && step.reads(taken));
    let (done, left): (Vec<_>, Vec<_>) = steps.iter().partition(|step| read(step));
    let history = History::of(&snapshot.readings, &plan.skips, &steps);
    let mut words = format!("{} of {} read", done.len(), steps.len());
    match left.iter().filter(|step| history.skipped.contains(&step.key())).count() {
        0 => {}
        skipped => words += &format!(", {skipped} skipped"),
    }
    match last_touch(snapshot) {
        Some(at) => format!("{words}, {}.", at.clock()),
        None => format!("{words}."),
    }
}

/// When something was last entered.
fn last_touch(snapshot: &SnapshotRecord) -> Option<Stamp> {
    let draft = snapshot.draft.as_ref().map(|draft| draft.at);
    let reading = snapshot.readings.last().and_then(|reading| match &reading.standing {
        Standing::TakenBack { at } => Some(*at),
        _ => reading.at,
    });
    draft.or(reading)
}

/// What a snapshot is called.
pub(crate) fn label(snapshot: &Snapshot) -> String {
    if snapshot.label.trim().is_empty() { crate::words::day(&snapshot.date) } else { snapshot.label.clone() }
}

/// The newest snapshot that was read on its wheels, finished or (if asked for) any; a damaged one is passed over.
pub(crate) fn last_on_wheels(
    garage: &Garage,
    listed: &[(Uuid, String, bool)],
    finished: bool,
) -> Option<SnapshotRecord> {
    let asked = listed.iter().rev().filter(|(.., done)| *done || !finished);
    let mut records = asked.filter_map(|(id, ..)| garage.store.snapshot(*id).ok());
    records.find(|record| record.document["standing"] != StandsOn::MockUp.code())
}

/// Load in words.
pub(crate) fn load_words(vehicle: &Vehicle, snapshot: &Snapshot) -> String {
    if !snapshot.on_wheels() {
        return "mock-up on rated stands".to_owned();
    }
    if !snapshot.says(ConditionPart::Load) && snapshot.load_change_from_nominal.is_empty() {
        return "load not said".to_owned();
    }
    let changes: Vec<&str> = snapshot
        .load_change_from_nominal
        .iter()
        .map(|change| change.label.as_str())
        .filter(|label| !label.trim().is_empty())
        .collect();
    match (changes.is_empty(), snapshot.load_change_from_nominal.is_empty(), &vehicle.nominal_load) {
        (false, ..) => changes.join(", "),
        (true, false, _) => "not the usual load".to_owned(),
        (true, true, Some(nominal)) => nominal.clone(),
        (true, true, None) => "load not named".to_owned(),
    }
}

/// The snapshot of a record, typed.
///
/// # Errors
/// The document is damaged.
pub(crate) fn typed(record: &SnapshotRecord) -> Result<Snapshot, Problem> {
    crate::floor_page::typed(record.document.clone())
}

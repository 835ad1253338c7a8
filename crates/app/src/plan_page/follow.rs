//! What is left to do after work: the list that it makes, ticked or open, and the day on which to measure again.

use crate::wire::{FollowUp, NextDue, TaskRow, TickTask};
use crate::words::{capital, day};
use crate::{Garage, Now};
use trueground_core::capture::{CarFile, EventEnd, EventKind, days_between};
use trueground_core::plan::{KeptPlan, Kind, Step, Tick, next_due, tasks};
use uuid::Uuid;

/// Older lists are no longer shown, days.
const SHOWN_DAYS: i64 = 400;

/// Work after which something is open or due, the newest first.
pub(super) fn follow_up(
    garage: &Garage,
    car: Uuid,
    file: &CarFile,
    now: &Now<'_>,
) -> Result<Vec<FollowUp>, crate::wire::Problem> {
    let (events, _) = garage.store.car_events(car)?;
    let today = now.stamp().date();
    let solved = garage.solved.as_ref().filter(|solved| solved.car == car);
    let measured: Vec<&str> = solved.map_or_else(Vec::new, |solved| {
        solved
            .file
            .snapshots
            .iter()
            .filter(|snapshot| snapshot.on_wheels())
            .map(|snapshot| snapshot.date.as_str())
            .collect()
    });
    let newest_settling = events
        .iter()
        .filter(|record| record.counts && record.event.resets_settling)
        .map(|record| record.event.date.clone())
        .max();
    let mut found = Vec::new();
    for record in events.iter().filter(|record| record.counts) {
        let event = &record.event;
        let age = days_between(&event.date, &today).unwrap_or(SHOWN_DAYS + 1);
        let Some(kind) = event.known_kind().filter(|_| (0..=SHOWN_DAYS).contains(&age)) else { continue };
        let own = tasks(kind);
        if own.is_empty() {
            continue;
        }
        let rows: Vec<TaskRow> = own
            .iter()
            .map(|task| {
                let last = file.ticks.iter().rev().find(|tick| tick.event == record.name && tick.task == task.code);
                TaskRow {
                    task: task.code.to_owned(),
                    words: task.words.to_owned(),
                    before_driving: task.before_driving,
                    done: last.filter(|tick| tick.done).map(|tick| day_of(&tick.at)).unwrap_or_default(),
                }
            })
            .collect();
        // Work that came later and settles anew takes the days of measuring over.
        let overtaken = newest_settling.as_ref().is_some_and(|newest| *newest > event.date);
        let due = next_due(event, &measured, &today).filter(|_| !overtaken);
        let due_now = due.as_ref().is_some_and(|due| due.date <= today);
        let due_date = due.as_ref().map(|due| due.date.clone()).unwrap_or_default();
        let due_words = due.map(|due| {
            let when = if due_now { "Measure again: due since" } else { "Measure again on" };
            format!("{when} {}, day {}", day(&due.date), due.day)
        });
        if due_words.is_none() && rows.iter().all(|row| !row.done.is_empty()) {
            continue;
        }
        found.push((
            event.date.clone(),
            FollowUp {
                event: record.name.clone(),
                label: format!("{}; {}", capital(event.what.trim()), day(&event.date)),
                due: due_words.unwrap_or_default(),
                due_date,
                due_now,
                tasks: rows,
            },
        ));
    }
    found.sort_by(|a, b| b.0.cmp(&a.0));
    Ok(found.into_iter().map(|(_, row)| row).collect())
}

/// What comes next of all that is left to do: the earliest day on which to measure again, and how many ticks are open; `None` where
/// nothing is.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn coming(
    garage: &Garage,
    car: Uuid,
    file: &CarFile,
    now: &Now<'_>,
) -> Result<Option<NextDue>, crate::wire::Problem> {
    let all = follow_up(garage, car, file, now)?;
    let open = all.iter().flat_map(|work| &work.tasks).filter(|task| task.done.is_empty()).count();
    let dated = all.iter().filter(|work| !work.due.is_empty()).min_by(|a, b| a.due_date.cmp(&b.due_date));
    let next = dated.or_else(|| all.iter().find(|work| work.tasks.iter().any(|task| task.done.is_empty())));
    Ok(next.map(|work| NextDue {
        words: if work.due.is_empty() { "Left to do after work".to_owned() } else { work.due.clone() },
        after: work.label.clone(),
        due_now: work.due_now,
        open: u32::try_from(open).unwrap_or(u32::MAX),
    }))
}

/// The day of a moment that was kept with its time, in words.
pub(super) fn day_of(at: &str) -> String {
    day(at.get(..10).unwrap_or(at))
}

/// A tick as it is kept.
pub(crate) fn tick(request: &TickTask, now: &Now<'_>) -> Tick {
    Tick {
        uuid: now.id().to_string(),
        event: request.event.clone(),
        task: request.task.clone(),
        done: request.done,
        at: now.stamp().iso(),
    }
}

/// The work that a plan is, as the history has it: each kind once an end.
pub(crate) fn events_of(plan: &KeptPlan) -> Vec<(EventKind, Option<EventEnd>, String)> {
    let mut found: Vec<(EventKind, Option<EventEnd>, String)> = Vec::new();
    for change in plan.changes.iter().filter(|change| !change.left_out) {
        for step in &change.steps {
            let Ok(step) = Step::of(step, "step") else { continue };
            let kind: &Kind = step.kind;
            if kind.event == EventKind::Note || kind.code == "load" {
                continue;
            }
            let end = step.end.map(|end| match end.words() {
                "front" => EventEnd::Front,
                _ => EventEnd::Rear,
            });
            let words = if change.label.trim().is_empty() { step.words() } else { change.label.clone() };
            if !found.iter().any(|(own, at, _)| *own == kind.event && *at == end) {
                found.push((kind.event, end, words));
            }
        }
    }
    found
}

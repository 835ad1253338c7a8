//! What changed between a snapshot and the one before it, in words and numbers as they are shown.

use super::Log;
use super::item::What;
use crate::next_words::point;
use crate::wire::{HistoryStep, StepFigure};
use crate::words::{band_deg, band_mm, capital, counted, day, degrees, whole};
use trueground_core::capture::{Snapshot, days_between};
use trueground_core::compare::{Difference, Verdict, neighbours};

/// The newest finished snapshot on its wheels before this one.
pub(super) fn base<'l>(log: &'l Log, name: &str) -> Option<&'l Snapshot> {
    before(log, name).find(|snapshot| snapshot.on_wheels() && log.finished(&snapshot.id))
}

/// Snapshots before this one on the line of time, newest first.
fn before<'l>(log: &'l Log, name: &str) -> impl Iterator<Item = &'l Snapshot> {
    let place = log.items.iter().position(|item| matches!(&item.what, What::Snapshot(known) if known == name));
    log.items[..place.unwrap_or_default()].iter().rev().filter_map(|item| match &item.what {
        What::Snapshot(name) => log.solved.snapshot(name),
        _ => None,
    })
}

/// The step to this snapshot; `None` for the first one.
pub(super) fn step(log: &Log, snapshot: &Snapshot) -> Option<HistoryStep> {
    let previous = before(log, &snapshot.id).next()?;
    let taken = if snapshot.on_wheels() && log.finished(&snapshot.id) { base(log, &snapshot.id) } else { None };
    let earlier = taken.unwrap_or(previous);
    let since = since(earlier, snapshot);
    let Ok(solution) = &log.solved.solution else {
        let why = Some("This car cannot be worked out as it stands.".to_owned());
        return Some(HistoryStep { since, why, figures: Vec::new(), unequal: Vec::new() });
    };
    let found = neighbours(&log.solved.file, solution, &earlier.id, &snapshot.id)?;
    let passed_over = (earlier.id != previous.id).then(|| {
        let what = if previous.on_wheels() { "is unfinished" } else { "is a mock-up on rated stands" };
        format!("The one between, {}, {what}.", day(&previous.date))
    });
    let figures = found.changed.map(|changed| {
        let rows = [("Front", changed.front), ("Rear", changed.rear)];
        let mut figures: Vec<StepFigure> =
            rows.into_iter().filter_map(|(words, difference)| height(words.to_owned(), difference?)).collect();
        figures.extend(changed.rake_deg.and_then(rake));
        figures.extend(
            changed
                .points
                .into_iter()
                .filter_map(|(id, difference)| height(capital(&point(&id, &log.solved.file.vehicle)), difference)),
        );
        figures
    });
    Some(HistoryStep {
        since,
        why: found.incomparable.map(|reason| reason.sentence),
        figures: figures.unwrap_or_default(),
        unequal: passed_over.into_iter().chain(found.unequal.into_iter().map(|each| each.sentence)).collect(),
    })
}

/// "7 days after 3 May 2031"
fn since(earlier: &Snapshot, later: &Snapshot) -> String {
    match days_between(&earlier.date, &later.date) {
        Some(0) => "the same day".to_owned(),
        Some(days) => {
            let days = usize::try_from(days).unwrap_or_default();
            format!("{} after {}", counted(days, "day", "days"), day(&earlier.date))
        }
        None => format!("after {}", day(&earlier.date)),
    }
}

fn height(words: String, difference: Difference) -> Option<StepFigure> {
    let (value, u) = difference.value.zip(difference.u)?;
    let shown = value.round();
    let way = if shown < 0.0 {
        "lower"
    } else if shown > 0.0 {
        "higher"
    } else {
        ""
    };
    Some(StepFigure {
        words,
        size: format!("{} mm", whole(shown.abs())),
        band: format!("±{}", whole(band_mm(u))),
        way: way.to_owned(),
        verdict: verdict(difference.verdict).to_owned(),
    })
}

fn rake(difference: Difference) -> Option<StepFigure> {
    let (value, u) = difference.value.zip(difference.u)?;
    let shown = (value * 10.0).round() / 10.0;
    let way = if shown < 0.0 {
        "less nose-down"
    } else if shown > 0.0 {
        "more nose-down"
    } else {
        ""
    };
    Some(StepFigure {
        words: "Rake".to_owned(),
        size: degrees(shown.abs()),
        band: format!("±{:.1}", band_deg(u)),
        way: way.to_owned(),
        verdict: verdict(difference.verdict).to_owned(),
    })
}

const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Changed | Verdict::Off | Verdict::Outside => "changed",
        Verdict::Same | Verdict::On | Verdict::Within => "same",
        Verdict::CantTell => "cant_tell",
    }
}

/// The step in one sentence.
pub(super) fn words(step: &HistoryStep) -> String {
    let figures: Vec<String> = step
        .figures
        .iter()
        .map(|figure| {
            let verdict = if figure.verdict == "cant_tell" { "can\u{2019}t tell" } else { &figure.verdict };
            let way = if figure.way.is_empty() { String::new() } else { format!(" {}", figure.way) };
            format!("{} {}{way}, {}: {verdict}", figure.words.to_lowercase(), figure.size, figure.band)
        })
        .collect();
    let told = match (&step.why, figures.is_empty()) {
        (Some(why), _) => format!("cannot be compared. {why}"),
        (None, true) => "nothing to compare.".to_owned(),
        (None, false) => format!("{}.", figures.join("; ")),
    };
    [vec![format!("{}: {told}", capital(&step.since))], step.unequal.clone()].concat().join(" ")
}

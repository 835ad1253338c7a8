//! Every day since the work, in a list: its heights, and what was taken out of it.

use super::ends::{is_left_out, is_moved, is_same_day};
use super::{Shown, cause, end_words, since_day_0};
use crate::load::moved;
use crate::wire::{SettlingClock, SettlingDay};
use crate::words::{band_mm, whole};
use std::collections::BTreeSet;
use trueground_core::stance::{Figure, Known};
use trueground_core::trend::{End, LineSettling, SnapshotHeight};

/// The last day first.
pub(super) fn days(shown: &Shown<'_>) -> Vec<SettlingDay> {
    let mut seen = BTreeSet::new();
    let mut all: Vec<&SnapshotHeight> = shown.lines.iter().flat_map(|line| since_day_0(line)).collect();
    all.retain(|height| seen.insert(&height.snapshot));
    all.sort_by(|a, b| b.day.total_cmp(&a.day));
    let year = |height: Option<&&SnapshotHeight>| height.and_then(|height| height.date.get(..4).map(str::to_owned));
    let one_year = year(all.first()) == year(all.last());
    all.into_iter().map(|height| day(shown, height, one_year)).collect()
}

/// The year stands with its day where there are several.
fn day(shown: &Shown<'_>, of: &SnapshotHeight, one_year: bool) -> SettlingDay {
    let at = |end: End| {
        let line = shown.lines.iter().copied().find(|line| line.end == end)?;
        let height = line.heights.iter().find(|height| height.snapshot == of.snapshot)?;
        Some((line, height))
    };
    let (front, rear) = (at(End::Front), at(End::Rear));
    let height = |of: &(&LineSettling, &SnapshotHeight)| Figure {
        value: Some(of.1.height_mm),
        u: Some(of.1.u_mm),
        known: Known::Measured,
        band_if: None,
    };
    // In whole mm, so that it adds up as printed.
    let stood = |(_, height): (&LineSettling, &SnapshotHeight)| {
        is_moved(height).then(|| height.height_mm.round() - height.taken_out_mm.round())
    };
    let both = [front, rear];
    let moved_by: Vec<String> = both
        .iter()
        .flatten()
        .filter(|(_, height)| is_moved(height))
        .map(|(line, height)| moved(height.taken_out_mm, end_words(line.end)))
        .collect();
    let moved_u = |height: &SnapshotHeight| height.moved_by.iter().map(|by| by.u_mm * by.u_mm).sum::<f64>().sqrt();
    let u = both.iter().flatten().map(|(_, height)| moved_u(height)).fold(0.0, f64::max);
    let left_out: Vec<String> = both
        .iter()
        .flatten()
        .filter(|(line, height)| is_left_out(line, height))
        .map(|(line, height)| left_out(line, height))
        .collect();
    let vehicle = &shown.about.solved.file.vehicle;
    let snapshot = shown.snapshot(&of.snapshot);
    let cause = snapshot.filter(|_| !moved_by.is_empty());
    let at_words = format!("day {}", whole(of.day));
    let label = snapshot.map_or("", |snapshot| snapshot.label.trim());
    SettlingDay {
        snapshot: shown.id_of(&of.snapshot),
        date: if one_year { super::words::short_day(&of.date) } else { crate::words::day(&of.date) },
        label: if label == at_words || label == of.date { String::new() } else { label.to_owned() },
        at_words: match shown.axis.of(of) {
            Some(km) if shown.axis.clock == SettlingClock::Kilometres => format!("{at_words}, {} km", whole(km)),
            _ => at_words,
        },
        front_mm: front.as_ref().map(height),
        rear_mm: rear.as_ref().map(height),
        stood_front_mm: front.and_then(stood),
        stood_rear_mm: rear.and_then(stood),
        cause: cause.map_or(String::new(), |snapshot| cause::short(vehicle, snapshot)),
        taken_out: cause.map_or(String::new(), |snapshot| {
            let (why, how) = (cause::long(vehicle, snapshot), moved_by.join(", "));
            format!("{why}: it stood {how}, ±{}. That is taken out.", whole(band_mm(u)))
        }),
        left_out: left_out.join(" "),
    }
}

/// "The front does not fit the other days (5 of its own standard deviations) and is left out of the curve."
pub(super) fn left_out(line: &LineSettling, height: &SnapshotHeight) -> String {
    let doubts = &line.answer().doubtful;
    let off =
        doubts.iter().find(|doubt| is_same_day(doubt.day, height.day)).map_or(0.0, |doubt| doubt.standardised_residual);
    format!(
        "The {} does not fit the other days, off by {} times its own doubt, and is left out of the curve.",
        end_words(line.end),
        whole(off.abs())
    )
}

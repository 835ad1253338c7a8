//! Front and rear as they are drawn: points, the law with its band, and what is left out.

use super::{Shown, cause, end_words, since_day_0};
use crate::wire::{SettlingCurve, SettlingEnd, SettlingPoint, SettlingWord};
use trueground_core::stance::{Figure, Known};
use trueground_core::trend::{LineSettling, SettleFigure, Settled, SnapshotHeight};

/// Less than this is not to be seen, mm.
const SEEN_MM: f64 = 0.5;

/// What can be said of one end.
pub(super) fn word(line: &LineSettling) -> SettlingWord {
    match line.answer().verdict {
        Settled::Settled => SettlingWord::Settled,
        Settled::Settling => SettlingWord::StillSettling,
        Settled::TooEarly => SettlingWord::CantTell,
    }
}

/// As drawn. No law is drawn through days that do not tell one.
pub(super) fn end(shown: &Shown<'_>, line: &LineSettling) -> SettlingEnd {
    let word = word(line);
    let told = word != SettlingWord::CantTell;
    let band = if told { &line.answer().band[..] } else { &[] };
    SettlingEnd {
        end: end_words(line.end).to_owned(),
        word,
        points: since_day_0(line).into_iter().filter_map(|height| point(shown, line, height)).collect(),
        curve: band
            .iter()
            .map(|at| SettlingCurve { at: shown.axis.at(at.day), height_mm: at.height_mm, band_mm: 2.0 * at.u_mm })
            .collect(),
        rest_mm: line.answer().final_height_mm.filter(|_| told).map(figure),
        remaining_mm: line.answer().remaining_mm.filter(|_| told).map(figure),
    }
}

/// Ends the curve where the picture ends.
pub(super) fn clip(end: &mut SettlingEnd, until: f64) {
    let Some(first_out) = end.curve.iter().position(|point| point.at > until) else { return };
    if let Some((a, b)) = first_out.checked_sub(1).map(|before| (end.curve[before], end.curve[first_out])) {
        let part = (until - a.at) / (b.at - a.at);
        let between = |from: f64, to: f64| from + part * (to - from);
        end.curve[first_out] = SettlingCurve {
            at: until,
            height_mm: between(a.height_mm, b.height_mm),
            band_mm: between(a.band_mm, b.band_mm),
        };
        end.curve.truncate(first_out + 1);
    } else {
        end.curve.clear();
    }
}

fn point(shown: &Shown<'_>, line: &LineSettling, height: &SnapshotHeight) -> Option<SettlingPoint> {
    let moved = is_moved(height);
    let snapshot = shown.snapshot(&height.snapshot);
    let vehicle = &shown.about.solved.file.vehicle;
    Some(SettlingPoint {
        snapshot: shown.id_of(&height.snapshot),
        at: shown.axis.of(height)?,
        height_mm: on_curve(height),
        band_mm: 2.0 * height.u_mm,
        stood_mm: moved.then_some(on_curve(height) - height.taken_out_mm),
        cause: snapshot.filter(|_| moved).map_or(String::new(), |snapshot| cause::short(vehicle, snapshot)),
        counts: !is_left_out(line, height),
    })
}

/// Where the curve has it: work since then that moved the car at once counts as done before.
fn on_curve(height: &SnapshotHeight) -> f64 {
    height.on_curve_mm.unwrap_or(height.height_mm)
}

/// Load or pressures moved it by something to be seen.
pub(super) fn is_moved(height: &SnapshotHeight) -> bool {
    height.taken_out_mm.abs() >= SEEN_MM
}

/// It does not fit the other days and takes no part.
pub(super) fn is_left_out(line: &LineSettling, height: &SnapshotHeight) -> bool {
    line.answer()
        .doubtful
        .iter()
        .any(|doubt| !doubt.used && is_same_day(doubt.day, height.day) && doubt.height_mm == height.height_mm)
}

/// Days that came back from kilometres are as good as whole.
pub(super) fn is_same_day(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-3
}

pub(super) const fn figure(of: SettleFigure) -> Figure {
    Figure { value: Some(of.value), u: Some(of.u), known: Known::Measured, band_if: None }
}

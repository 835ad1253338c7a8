//! Front and rear as they are drawn: points, the law with its band, and what is left out.

use super::{Shown, cause, end_words, since_day_0};
use crate::wire::{SettlingCurve, SettlingEnd, SettlingPoint, SettlingWord};
use trueground_core::stance::{Figure, Known};
use trueground_core::trend::{LineSettling, SettleFigure, Settled, SnapshotHeight};

/// Less than this is not to be seen, mm.
const SEEN_MM: f64 = 0.5;

/// What can be said of one end.
pub(super) const fn word(line: &LineSettling) -> SettlingWord {
    match line.settling.verdict {
        Settled::Settled => SettlingWord::Settled,
        Settled::Settling => SettlingWord::StillSettling,
        Settled::TooEarly => SettlingWord::CantTell,
    }
}

/// As drawn. No law is drawn through days that do not tell one.
pub(super) fn end(shown: &Shown<'_>, line: &LineSettling) -> SettlingEnd {
    let word = word(line);
    let told = word != SettlingWord::CantTell;
    let band = if told { &line.settling.band[..] } else { &[] };
    SettlingEnd {
        end: end_words(line.end).to_owned(),
        word,
        points: since_day_0(line).into_iter().filter_map(|height| point(shown, line, height)).collect(),
        curve: band
            .iter()
            .map(|at| SettlingCurve { at: shown.axis.at(at.day), height_mm: at.height_mm, band_mm: 2.0 * at.u_mm })
            .collect(),
        rest_mm: line.settling.final_height_mm.filter(|_| told).map(figure),
        remaining_mm: line.settling.remaining_mm.filter(|_| told).map(figure),
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
        height_mm: height.height_mm,
        band_mm: 2.0 * height.u_mm,
        stood_mm: moved.then_some(height.height_mm - height.taken_out_mm),
        cause: snapshot.filter(|_| moved).map_or(String::new(), |snapshot| cause::short(vehicle, snapshot)),
        counts: !is_left_out(line, height),
    })
}

/// Load or pressures moved it by something to be seen.
pub(super) fn is_moved(height: &SnapshotHeight) -> bool {
    height.taken_out_mm.abs() >= SEEN_MM
}

/// It does not fit the other days and takes no part.
pub(super) fn is_left_out(line: &LineSettling, height: &SnapshotHeight) -> bool {
    line.settling
        .doubtful
        .iter()
        .any(|doubt| !doubt.used && (doubt.day, doubt.height_mm) == (height.day, height.height_mm))
}

pub(super) const fn figure(of: SettleFigure) -> Figure {
    Figure { value: Some(of.value), u: Some(of.u), known: Known::Measured, band_if: None }
}

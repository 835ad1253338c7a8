//! One difference as it is set: number, ±, word and verdict.

use super::{Chosen, Compared};
use crate::wire::DifferenceView;
use crate::words::{band_mm, whole};
use trueground_core::compare::{Difference, Verdict};
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::Known;

/// How differences of this comparison are judged.
pub(super) struct Judged {
    /// Against a target: how far a height may be off where a point says nothing else, mm.
    target: bool,
}

/// The code of a verdict on the wire, and its words.
pub(super) const fn verdict(of: Verdict) -> (&'static str, &'static str) {
    match of {
        Verdict::Same => ("same", "same"),
        Verdict::Changed => ("changed", "changed"),
        Verdict::On => ("on", "on"),
        Verdict::Off => ("off", "off"),
        Verdict::Within => ("within", "within"),
        Verdict::Outside => ("outside", "outside"),
        Verdict::CantTell => ("cant_tell", "can\u{2019}t tell"),
    }
}

/// "higher", "lower", or nothing where the printed number is 0.
pub(super) fn direction(value_mm: f64) -> &'static str {
    match value_mm.round() {
        up if up > 0.0 => "higher",
        down if down < 0.0 => "lower",
        _ => "",
    }
}

/// "21 mm higher", "0 mm".
pub(super) fn by(value_mm: f64) -> String {
    format!("{} mm {}", whole(value_mm.abs()), direction(value_mm)).trim_end().to_owned()
}

impl Judged {
    pub(super) fn of(of: &Compared<'_>) -> Self {
        Self { target: [of.this, of.other].into_iter().any(|one| matches!(one, Chosen::Target(_))) }
    }

    /// How far a point may be off, mm; `None` between two that are no target.
    pub(super) fn tolerance_mm(&self, of: &Compared<'_>, point: &str) -> Option<f64> {
        let target = [of.other, of.this].into_iter().find_map(Chosen::target).filter(|_| self.target)?;
        Some(target.tolerance_of(point))
    }

    /// The same of the mean of two corners.
    pub(super) fn mean_tolerance_mm(&self, of: &Compared<'_>, corners: [Corner; 2]) -> Option<f64> {
        let compared = |corner: &Corner| {
            let vehicle = &of.asked.solved.file.vehicle;
            vehicle.mark_at(of.kind, *corner, |point| of.comparison.differences.contains_key(&point.id))
        };
        let of_mean = corners.iter().filter_map(compared);
        let each: Vec<f64> = of_mean.filter_map(|point| self.tolerance_mm(of, &point.id)).collect();
        (!each.is_empty()).then(|| each.iter().sum::<f64>() / each.len() as f64)
    }

    pub(super) fn view(&self, place: &str, of: &Difference, tolerance_mm: Option<f64>) -> DifferenceView {
        let (code, words) = verdict(of.verdict);
        let told = of.value.zip(of.u);
        let sentence = match told {
            Some((value, u)) => format!("{place} {}, ±{}: {words}", by(value), whole(band_mm(u))),
            None => format!("{place} {words}"),
        };
        DifferenceView {
            place: place.to_owned(),
            value_mm: of.value,
            u_mm: of.u,
            known: of.known,
            tolerance_mm,
            this: String::new(),
            other: String::new(),
            number: told.map(|(value, _)| whole(value.abs())).unwrap_or_default(),
            band: told.map(|(_, u)| format!("±{} mm", whole(band_mm(u)))).unwrap_or_default(),
            word: told.map(|(value, _)| direction(value).to_owned()).unwrap_or_default(),
            verdict: code.to_owned(),
            verdict_words: words.to_owned(),
            sentence,
        }
    }

    /// "shaded ±6", "shaded ±4 to ±8"; empty where nothing is shaded.
    pub(super) fn shaded(&self, corners: &Corners<DifferenceView>) -> String {
        let all: Vec<f64> = corners.iter().filter_map(|(_, corner)| corner.tolerance_mm).collect();
        let (least, most) = (all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(0.0, f64::max));
        match (all.is_empty(), whole(least) == whole(most)) {
            (true, _) => String::new(),
            (false, true) => format!("shaded ±{}", whole(most)),
            (false, false) => format!("shaded ±{} to ±{}", whole(least), whole(most)),
        }
    }
}

/// A place that one of the two does not have.
pub(super) fn not_read(place: &str) -> DifferenceView {
    DifferenceView {
        place: place.to_owned(),
        value_mm: None,
        u_mm: None,
        known: Known::Undetermined,
        tolerance_mm: None,
        this: String::new(),
        other: String::new(),
        number: String::new(),
        band: String::new(),
        word: String::new(),
        verdict: "not_read".to_owned(),
        verdict_words: "not in both".to_owned(),
        sentence: format!("{place} not in both"),
    }
}

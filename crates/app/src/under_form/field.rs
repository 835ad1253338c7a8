//! What one field of a part says: a place, a height, an angle, a plain number; and a part that is half typed.

use super::parts::Reader;
use crate::wire::FieldProblem;
use std::ops::RangeInclusive;
use trueground_core::units::read_angle;
use trueground_core::wording::shown;

/// Behind the front axle, from a long nose to a long tail.
const BEHIND_MM: RangeInclusive<f64> = -5_000.0..=15_000.0;
const LEFT_MM: RangeInclusive<f64> = -3_000.0..=3_000.0;

impl Reader<'_> {
    /// Beside which snapshot a part was measured: what did not move stays where it was.
    pub(super) fn beside(&self, moved: bool, kept: Option<String>) -> Option<String> {
        if moved { self.beside.clone() } else { kept }
    }

    /// `None` where nothing of a part is typed, or where some of what it needs is missing, which is refused.
    pub(super) fn whole(&mut self, what: &str, needed: &[(&str, &String)], more: &[&String]) -> Option<()> {
        let empty = |text: &String| text.trim().is_empty();
        if needed.iter().all(|(_, text)| empty(text)) && more.iter().all(|text| empty(text)) {
            return None;
        }
        let mut missing = false;
        for (field, text) in needed.iter().filter(|(_, text)| empty(text)) {
            self.fields.refuse(
                field,
                text,
                &format!("{what} is not whole without this."),
                "Type it, or leave all of it empty.",
            );
            missing = true;
        }
        (!missing).then_some(())
    }

    /// Ahead of the front axle, mm, from what was typed as behind it.
    pub(super) fn behind(&mut self, field: &str, what: &str, typed: &str) -> Option<f64> {
        self.fields.signed_length(field, what, typed, self.form.tape, BEHIND_MM).map(|behind| 0.0 - behind)
    }

    pub(super) fn left(&mut self, field: &str, typed: &str) -> Option<f64> {
        if typed.trim().is_empty() {
            return Some(0.0);
        }
        self.fields.signed_length(field, "a place from the middle", typed, self.form.tape, LEFT_MM)
    }

    pub(super) fn height(&mut self, field: &str, what: &str, typed: &str, range: RangeInclusive<f64>) -> Option<f64> {
        self.fields.signed_length(field, what, typed, self.form.tape, range)
    }

    /// An angle in its range; `None` where nothing is typed or it was refused.
    pub(super) fn angle(&mut self, field: &str, what: &str, typed: &str, range: RangeInclusive<f64>) -> Option<f64> {
        if typed.trim().is_empty() {
            return None;
        }
        match read_angle(typed) {
            Ok(entered) if range.contains(&entered.angle.to_deg()) => Some(entered.angle.to_deg()),
            Ok(_) => {
                let (low, high) = (range.start(), range.end());
                let sentence = format!("{} is outside {low} to {high} degrees for {what}.", shown(typed));
                self.fields.refuse(field, typed, &sentence, "Correct it, or leave it empty.");
                None
            }
            Err(error) => {
                self.fields.push(FieldProblem::entry(field, typed, error));
                None
            }
        }
    }

    /// A plain number in its range, with a sign; `None` where nothing is typed or it was refused.
    pub(super) fn number(
        &mut self,
        field: &str,
        what: &str,
        typed: &str,
        range: RangeInclusive<f64>,
        example: &str,
    ) -> Option<f64> {
        let text = typed.trim();
        if text.is_empty() {
            return None;
        }
        let bare = text.trim_end_matches(['%', 'g', 'k']).trim().replace(',', ".").replace('\u{2212}', "-");
        let plain = bare.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
        match bare.parse::<f64>().ok().filter(|value| plain && range.contains(value)) {
            Some(value) => Some(value),
            None => {
                let sentence =
                    format!("{} is not {what}: {} to {} is taken.", shown(typed), range.start(), range.end());
                self.fields.refuse(field, typed, &sentence, &format!("Type it as {example}, or leave it empty."));
                None
            }
        }
    }
}

/// A name in files from what a person calls it: small letters and digits, one that nothing else has.
pub(super) fn name_of(label: &str, taken: &dyn Fn(&str) -> bool) -> String {
    let stem = crate::words::file_stem(label).replace('-', "_");
    let numbered = (2..).map(|number| format!("{stem}_{number}"));
    std::iter::once(stem.clone()).chain(numbered).find(|name| !taken(name)).unwrap_or(stem)
}

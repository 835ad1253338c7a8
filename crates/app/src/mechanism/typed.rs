//! The typed texts of a part's form, read field by field; what cannot be read is collected.

use crate::fields::Fields;
use crate::quantity::{Quantity, typed as number_typed};
use crate::wire::{MechanismForm, Problem, TapeUnit};
use std::ops::RangeInclusive;

/// Places on a car, mm.
pub(super) const PLACE_MM: RangeInclusive<f64> = -10_000.0..=10_000.0;

/// Reads a form.
pub(super) struct Typed<'f> {
    form: &'f MechanismForm,
    pub(super) fields: Fields,
}

impl<'f> Typed<'f> {
    pub(super) fn of(form: &'f MechanismForm) -> Self {
        Self { form, fields: Fields::default() }
    }

    /// What was typed there, without blanks round it.
    pub(super) fn text(&self, name: &str) -> &'f str {
        self.form.values.get(name).map_or("", |text| text.trim())
    }

    /// True where none of them was filled in.
    pub(super) fn are_empty(&self, names: &[&str]) -> bool {
        names.iter().all(|name| self.text(name).is_empty())
    }

    /// How many rows of a list were begun.
    pub(super) fn rows(&self, list: &str) -> usize {
        let row = |name: &String| name.strip_prefix(list)?.strip_prefix('.')?.split('.').next()?.parse::<usize>().ok();
        // A form that names row 4,000,000,000 has no such row.
        self.form.values.keys().filter_map(row).filter(|row| *row < 1_000).max().map_or(0, |last| last + 1)
    }

    /// A length that must be there.
    pub(super) fn length(&mut self, name: &str, what: &str, range_mm: RangeInclusive<f64>) -> Option<f64> {
        let (typed, tape) = (self.text(name), self.form.tape);
        if typed.is_empty() {
            self.missing(name, what);
            return None;
        }
        if *range_mm.start() < 0.0 {
            self.fields.signed_length(name, what, typed, tape, range_mm)
        } else {
            self.fields.length(name, what, typed, tape, range_mm)
        }
    }

    /// A length, or nothing where the field is empty.
    pub(super) fn optional_length(&mut self, name: &str, what: &str, range_mm: RangeInclusive<f64>) -> Option<f64> {
        if self.text(name).is_empty() { None } else { self.length(name, what, range_mm) }
    }

    /// A number that must be there.
    pub(super) fn number(&mut self, name: &str, what: &str, quantity: &Quantity) -> Option<f64> {
        if self.text(name).is_empty() {
            self.missing(name, what);
            return None;
        }
        self.fields.quantity(name, self.text(name), quantity)
    }

    /// A number with a sign that must be there.
    pub(super) fn signed(&mut self, name: &str, what: &str, quantity: &Quantity) -> Option<f64> {
        if self.text(name).is_empty() {
            self.missing(name, what);
            return None;
        }
        self.fields.signed_quantity(name, self.text(name), quantity)
    }

    /// A whole number in a range, or nothing where the field is empty.
    pub(super) fn count(&mut self, name: &str, what: &str, range: RangeInclusive<usize>) -> Option<usize> {
        let typed = self.text(name);
        if typed.is_empty() {
            return None;
        }
        let read = typed.parse().ok().filter(|count| range.contains(count));
        if read.is_none() {
            let (low, high) = (range.start(), range.end());
            let sentence = format!("{} is not {what}: {low} to {high}.", trueground_core::wording::shown(typed));
            self.fields.refuse(name, typed, &sentence, "Type a whole number, or leave it empty.");
        }
        read
    }

    /// A place `[x, y, z]` of three fields.
    pub(super) fn place(&mut self, name: &str) -> Option<[f64; 3]> {
        let [x, y, z] = ["x", "y", "z"].map(|axis| self.along(name, axis));
        Some([x?, y?, z?])
    }

    /// A place `[x, z]` of two fields.
    pub(super) fn side_place(&mut self, name: &str) -> Option<[f64; 2]> {
        let [x, z] = ["x", "z"].map(|axis| self.along(name, axis));
        Some([x?, z?])
    }

    fn along(&mut self, name: &str, axis: &str) -> Option<f64> {
        let what = match axis {
            "x" => "how far ahead of the front axle",
            "y" => "how far left of the centre",
            _ => "how high above the ground",
        };
        self.length(&format!("{name}.{axis}"), what, PLACE_MM)
    }

    fn missing(&mut self, name: &str, what: &str) {
        let sentence = format!("{} is missing.", crate::words::capital(what));
        self.fields.refuse(name, "", &sentence, "Measure it, or empty the whole form to take the description away.");
    }

    /// # Errors
    /// Everything that could not be read.
    pub(super) fn done(self) -> Result<(), Problem> {
        self.fields.done()
    }
}

/// Writes a form's texts.
pub(super) struct Texts {
    tape: TapeUnit,
    pub(super) values: std::collections::BTreeMap<String, String>,
}

impl Texts {
    pub(super) fn new(tape: TapeUnit) -> Self {
        Self { tape, values: std::collections::BTreeMap::new() }
    }

    pub(super) fn text(&mut self, name: &str, text: &str) {
        self.values.insert(name.to_owned(), text.to_owned());
    }

    pub(super) fn length(&mut self, name: &str, mm: f64) {
        // A bare number is in the tape's unit.
        let text = number_typed(mm, if self.tape == TapeUnit::Mm { "" } else { "mm" });
        self.text(name, &text);
    }

    pub(super) fn number(&mut self, name: &str, value: f64, unit: &str) {
        self.text(name, &number_typed(value, unit));
    }

    pub(super) fn place(&mut self, name: &str, [x, y, z]: [f64; 3]) {
        for (axis, mm) in [("x", x), ("y", y), ("z", z)] {
            self.length(&format!("{name}.{axis}"), mm);
        }
    }

    pub(super) fn side_place(&mut self, name: &str, [x, z]: [f64; 2]) {
        self.length(&format!("{name}.x"), x);
        self.length(&format!("{name}.z"), z);
    }
}

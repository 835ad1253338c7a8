//! Reading a form: every field is looked at, and all that is wrong is said at once.

use crate::wire::{FieldProblem, GaugeUnit, Problem, TapeUnit};
use std::ops::RangeInclusive;
use trueground_core::units::{LengthUnit, PressureUnit, read_length, read_pressure};
use trueground_core::wording::shown;

/// Collects what is wrong. A value of a field that cannot be read is `None`, and [`Fields::done`] then refuses the form.
#[derive(Debug, Default)]
pub(crate) struct Fields {
    problems: Vec<FieldProblem>,
}

/// The tape's unit as core has it.
pub(crate) const fn unit(tape: TapeUnit) -> LengthUnit {
    match tape {
        TapeUnit::In | TapeUnit::In32 => LengthUnit::In,
        TapeUnit::Mm => LengthUnit::Mm,
        TapeUnit::Cm => LengthUnit::Cm,
    }
}

impl Fields {
    /// A length in `range_mm`; `what` names it in a refusal: "a wheelbase".
    pub(crate) fn length(
        &mut self,
        field: &str,
        what: &str,
        typed: &str,
        tape: TapeUnit,
        range_mm: RangeInclusive<f64>,
    ) -> Option<f64> {
        match read_length(typed, unit(tape)).and_then(|entered| entered.within(what, range_mm)) {
            Ok(entered) => Some(entered.length.to_mm()),
            Err(error) => {
                self.problems.push(FieldProblem::entry(field, typed, error));
                None
            }
        }
    }

    /// A length, or nothing where the field is empty.
    pub(crate) fn optional_length(
        &mut self,
        field: &str,
        what: &str,
        typed: &str,
        tape: TapeUnit,
        range_mm: RangeInclusive<f64>,
    ) -> Option<f64> {
        if typed.trim().is_empty() { None } else { self.length(field, what, typed, tape, range_mm) }
    }

    /// A distance that may lie on the other side of its zero: `-100`, `- 4 in`.
    pub(crate) fn signed_length(
        &mut self,
        field: &str,
        what: &str,
        typed: &str,
        tape: TapeUnit,
        range_mm: RangeInclusive<f64>,
    ) -> Option<f64> {
        let trimmed = typed.trim_start();
        let Some(rest) = trimmed.strip_prefix(['-', '\u{2212}', '\u{2013}']) else {
            return self.length(field, what, typed, tape, 0.0..=*range_mm.end());
        };
        if *range_mm.start() >= 0.0 {
            self.problems.push(FieldProblem {
                field: field.to_owned(),
                typed: typed.to_owned(),
                sentence: format!("{} has a minus sign: {what} is 0 or more here.", shown(typed.trim())),
                hint: "Leave the sign out.".to_owned(),
                proposals: vec![rest.trim().to_owned()],
            });
            return None;
        }
        let beyond = 0.0..=-*range_mm.start();
        match read_length(rest, unit(tape)).and_then(|entered| entered.within(what, beyond)) {
            // Adding zero turns -0 into 0.
            Ok(entered) => Some(0.0 - entered.length.to_mm()),
            Err(error) => {
                // What was read, and what is proposed, has its sign.
                let mut problem = FieldProblem::entry(field, typed, error);
                problem.sentence = format!("After the minus sign, {}", problem.sentence);
                problem.proposals.iter_mut().for_each(|proposal| proposal.insert(0, '-'));
                self.problems.push(problem);
                None
            }
        }
    }

    /// A pressure in kPa; a bare number is in the gauge's unit.
    pub(crate) fn pressure(&mut self, field: &str, typed: &str, gauge: GaugeUnit) -> Option<f64> {
        let unit = match gauge {
            GaugeUnit::Kpa => PressureUnit::Kpa,
            GaugeUnit::Psi => PressureUnit::Psi,
            GaugeUnit::Bar => PressureUnit::Bar,
        };
        match read_pressure(typed, unit) {
            Ok(entered) => Some(entered.pressure.to_kpa()),
            Err(error) => {
                self.problems.push(FieldProblem::entry(field, typed, error));
                None
            }
        }
    }

    /// A name a person gives.
    pub(crate) fn label(&mut self, field: &str, what: &str, typed: &str) -> Option<String> {
        let label = typed.trim();
        let length = label.chars().count();
        if label.is_empty() {
            self.refuse(field, typed, &format!("{what} has no name yet."), "Type what you call it.");
            return None;
        }
        if length > 60 || label.chars().any(char::is_control) {
            let sentence = format!("{} has {length} characters: a name has 1 to 60, on one line.", shown(label));
            self.refuse(field, typed, &sentence, "Type a shorter one.");
            return None;
        }
        Some(label.to_owned())
    }

    /// A count in a range.
    pub(crate) fn count(&mut self, field: &str, what: &str, number: u32, range: RangeInclusive<u32>) {
        if !range.contains(&number) {
            let sentence = format!("{number} {what}: {} to {} can be read.", range.start(), range.end());
            self.refuse(field, &number.to_string(), &sentence, "Choose fewer or more.");
        }
    }

    /// Adds a refusal.
    pub(crate) fn refuse(&mut self, field: &str, typed: &str, sentence: &str, hint: &str) {
        self.problems.push(FieldProblem {
            field: field.to_owned(),
            typed: typed.to_owned(),
            sentence: sentence.to_owned(),
            hint: hint.to_owned(),
            proposals: Vec::new(),
        });
    }

    /// Adds a refusal that is put together already.
    pub(crate) fn push(&mut self, problem: FieldProblem) {
        self.problems.push(problem);
    }

    /// Refuses the form if anything in it was refused.
    ///
    /// # Errors
    /// All of it.
    pub(crate) fn done(self) -> Result<(), Problem> {
        let (sentence, hint) = match &self.problems[..] {
            [] => return Ok(()),
            [one] => (one.sentence.clone(), one.hint.clone()),
            many => (
                format!("{} fields cannot be read.", many.len()),
                "Each says what is wrong beside it. What you typed is kept.".to_owned(),
            ),
        };
        Err(Problem { code: "field_unreadable".to_owned(), sentence, hint, fields: self.problems })
    }
}

//! Problems from elsewhere, in words for a person.

use crate::wire::{FieldProblem, Problem};
use trueground_core::units::EntryError;
use trueground_store::StoreError;
use uuid::Uuid;

impl Problem {
    pub(crate) fn new(code: &str, sentence: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { code: code.to_owned(), sentence: sentence.into(), hint: hint.into(), fields: Vec::new() }
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        Self::new(error.code(), error.to_string(), error.hint())
    }
}

impl FieldProblem {
    pub(crate) fn entry(field: &str, typed: &str, error: EntryError) -> Self {
        Self {
            field: field.to_owned(),
            typed: typed.to_owned(),
            sentence: error.message,
            hint: error.hint,
            proposals: error.proposals,
        }
    }
}

/// A problem with the one thing that was typed.
pub(crate) fn one_field(field: FieldProblem) -> Problem {
    Problem {
        code: "field_unreadable".to_owned(),
        sentence: field.sentence.clone(),
        hint: field.hint.clone(),
        fields: vec![field],
    }
}

/// The id in a request.
///
/// # Errors
/// Not an id.
pub(crate) fn id(what: &'static str, text: &str) -> Result<Uuid, Problem> {
    Uuid::parse_str(text).map_err(|_| StoreError::NotFound { what, id: trueground_core::wording::shown(text) }.into())
}

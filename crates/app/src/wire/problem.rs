//! A problem in words: what, where, which value, which range, and what to do next.

use serde::{Deserialize, Serialize};

/// Why a request was not carried out. Nothing was stored, and what was typed is named in `fields`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[derive(thiserror::Error)]
#[error("{sentence}")]
pub struct Problem {
    /// Stable name for programs, such as `field_unreadable`.
    pub code: String,
    /// What is wrong, with the value and the range.
    pub sentence: String,
    /// What to do next.
    pub hint: String,
    /// The same field by field, for a form; all of them at once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fields: Vec<FieldProblem>,
}

/// What is wrong with one field of a request.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct FieldProblem {
    /// Path of the field, such as `wheelbase` or `points.2.x`.
    pub field: String,
    /// As typed.
    pub typed: String,
    /// What is wrong with it.
    pub sentence: String,
    /// What to do next.
    pub hint: String,
    /// Texts that could be meant; a tap takes one.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub proposals: Vec<String>,
}

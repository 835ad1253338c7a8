//! The tapes and gauges of the garage: the list, and the form that adds or changes one.

use super::garage::TapeUnit;
use serde::{Deserialize, Serialize};
use trueground_core::capture::LengthClass;

/// All tapes and gauges that are offered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct InstrumentsView {
    /// Tapes, in the order they were added.
    pub tapes: Vec<InstrumentRow>,
    /// Angle gauges, likewise.
    pub gauges: Vec<InstrumentRow>,
    /// The one just kept, if the request kept one.
    pub kept: Option<String>,
}

/// A tape or gauge in the list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct InstrumentRow {
    /// Id of its present entry.
    pub instrument: String,
    /// What the person calls it.
    pub label: String,
    /// "inches in sixteenths, class II"
    pub what: String,
    /// What is taken off and what doubt is left, one or two sentences.
    pub state: String,
    /// What a tape reads in; absent: a gauge.
    pub tape: Option<TapeUnit>,
    /// The form that changes it.
    pub form: InstrumentForm,
}

/// Adds a tape or gauge, or changes one. Everything as typed; the reply names all fields that cannot be read at once.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct InstrumentForm {
    /// The entry that is changed; absent: a new one.
    #[serde(default)]
    pub instrument: Option<String>,
    /// Tape or gauge.
    pub kind: InstrumentKind,
    /// What the person calls it.
    pub label: String,
    /// Division of a tape.
    pub step: TapeStep,
    /// Length of the whole tape; may be empty.
    #[serde(default)]
    pub length: String,
    /// Class printed on a tape; absent: not marked.
    #[serde(default)]
    pub class: Option<LengthClass>,
    /// Where a tape is read from.
    pub read_from: ReadFrom,
    /// With `mark`: the mark that is held where the end should be, in the tape's unit.
    #[serde(default)]
    pub mark: String,
    /// With `end`: what the tape says too much, worn above 0, bent out below; empty: not known.
    #[serde(default)]
    pub hook: String,
    /// The ± of `hook`; empty: ± 1 mm.
    #[serde(default)]
    pub hook_band: String,
    /// Smallest step a gauge shows, degrees.
    #[serde(default)]
    pub gauge_step: String,
    /// The ± of one gauge reading, degrees; empty: ± 0.14.
    #[serde(default)]
    pub gauge_band: String,
    /// A new check of a tape: what it was held against; may be empty.
    #[serde(default)]
    pub check_against: String,
    /// What the tape said; with `check_true`, or both empty: no new check.
    #[serde(default)]
    pub check_read: String,
    /// The true length.
    #[serde(default)]
    pub check_true: String,
    /// The ± of the comparison; empty: from the tape's step.
    #[serde(default)]
    pub check_band: String,
    /// A new check of a gauge: straight, degrees; with `check_reversed`, or both empty: no new check.
    #[serde(default)]
    pub check_straight: String,
    /// Turned end for end on the same place, as the gauge shows it.
    #[serde(default)]
    pub check_reversed: String,
    /// Day of the new check, `YYYY-MM-DD`; empty: today.
    #[serde(default)]
    pub check_date: String,
}

/// Tape or gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum InstrumentKind {
    /// Anything with a length on it.
    Tape,
    /// Anything that shows an angle.
    AngleGauge,
}

/// Division of a tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum TapeStep {
    /// Inches in sixteenths.
    Sixteenths,
    /// Inches in thirty-seconds.
    ThirtySeconds,
    /// Millimetres.
    Mm,
    /// Half millimetres.
    HalfMm,
    /// Centimetres with a line for each millimetre.
    Cm,
}

/// Where a tape is read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum ReadFrom {
    /// Its end or hook.
    End,
    /// A mark that is held where the end should be.
    Mark,
}

/// Names a tape or gauge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct InstrumentRef {
    /// Id.
    pub instrument: String,
}

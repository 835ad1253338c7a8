//! The tape, and how well readings and bounces repeat.

use super::{mm, or_default};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The tape, and how well readings and bounces repeat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Instrument {
    /// The tape's division.
    #[serde(default, deserialize_with = "or_default")]
    pub tape: Tape,
    /// Standard uncertainty of one tape reading without its rounding, mm.
    #[serde(default = "default_tape_reading_u_mm")]
    pub tape_reading_u_mm: f64,
    /// Standard uncertainty of one bounce at a spring, mm.
    #[serde(default = "default_bounce_repeat_u_mm")]
    pub bounce_repeat_u_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Steel tape at a marked point with a plumb line; common practice, no source.
const fn default_tape_reading_u_mm() -> f64 {
    1.2
}

/// Bounced three times and left to rest; common practice, no source.
const fn default_bounce_repeat_u_mm() -> f64 {
    1.6
}

impl Instrument {
    /// Standard uncertainty of one tape reading with its rounding to the tape's division, mm: √(u² + division²/12).
    pub fn reading_u_mm(&self) -> f64 {
        with_rounding_mm(self.tape_reading_u_mm, self.tape.division_mm())
    }
}

/// A reading's own standard uncertainty with that of its rounding to a division, mm (JCGM 100:2008, 4.3.7).
pub(crate) fn with_rounding_mm(u_mm: f64, division_mm: f64) -> f64 {
    (u_mm.powi(2) + division_mm * division_mm / 12.0).sqrt()
}

impl Default for Instrument {
    fn default() -> Self {
        Self {
            tape: Tape::default(),
            tape_reading_u_mm: default_tape_reading_u_mm(),
            bounce_repeat_u_mm: default_bounce_repeat_u_mm(),
            extra: Map::new(),
        }
    }
}

/// A tape's division: `{"unit":"in","den":16}`, `{"unit":"in","den":32}`, `{"unit":"mm","step_mm":1}` or
/// `{"unit":"cm","step_mm":1}`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Tape {
    /// `in`, `mm` or `cm`.
    #[serde(default = "mm")]
    pub unit: String,
    /// Parts of an inch, on an inch tape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub den: Option<u32>,
    /// Division of a metric tape, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_mm: Option<f64>,
}

impl Default for Tape {
    fn default() -> Self {
        Self { unit: mm(), den: None, step_mm: Some(1.0) }
    }
}

impl Tape {
    /// Length of one division, mm.
    pub fn division_mm(&self) -> f64 {
        match (self.unit.as_str(), self.den, self.step_mm) {
            ("in", Some(parts), _) if parts > 0 => 25.4 / f64::from(parts),
            ("in", _, None) => 25.4 / 16.0,
            (_, _, Some(step)) => step,
            _ => 1.0,
        }
    }
}

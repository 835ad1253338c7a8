//! The tapes and gauges a person owns: division, accuracy class, where a tape is read from, and what its check said.
//!
//! An entry never changes: what is found out later about a tape makes a new entry that replaces the earlier one, and what was
//! read with the earlier one goes on naming it.

use super::instrument::{Tape, with_rounding_mm};
use super::or_default;
use crate::car::Estimate;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Angle gauge on the car, one reading, deg; common practice, no source.
pub const GAUGE_U_DEG: f64 = 0.07;

/// A tape or an angle gauge that a person owns.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum OwnedInstrument {
    /// Anything with a length on it: tape, folding rule, steel rule, staff.
    Tape(OwnedTape),
    /// A digital level or an angle gauge.
    AngleGauge(OwnedGauge),
}

impl OwnedInstrument {
    /// Name in files.
    pub fn id(&self) -> &str {
        match self {
            Self::Tape(tape) => &tape.id,
            Self::AngleGauge(gauge) => &gauge.id,
        }
    }

    /// What the person calls it.
    pub fn label(&self) -> &str {
        match self {
            Self::Tape(tape) => &tape.label,
            Self::AngleGauge(gauge) => &gauge.label,
        }
    }

    /// The earlier entry of the same instrument.
    pub fn replaces(&self) -> Option<&str> {
        match self {
            Self::Tape(tape) => tape.replaces.as_deref(),
            Self::AngleGauge(gauge) => gauge.replaces.as_deref(),
        }
    }
}

/// A tape, and what is known of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OwnedTape {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// Its division.
    #[serde(default, deserialize_with = "or_default")]
    pub tape: Tape,
    /// Length of the whole tape, mm; absent: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
    /// Accuracy class as printed on it; absent: not marked, which counts as the widest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<LengthClass>,
    /// Standard uncertainty of one reading without its rounding, mm; absent: the file's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading_u_mm: Option<f64>,
    /// What every reading says too much because of the hook end, mm: above 0 where the end is worn away, below 0 where the hook is
    /// bent out. Without effect where the tape is read from a mark; absent: 0 ± 0.5 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hook_mm: Option<Estimate>,
    /// The mark that is held where the end should be, mm: 25.4 for a tape read from its one-inch mark, which says so much too much.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "is_nothing")]
    pub read_from_mm: f64,
    /// Comparisons with something better, in the order they were made.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub checks: Vec<TapeCheck>,
    /// Day of this entry, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// The earlier entry of the same tape, which this one replaces from its day on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks with a reference")]
fn is_nothing(value: &f64) -> bool {
    *value == 0.0
}

/// A tape held against another length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TapeCheck {
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// What it was held against, in words.
    #[serde(default, deserialize_with = "or_default")]
    pub against: String,
    /// What the tape said, read as it is read on the car (hooked on, or from the same mark), mm.
    pub read_mm: f64,
    /// The true length, mm.
    pub true_mm: f64,
    /// Standard uncertainty of the comparison, mm.
    pub u_mm: f64,
}

/// Accuracy class of a material measure of length: a + b·L, L in metres rounded up (Directive 2014/32/EU, annex VIII, chapter I).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub enum LengthClass {
    /// 0.1 mm + 0.1 mm a metre.
    I,
    /// 0.3 mm + 0.2 mm a metre.
    II,
    /// 0.6 mm + 0.4 mm a metre.
    III,
}

impl LengthClass {
    /// The largest error the class allows at a length, mm: a + b·L, L rounded up to the next whole metre, at least 1.
    ///
    /// ```
    /// use trueground_core::capture::LengthClass;
    /// assert_eq!(LengthClass::II.limit_mm(640.0), 0.5);
    /// assert_eq!(LengthClass::II.limit_mm(1_001.0), 0.7);
    /// ```
    pub fn limit_mm(self, length_mm: f64) -> f64 {
        let (a, b) = match self {
            Self::I => (0.1, 0.1),
            Self::II => (0.3, 0.2),
            Self::III => (0.6, 0.4),
        };
        a + b * (length_mm.abs() / 1_000.0).ceil().max(1.0)
    }
}

impl OwnedTape {
    /// The class whose limits count: the printed one, else III, the widest (common practice, no source).
    pub fn class_that_counts(&self) -> LengthClass {
        self.class.unwrap_or(LengthClass::III)
    }

    /// The check that counts: the newest, of two on one day the later.
    pub fn newest_check(&self) -> Option<&TapeCheck> {
        self.checks.iter().max_by(|a, b| a.date.cmp(&b.date))
    }

    /// Why no reading can say this: it lies before the mark that the tape is read from, or past its end. Message and hint.
    pub fn off_the_tape(&self, value_mm: f64) -> Option<(String, &'static str)> {
        let from = self.read_from_mm;
        if from > 0.0 && value_mm <= from {
            let message = format!("{value_mm} mm lies before the mark at {from} mm that the tape is read from");
            return Some((message, "enter what the tape says; the mark is taken off afterwards"));
        }
        let length = self.length_mm.filter(|length| value_mm > *length)?;
        let message = format!("{value_mm} mm is past the end of the tape, {length} mm");
        Some((message, "correct the value, or the tape's length"))
    }

    /// Standard uncertainty of one reading with its rounding, mm, where `otherwise_mm` is that of a tape which says nothing.
    pub fn reading_u_mm(&self, otherwise_mm: f64) -> f64 {
        with_rounding_mm(self.reading_u_mm.unwrap_or(otherwise_mm), self.tape.division_mm())
    }
}

/// An angle gauge, and what is known of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct OwnedGauge {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// Smallest step it shows, deg.
    #[serde(default = "default_step_deg")]
    pub step_deg: f64,
    /// Standard uncertainty of one reading without its rounding, deg; absent: 0.07 on the car, 0.1 on a straightedge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading_u_deg: Option<f64>,
    /// Straight and turned end for end on one and the same place, in the order they were made.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub checks: Vec<GaugeCheck>,
    /// Day of this entry, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// The earlier entry of the same gauge, which this one replaces from its day on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn default_step_deg() -> f64 {
    0.1
}

/// A gauge laid on one place, then turned end for end on it. Both readings with the sign that the gauge itself shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GaugeCheck {
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// Straight, deg.
    pub straight_deg: f64,
    /// Turned end for end, deg.
    pub reversed_deg: f64,
    /// Standard uncertainty of the zero, deg; absent: from that of its two readings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
}

impl OwnedGauge {
    /// Standard uncertainty of one reading with its rounding, deg, where `otherwise_deg` is that of a gauge which says nothing.
    pub fn reading_u_deg(&self, otherwise_deg: f64) -> f64 {
        with_rounding_mm(self.reading_u_deg.unwrap_or(otherwise_deg), self.step_deg)
    }

    /// What a straight reading says too much, deg, with its standard uncertainty: half the sum of straight and reversed, since the
    /// place itself shows once as +a and once as −a. `None` without a check.
    pub fn zero_deg(&self) -> Option<(f64, f64)> {
        let check = self.checks.iter().max_by(|a, b| a.date.cmp(&b.date))?;
        let u = check.u_deg.unwrap_or_else(|| self.reading_u_deg(GAUGE_U_DEG) / 2.0_f64.sqrt());
        Some(((check.straight_deg + check.reversed_deg) / 2.0, u))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// Straight 0.9, turned −0.5: the place has 0.7, the gauge says 0.2 too much. u of one reading √(0.05² + 0.1²/12) = 0.05774,
    /// of half the sum of two 0.05774/√2 = 0.04082.
    #[test]
    fn the_zero_of_a_gauge_is_half_the_sum_of_straight_and_turned() {
        let gauge: OwnedGauge = serde_json::from_value(json!({"id": "g", "step_deg": 0.1, "reading_u_deg": 0.05,
            "checks": [{"date": "2031-04-01", "straight_deg": 5.0, "reversed_deg": 5.0},
                       {"date": "2031-04-12", "straight_deg": 0.9, "reversed_deg": -0.5}]}))
        .expect("a gauge");
        let (zero, u) = gauge.zero_deg().expect("checked");
        assert!((zero - 0.2).abs() < 1e-12 && (u - 0.040_825).abs() < 1e-6, "{zero} ± {u}");
    }

    /// Directive 2014/32/EU, annex VIII, chapter I, table 1: a and b in mm, L rounded up to the next whole metre.
    #[test]
    fn a_class_allows_what_the_directive_says() {
        let rows = [(LengthClass::I, [0.2, 0.3]), (LengthClass::II, [0.5, 0.7]), (LengthClass::III, [1.0, 1.4])];
        for (class, limits) in rows {
            for (length, limit) in [(400.0, limits[0]), (1_000.0, limits[0]), (1_500.0, limits[1])] {
                assert!((class.limit_mm(length) - limit).abs() < 1e-12, "{class:?} at {length}");
            }
        }
    }

    #[test]
    fn an_entry_keeps_what_it_does_not_know() {
        let text = json!({"kind": "tape", "id": "t", "label": "Shop tape", "tape": {"unit": "in", "den": 32}, "class": "II",
            "hook_mm": {"value": 1.5, "u": 0.3}, "read_from_mm": 25.4, "colour": "yellow",
            "checks": [{"date": "2031-04-12", "against": "steel rule", "read_mm": 501.0, "true_mm": 500.0, "u_mm": 0.3}]});
        let owned: OwnedInstrument = serde_json::from_value(text.clone()).expect("a tape");
        assert_eq!(owned.id(), "t");
        assert_eq!(serde_json::to_value(&owned).expect("writable"), text);
    }
}

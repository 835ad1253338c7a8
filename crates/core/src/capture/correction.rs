//! A dated correction of a finished snapshot: what stood there, what stands there now, and why.
//!
//! In a file the snapshot itself carries the corrected values, so that a program that does not know corrections reads them;
//! `old` keeps what stood there before. A correction is never removed: one that was wrong is taken back by another.

use super::condition::LoadChange;
use super::or_default;
use super::snapshot::Facing;
use crate::corner::Corners;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// One correction, in the order they were made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Correction {
    /// Its id.
    pub uuid: String,
    /// When it was made, `YYYY-MM-DDTHH:MM:SS+HH:MM`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// What kind.
    pub what: Corrected,
    /// The person's reason.
    #[serde(default, deserialize_with = "or_default")]
    pub reason: String,
    /// The reading's id; absent where it is not about a reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading: Option<String>,
    /// Key of the snapshot that was corrected: `floor`, `facing`, `odometer_km`, …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// The correction that is taken back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
    /// What stood there: of a reading's value its text, unit and number; of a condition what the key held; absent: nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(type = "unknown"))]
    pub old: Option<Value>,
    /// What stands there now, in the same shape; of a reading that was missed the whole reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(type = "unknown"))]
    pub new: Option<Value>,
    /// As typed, where `new` is not what was typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What a correction does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Corrected {
    /// Another value of a reading.
    Value,
    /// A reading is struck.
    Struck,
    /// A struck reading counts again.
    BroughtBack,
    /// A reading that was missed.
    Added,
    /// Another condition: floor, facing, load, pressures, odometer, date, name.
    Condition,
    /// An earlier correction is taken back.
    TakenBack,
}

/// Whether a key of a snapshot may be corrected and hold this; `null` is what the snapshot does not say.
pub fn condition_fits(field: &str, value: &Value) -> bool {
    fn is<T: serde::de::DeserializeOwned>(value: &Value) -> bool {
        T::deserialize(value).is_ok()
    }
    match field {
        "floor" | "label" | "tape" | "gauge" => is::<Option<String>>(value),
        "facing" => is::<Option<Facing>>(value),
        "load_change_from_nominal" => is::<Option<Vec<LoadChange>>>(value),
        "tire_pressure_kpa" => is::<Option<Corners<f64>>>(value),
        "odometer_km" | "air_c" => is::<Option<f64>>(value),
        "date" => is::<String>(value),
        _ => false,
    }
}

impl Correction {
    /// Ids of the corrections that are taken back and not brought again.
    pub fn taken_back(corrections: &[Self]) -> BTreeSet<&str> {
        let mut taken_back = BTreeSet::new();
        for correction in corrections.iter().rev() {
            if correction.what == Corrected::TakenBack && !taken_back.contains(correction.uuid.as_str()) {
                taken_back.extend(correction.of.as_deref());
            }
        }
        taken_back
    }

    /// Those that count, in their order.
    pub fn in_force(corrections: &[Self]) -> impl Iterator<Item = &Self> {
        let taken_back = Self::taken_back(corrections);
        corrections.iter().filter(move |correction| !taken_back.contains(correction.uuid.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn correction(uuid: &str, of: Option<&str>) -> Correction {
        let what = if of.is_some() { Corrected::TakenBack } else { Corrected::Struck };
        Correction {
            uuid: uuid.to_owned(),
            at: None,
            what,
            reason: String::new(),
            reading: None,
            field: None,
            of: of.map(str::to_owned),
            old: None,
            new: None,
            text: None,
            extra: Map::new(),
        }
    }

    #[test]
    fn what_is_taken_back_can_be_brought_again_by_taking_that_back() {
        let mut history = vec![correction("a", None), correction("b", Some("a"))];
        assert_eq!(Correction::taken_back(&history), BTreeSet::from(["a"]));
        history.push(correction("c", Some("b")));
        assert_eq!(Correction::taken_back(&history), BTreeSet::from(["b"]), "a counts again");
        let counts: Vec<&str> = Correction::in_force(&history).map(|each| each.uuid.as_str()).collect();
        assert_eq!(counts, ["a", "c"]);
    }
}

//! The car's own twist, found once and used as a gauge.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The car's own twist of one kind of point, FL − FR − RL + RR: a gauge for a floor that nobody levelled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KnownTwist {
    /// mm.
    pub value: f64,
    /// Its standard uncertainty, mm, above 0.
    pub u: f64,
    /// The snapshot it was found in; absent: stated by the person, and then it holds for every snapshot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub snapshot: Option<String>,
    /// Day it was found, `YYYY-MM-DD`: it holds from then on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// First day on which it holds no more, since the body or the frame was worked on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// What ended it, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ended_by: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl KnownTwist {
    /// True where it may be used for a snapshot of that name and day. ISO days compare as texts.
    pub fn holds_for(&self, snapshot: &str, date: &str) -> bool {
        self.snapshot.as_deref() != Some(snapshot)
            && self.date.as_deref().is_none_or(|from| from <= date)
            && self.until.as_deref().is_none_or(|until| date < until)
    }
}

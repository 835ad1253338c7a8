//! Plans, parts and ticks as they are kept: nothing is changed, what is replaced and put away stays beside.

use super::change::Change;
use crate::bench::Refusal;
use crate::capture::{CarFile, or_default};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A plan that the person keeps: changes in order on a measured stance. A prediction, never a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KeptPlan {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// The snapshot it sets out from; absent: the last one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The target it is to reach, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub target: Option<String>,
    /// Its changes in order, those left out too.
    #[serde(default, deserialize_with = "or_default")]
    pub changes: Vec<KeptChange>,
    /// A remark of the person.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Day of this entry, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// Name of the earlier entry that this one replaces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A change in a plan that is kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KeptChange {
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// True where the plan looks at it without doing it.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "std::ops::Not::not")]
    pub left_out: bool,
    /// As `changes[].steps[]` of a file.
    #[serde(default, deserialize_with = "or_default")]
    #[cfg_attr(feature = "ts", ts(type = "Array<Record<string, unknown>>"))]
    pub steps: Vec<Value>,
}

/// A part that a person has or could buy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct KeptPart {
    /// Name in files.
    #[serde(default, deserialize_with = "or_default")]
    pub id: String,
    /// Day of this entry, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// Name of the earlier entry that this one replaces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<String>,
    /// `label`, `slot`, `steps`, `price`, `hours`: looked at where they are used.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub says: Map<String, Value>,
}

/// That a plan, a part was put away or brought back, or that a plan was carried out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PlanMark {
    /// Name of the mark, so that it counts once.
    pub uuid: String,
    /// The plan's or the part's name.
    pub of: String,
    /// What was done.
    pub what: PlanMarkKind,
    /// When, ISO 8601 with its offset.
    #[serde(default, deserialize_with = "or_default")]
    pub at: String,
}

/// What can be done to a plan or a part without changing it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum PlanMarkKind {
    /// No longer offered.
    PutAway,
    /// Offered again.
    BroughtBack,
    /// The work was done: what is measured from that day on is held against it.
    CarriedOut,
}

/// A task of the list that work makes, ticked or not any more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Tick {
    /// Name of the tick, so that it counts once.
    pub uuid: String,
    /// The event whose list it is.
    pub event: String,
    /// The task by its code.
    pub task: String,
    /// False where a tick was taken back.
    #[serde(default, deserialize_with = "or_default")]
    pub done: bool,
    /// When, ISO 8601 with its offset.
    #[serde(default, deserialize_with = "or_default")]
    pub at: String,
}

fn away(file: &CarFile, id: &str) -> bool {
    let marks = file.plan_marks.iter().rev().filter(|mark| mark.what != PlanMarkKind::CarriedOut);
    marks.filter(|mark| mark.of == id).map(|mark| mark.what).next() == Some(PlanMarkKind::PutAway)
}

impl KeptPlan {
    /// True where it is neither replaced nor put away.
    pub fn is_offered(&self, file: &CarFile) -> bool {
        !file.plans.iter().any(|other| other.replaces.as_deref() == Some(&self.id)) && !away(file, &self.id)
    }

    /// Its changes that are not left out, in order.
    ///
    /// # Errors
    /// One cannot be read: its place and what is wrong.
    pub fn done_changes(&self) -> Result<Vec<Change>, Refusal> {
        let done = self.changes.iter().enumerate().filter(|(_, change)| !change.left_out);
        let read = done.map(|(i, change)| {
            let label = if change.label.is_empty() { format!("change {}", i + 1) } else { change.label.clone() };
            Change::of_steps(&format!("{}.{i}", self.id), &label, &change.steps, &format!("changes[{i}].steps"))
        });
        read.collect()
    }

    /// The day on which its work was done, `YYYY-MM-DD…`, where it was.
    pub fn carried_out<'f>(&self, file: &'f CarFile) -> Option<&'f str> {
        let marks = file.plan_marks.iter().rev().filter(|mark| mark.what == PlanMarkKind::CarriedOut);
        marks.filter(|mark| mark.of == self.id).map(|mark| mark.at.as_str()).next()
    }
}

impl KeptPart {
    /// True where it is neither replaced nor put away.
    pub fn is_offered(&self, file: &CarFile) -> bool {
        let replaced =
            !self.id.is_empty() && file.parts.iter().any(|other| other.replaces.as_deref() == Some(&self.id));
        !replaced && !away(file, &self.id)
    }

    /// As it stands in a file.
    pub fn written(&self) -> Value {
        serde_json::to_value(self).unwrap_or(Value::Null)
    }
}

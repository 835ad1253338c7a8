//! What was observed: floors and their levelling, snapshots with bounces and readings, and the instruments.
//!
//! These types are the exchange file (version 1), the rows of the store, and the wire to the interface at once. A key
//! that is not known here is kept in `extra` and written back.

mod condition;
mod correction;
mod event;
mod floor;
mod instrument;
mod owned;
mod photo;
mod reading;
mod snapshot;

pub use condition::*;
pub use correction::*;
pub use event::*;
pub use floor::*;
pub use instrument::*;
pub use owned::*;
pub use photo::*;
pub use reading::*;
pub use snapshot::*;

use crate::car::{GroundAngles, Vehicle};
use crate::ground::OwnGround;
use crate::plan::{KeptPart, KeptPlan, PlanMark, Tick};
use crate::target::{Target, TargetMark};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// One car with all that was measured on it: the exchange file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CarFile {
    /// The car.
    pub vehicle: Vehicle,
    /// Where it was measured.
    #[serde(default, deserialize_with = "or_default")]
    pub floors: Vec<Floor>,
    /// When and how it was measured.
    #[serde(default, deserialize_with = "or_default")]
    pub snapshots: Vec<Snapshot>,
    /// The tape and how well it repeats.
    #[serde(default, deserialize_with = "or_default")]
    pub instrument: Instrument,
    /// The tapes and gauges that its readings name; what names none was read with `instrument`.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub instruments: Vec<OwnedInstrument>,
    /// Dated work on the car and notes, those that count.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub events: Vec<Event>,
    /// What happened to the entries of events that were changed or withdrawn, in the order of entry.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub event_changes: Vec<EventChange>,
    /// Stances that are wanted, replaced and put away ones too. That of a file of version 1 stands in `extra` under `target`.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub targets: Vec<Target>,
    /// Which of them were put away or brought back, oldest first.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub target_marks: Vec<TargetMark>,
    /// Slopes that the person meets with the car.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ground: Option<GroundAngles>,
    /// Ground that the car has to drive over, put away ones too.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub grounds: Vec<OwnGround>,
    /// Plans that the person keeps, replaced and put away ones too. Changes of version 1 stand in `extra` under `changes`.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub plans: Vec<KeptPlan>,
    /// Parts that the person has or could buy.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<KeptPart>,
    /// Which plans and parts were put away, brought back or carried out, oldest first.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub plan_marks: Vec<PlanMark>,
    /// Tasks after work that were ticked, oldest first.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub ticks: Vec<Tick>,
    /// Whatever else the file said: target, changes and what later versions add.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

fn mm() -> String {
    "mm".to_owned()
}

/// Whole days from one day to another, both `YYYY-MM-DD…`; `None` where one is no date.
pub fn days_between(from: &str, to: &str) -> Option<i64> {
    let day = |text: &str| chrono::NaiveDate::parse_from_str(text.get(..10)?, "%Y-%m-%d").ok();
    Some((day(to)? - day(from)?).num_days())
}

/// The day so many days after another, both `YYYY-MM-DD`; `None` where that is no date or has none.
pub fn day_after(from: &str, days: i64) -> Option<String> {
    let day = chrono::NaiveDate::parse_from_str(from.get(..10)?, "%Y-%m-%d").ok()?;
    Some(day.checked_add_signed(chrono::TimeDelta::try_days(days)?)?.to_string())
}

/// What is absent and what is `null` are the same: not said.
pub(crate) fn or_default<'de, D, T>(from: D) -> Result<T, D::Error>
where
    D: serde::Deserializer<'de>,
    T: Default + Deserialize<'de>,
{
    Ok(Option::<T>::deserialize(from)?.unwrap_or_default())
}

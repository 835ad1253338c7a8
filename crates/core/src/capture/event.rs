//! Dated work on the car, and notes: what was done, by a code of its own, and what that does to heights.
//!
//! In a file `events` are those that count. What was changed or withdrawn stands in `event_changes`, so that a program that does not
//! know them reads what counts; nothing is ever removed from there.

mod kind;

pub use kind::{EventEffect, EventGroup, EventKind};

use super::or_default;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Dated work on the car, or a note.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Event {
    /// Name in files; absent: none was given, and the event is known by its day and its words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// Kilometres on the clock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odometer_km: Option<f64>,
    /// What kind of work: a code of [`EventKind`], or one that a later version knows; absent: said in words only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<String>,
    /// At which end of the car; absent: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<EventEnd>,
    /// In words.
    pub what: String,
    /// Whatever else the person wrote down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// True where springs start settling anew.
    #[serde(default, deserialize_with = "or_default")]
    pub resets_settling: bool,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl Event {
    /// Its kind, where it has one that is known here.
    pub fn known_kind(&self) -> Option<EventKind> {
        EventKind::from_code(self.kind.as_deref()?)
    }

    /// What it does to heights. Work that is said in words only, or of a kind that is not known here, moves nothing unless it
    /// says that springs start settling anew.
    pub fn effect(&self) -> EventEffect {
        match self.known_kind() {
            _ if self.resets_settling => EventEffect::SettlesAnew,
            Some(kind) if kind.effect() == EventEffect::SettlesAnew => EventEffect::Moves,
            Some(kind) => kind.effect(),
            None => EventEffect::Nothing,
        }
    }
}

/// Which end of the car was worked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum EventEnd {
    /// In front.
    Front,
    /// Behind.
    Rear,
    /// Both ends.
    Both,
}

impl EventEnd {
    /// As it stands in a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Both => "front and rear",
        }
    }
}

/// One dated row of what happened to the entry of an event, in the order of entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct EventChange {
    /// Id of the row.
    pub uuid: String,
    /// Id of the event it is about.
    pub event: String,
    /// When it was entered, `YYYY-MM-DDTHH:MM:SS+HH:MM`; absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// What happened.
    pub what: EventChanged,
    /// The person's reason.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "String::is_empty")]
    pub reason: String,
    /// The event as it was kept or changed; absent where it was withdrawn or brought back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub says: Option<Event>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What happened to the entry of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum EventChanged {
    /// It was entered.
    Kept,
    /// It says something else from then on.
    Changed,
    /// It no longer counts.
    Withdrawn,
    /// It counts again.
    BroughtBack,
}

impl EventChange {
    /// What an event says after its rows, and whether it counts; `None` where no row says anything. Rows of one event only.
    pub fn replay<'a>(rows: impl IntoIterator<Item = &'a Self>) -> Option<(&'a Event, bool)> {
        let (mut says, mut counts) = (None, true);
        for row in rows {
            match row.what {
                EventChanged::Kept | EventChanged::Changed => says = row.says.as_ref().or(says),
                EventChanged::Withdrawn => counts = false,
                EventChanged::BroughtBack => counts = true,
            }
        }
        says.map(|says| (says, counts))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_the_person_says_about_settling_goes_before_the_kind() {
        let read = |text: Value| serde_json::from_value::<Event>(text).expect("an event").effect();
        let tires = json!({"date": "2031-05-03", "what": "bias plies", "kind": "tires"});
        assert_eq!(read(tires.clone()), EventEffect::Moves);
        let mut settling = tires;
        settling["resets_settling"] = json!(true);
        assert_eq!(read(settling), EventEffect::SettlesAnew);
        let leaves = json!({"date": "2031-05-03", "what": "one leaf", "kind": "leaves_out", "resets_settling": false});
        assert_eq!(read(leaves), EventEffect::Moves, "it moved the car all the same");
        let later = json!({"date": "2031-05-03", "what": "air bags", "kind": "air_bags"});
        assert_eq!(read(later), EventEffect::Nothing);
    }

    #[test]
    fn an_event_of_version_1_reads_and_writes_as_before() {
        let text = json!({"date": "2031-05-03", "odometer_km": 61_240.0, "what": "rear leaves out", "resets_settling": true, "by": "me"});
        let event: Event = serde_json::from_value(text.clone()).expect("an event");
        assert_eq!(event.known_kind(), None);
        assert_eq!(serde_json::to_value(&event).expect("writable"), text);
    }

    #[test]
    fn a_kind_of_a_later_version_is_kept() {
        let text = json!({"id": "e", "date": "2031-05-03", "kind": "air_bags", "end": "rear", "what": "air bags", "note": "both", "resets_settling": false});
        let event: Event = serde_json::from_value(text.clone()).expect("an event");
        assert_eq!(serde_json::to_value(&event).expect("writable"), text);
    }

    #[test]
    fn the_last_words_count_and_what_is_withdrawn_can_come_back() {
        let row = |what: &str, says: Option<&str>| {
            let mut row = json!({"uuid": what, "event": "e", "what": what});
            if let Some(says) = says {
                row["says"] = json!({"date": "2031-05-03", "what": says});
            }
            serde_json::from_value::<EventChange>(row).expect("a row")
        };
        let mut rows = vec![row("kept", Some("one leaf")), row("changed", Some("two leaves")), row("withdrawn", None)];
        let after = |rows: &[EventChange]| {
            EventChange::replay(rows).map(|(event, counts)| (event.what.clone(), counts)).expect("says something")
        };
        assert_eq!(after(&rows), ("two leaves".to_owned(), false));
        rows.push(row("brought_back", None));
        assert_eq!(after(&rows), ("two leaves".to_owned(), true));
        assert!(EventChange::replay(&[row("withdrawn", None)]).is_none());
    }
}

//! Entries of a car's history that a person makes: the rows that the store keeps.

use crate::Now;
use trueground_core::capture::{Event, EventChange, EventChanged};

/// The row that keeps a new event.
pub(crate) fn kept(says: Event, now: &Now<'_>) -> EventChange {
    let id = now.id().to_string();
    row(id.clone(), id, EventChanged::Kept, Some(says), now)
}

fn row(uuid: String, event: String, what: EventChanged, says: Option<Event>, now: &Now<'_>) -> EventChange {
    let at = Some(now.stamp().iso());
    EventChange { uuid, event, at, what, reason: String::new(), says, extra: serde_json::Map::new() }
}

//! Work on a car and notes: from a typed form to the rows that the store keeps, and back.

use crate::condition::odometer;
use crate::fields::Fields;
use crate::wire::{EventChoice, EventForm, Problem};
use crate::words::capital;
use crate::{Garage, Now, moment};
use trueground_core::capture::{Event, EventChange, EventChanged, EventEffect, EventKind};
use trueground_core::validate::event_faults;
use trueground_core::wording::shown;
use trueground_store::{EventRecord, StoreError};
use uuid::Uuid;

/// The row that keeps a new event.
pub(crate) fn kept(says: Event, now: &Now<'_>) -> EventChange {
    let id = now.id().to_string();
    row(&id, EventChanged::Kept, Some(says), now)
}

/// The next row of an event.
pub(crate) fn row(event: &str, what: EventChanged, says: Option<Event>, now: &Now<'_>) -> EventChange {
    EventChange {
        uuid: now.id().to_string(),
        event: event.to_owned(),
        at: Some(now.stamp().iso()),
        what,
        reason: String::new(),
        says,
        extra: serde_json::Map::new(),
    }
}

/// The event of that id.
///
/// # Errors
/// There is none.
pub(crate) fn find(garage: &Garage, car: Uuid, event: &str) -> Result<EventRecord, Problem> {
    let (events, _) = garage.store.car_events(car)?;
    let found = events.into_iter().find(|record| record.name == event);
    Ok(found.ok_or_else(|| StoreError::NotFound { what: "event", id: shown(event) })?)
}

/// Reads a form over what the event says already, so that what the form does not show stays. `None` where something cannot be
/// read: `fields` has it.
pub(crate) fn read(fields: &mut Fields, form: &EventForm, before: Option<&Event>, now: &Now<'_>) -> Option<Event> {
    let before = before.cloned().unwrap_or_default();
    let kind = EventKind::from_code(&form.kind);
    let own = before.kind.clone().filter(|own| *own == form.kind);
    if kind.is_none() && own.is_none() && (before.what.is_empty() || !form.kind.is_empty()) {
        fields.refuse(
            "kind",
            &form.kind,
            "What was done is not chosen.",
            "Choose one; \u{201c}note\u{201d} takes anything.",
        );
    }
    let date = moment::day(fields, &form.date, now);
    let odometer_km = odometer(fields, &form.odometer);
    let end = form.end.filter(|_| kind.is_none_or(ends));
    let what = what(fields, form, kind, end, &before);
    let note = Some(form.note.trim().to_owned()).filter(|note| !note.is_empty());
    let resets_settling = form
        .resets_settling
        .filter(|_| kind.is_none_or(moves))
        .unwrap_or_else(|| kind.map_or(before.resets_settling, EventKind::resets_settling));
    let event = Event {
        date: date?,
        odometer_km,
        kind: kind.map(|kind| kind.code().to_owned()).or(own),
        end,
        what: what?,
        note,
        resets_settling,
        ..before
    };
    for fault in event_faults(&event).into_iter().filter(|fault| fault.place == "note") {
        fields.refuse(
            "note",
            &form.note,
            &format!("{}.", capital(&fault.message)),
            &format!("{}.", capital(&fault.hint)),
        );
    }
    Some(event)
}

/// The words of an event: as typed, else those of its kind and end.
fn what(
    fields: &mut Fields,
    form: &EventForm,
    kind: Option<EventKind>,
    end: Option<trueground_core::capture::EventEnd>,
    before: &Event,
) -> Option<String> {
    let typed = form.what.trim();
    if !typed.is_empty() {
        // What a file said at length stays as it was.
        return if typed == before.what { Some(before.what.clone()) } else { fields.label("what", "The work", typed) };
    }
    match kind {
        Some(EventKind::Note) if form.note.trim().is_empty() => {
            fields.refuse("note", &form.note, "The note is empty.", "Type what is worth knowing later.");
            None
        }
        Some(kind) => Some(match end {
            Some(end) => format!("{}, {}", kind.words(), end.words()),
            None => kind.words().to_owned(),
        }),
        None => {
            fields.refuse("what", &form.what, "What was done is missing.", "Say it in a few words.");
            None
        }
    }
}

/// The form that would write this event.
pub(crate) fn form(car: &str, record: &EventRecord) -> EventForm {
    let event = &record.event;
    let own_words = |kind: EventKind| {
        let end = event.end.map(|end| format!(", {}", end.words())).unwrap_or_default();
        event.what == format!("{}{end}", kind.words())
    };
    EventForm {
        car: car.to_owned(),
        event: Some(record.name.clone()),
        kind: event.kind.clone().unwrap_or_default(),
        end: event.end,
        date: event.date.clone(),
        odometer: event.odometer_km.map(|km| km.to_string()).unwrap_or_default(),
        what: if event.known_kind().is_some_and(own_words) { String::new() } else { event.what.clone() },
        note: event.note.clone().unwrap_or_default(),
        resets_settling: Some(event.resets_settling),
    }
}

/// An empty form with today's date.
pub(crate) fn blank(car: &str, now: &Now<'_>) -> EventForm {
    EventForm {
        car: car.to_owned(),
        event: None,
        kind: String::new(),
        end: None,
        date: now.stamp().date(),
        odometer: String::new(),
        what: String::new(),
        note: String::new(),
        resets_settling: None,
    }
}

/// Kinds of work as they are offered.
pub(crate) fn choices() -> Vec<EventChoice> {
    let choice = |kind: EventKind| EventChoice {
        kind: kind.code().to_owned(),
        words: capital(kind.words()),
        group: kind.group().words().to_owned(),
        resets_settling: kind.resets_settling(),
        ends: ends(kind),
        moves: moves(kind),
        effect: effect(kind.effect()).to_owned(),
        caution: caution(kind),
    };
    EventKind::ALL.iter().copied().map(choice).collect()
}

fn ends(kind: EventKind) -> bool {
    use EventKind::{
        BlocksShims, Bushings, Coils, Dampers, DroppedAxle, EyesReversed, FrameWork, HeavyParts, LeavesIn, LeavesOut,
        OtherSprings, Shackles, SpringPerch, Tires, TorqueCheck, Wheels,
    };
    matches!(
        kind,
        LeavesOut
            | LeavesIn
            | EyesReversed
            | OtherSprings
            | Coils
            | Bushings
            | BlocksShims
            | Shackles
            | SpringPerch
            | DroppedAxle
            | FrameWork
            | Dampers
            | Tires
            | Wheels
            | HeavyParts
            | TorqueCheck
    )
}

fn moves(kind: EventKind) -> bool {
    kind.effect() != EventEffect::Nothing
}

/// What work does to heights, for a person.
pub(crate) const fn effect(effect: EventEffect) -> &'static str {
    match effect {
        EventEffect::SettlesAnew => {
            "The curve of settling begins again on this day. Earlier heights stay, and take no part in it."
        }
        EventEffect::Moves => {
            "Heights may stand elsewhere from this day. Springs go on settling as before, without a new curve."
        }
        EventEffect::MayMove => "A few mm may be due to it. The curve of settling goes on across this day.",
        EventEffect::Nothing => "Heights stay as they are.",
    }
}

/// What can hurt at this work, and what is looked at after it.
fn caution(kind: EventKind) -> String {
    const UNDER: &str =
        "Wheels on the ground or on rated stands on solid floor. Never put any part of you under a car held by a jack.";
    const LEAVES: &str =
        "Clamped leaves hold energy: centre bolt out only with clamps. Do not heat, torch or weld spring steel.";
    const AFTER: &str =
        "Before driving look at brake lines, steering lock to lock, tire to fender and frame, and bump travel.";
    const QUALIFIED: &str =
        "Structural and steering work belongs to a qualified person; local codes may require approval.";
    let parts: &[&str] = match kind {
        EventKind::LeavesOut => &[LEAVES, "A removed leaf raises stress in the rest.", AFTER],
        EventKind::LeavesIn | EventKind::EyesReversed | EventKind::OtherSprings => &[LEAVES, AFTER],
        EventKind::Coils => &["A squeezed coil holds energy: use clamps made for it. Never heat one.", AFTER],
        EventKind::FrameWork | EventKind::DroppedAxle => &[QUALIFIED, AFTER],
        EventKind::SpringPerch => &[QUALIFIED, UNDER, AFTER],
        EventKind::Bushings | EventKind::BlocksShims | EventKind::Shackles | EventKind::Dampers => &[UNDER, AFTER],
        EventKind::TorqueCheck => &[UNDER],
        EventKind::Tires | EventKind::Wheels => {
            &["Before driving look at tire to fender and frame, and turn the steering lock to lock."]
        }
        EventKind::Channelled | EventKind::BodyRemounted => &[AFTER],
        EventKind::BackOnTheRoad => &["Before driving look at tires, brakes and hoses."],
        EventKind::BodyWork
        | EventKind::HeavyParts
        | EventKind::MarksAnew
        | EventKind::Alignment
        | EventKind::StoredForWinter
        | EventKind::Note => &[],
    };
    parts.join(" ")
}

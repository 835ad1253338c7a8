//! Whether dated work on the car makes sense.

use super::Faults;
use super::measured::date;
use crate::capture::{CarFile, Event, EventChanged};
use crate::wording::shown;

const MOST_EVENTS: usize = 10_000;
const MOST_CHANGES: usize = 50_000;
/// Longer than any page of a notebook.
const LONGEST_NOTE: usize = 8_000;

pub(super) fn check(file: &CarFile, found: &mut Faults) {
    found.count("events", file.events.len(), MOST_EVENTS);
    found.names("events", file.events.iter().filter_map(|event| event.id.as_deref()));
    for (number, event) in file.events.iter().enumerate() {
        check_one(&format!("events[{number}]"), event, found);
    }
    found.count("event_changes", file.event_changes.len(), MOST_CHANGES);
    found.names("event_changes", file.event_changes.iter().map(|row| row.uuid.as_str()));
    for (number, row) in file.event_changes.iter().enumerate() {
        let place = format!("event_changes[{number}]");
        let says = matches!(row.what, EventChanged::Kept | EventChanged::Changed);
        match &row.says {
            Some(event) if says => check_one(&format!("{place}.says"), event, found),
            Some(_) => found.add(
                format!("{place}.says"),
                "an event that is withdrawn or brought back says nothing new",
                "leave it out, or write \"changed\"",
            ),
            None if says => found.add(format!("{place}.says"), "is missing", "write down what the event says"),
            None => {}
        }
    }
}

pub(super) fn check_one(place: &str, event: &Event, found: &mut Faults) {
    date(&format!("{place}.date"), &event.date, found);
    if let Some(km) = event.odometer_km {
        found.number(&format!("{place}.odometer_km"), km, &(0.0..=1e7), "km");
    }
    if let Some(kind) = &event.kind
        && (kind.trim().is_empty() || kind.chars().count() > 60 || kind.chars().any(char::is_control))
    {
        found.add(format!("{place}.kind"), format!("{} is no kind of work", shown(kind)), "leave it out");
    }
    let long = event.note.as_ref().map_or(0, |note| note.chars().count());
    if long > LONGEST_NOTE {
        let message = format!("{long} letters; at most {LONGEST_NOTE} are kept");
        found.add(format!("{place}.note"), message, "split it into two notes");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::validate::{event_faults, faults};
    use serde_json::{Value, json};

    fn found(event: Value) -> Vec<String> {
        let event: Event = serde_json::from_value(event).expect("well-formed");
        event_faults(&event).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn each_fault_of_an_event_is_named() {
        let event = json!({"date": "2031-05-03", "what": "leaves out", "kind": "leaves_out", "odometer_km": 61_240.0});
        assert_eq!(found(event.clone()), Vec::<String>::new());
        let mut wrong = event;
        wrong["date"] = json!("May");
        wrong["odometer_km"] = json!(-4);
        wrong["kind"] = json!("leaves\nout");
        assert_eq!(
            found(wrong),
            [
                "date: May is no date",
                "odometer_km: -4 km is outside 0 to 10000000 km",
                "kind: leaves\\nout is no kind of work"
            ]
        );
    }

    #[test]
    fn rows_say_what_they_must() {
        let car = json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": []});
        let says = json!({"date": "2031-05-03", "what": "leaves out"});
        let file: CarFile = serde_json::from_value(json!({"vehicle": car, "events": [], "event_changes": [
            {"uuid": "a", "event": "e", "what": "kept", "says": says},
            {"uuid": "b", "event": "e", "what": "changed"},
            {"uuid": "b", "event": "e", "what": "withdrawn", "says": says}]}))
        .expect("well-formed");
        let found: Vec<String> = faults(&file).iter().map(|fault| fault.place.clone()).collect();
        assert_eq!(found, ["event_changes", "event_changes[1].says", "event_changes[2].says"]);
    }
}

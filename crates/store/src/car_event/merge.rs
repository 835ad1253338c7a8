//! Events in and out of the exchange file, and out of the car's own description where earlier layouts kept them.
//!
//! An event without an id is known by its day and its words, counted where several say the same, so that the same file read twice
//! brings nothing new. An older file reverts nothing: what an event said before is known here.

use super::row::{self, Written};
use crate::car::{record, replace, uuid_at};
use crate::exchange::named_id;
use crate::{Result, Stamp};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::collections::{HashMap, HashSet};
use trueground_core::capture::{Event, EventChange};
use uuid::Uuid;

/// Counts events that give no id and say the same.
#[derive(Default)]
struct MadeIds(HashMap<String, u32>);

impl MadeIds {
    fn made(&mut self, car: Uuid, event: &Value) -> Uuid {
        let said = |key: &str| event[key].as_str().unwrap_or_default();
        let says = format!("{}\n{}", said("date"), said("what"));
        let count = self.0.entry(says.clone()).and_modify(|count| *count += 1).or_insert(1);
        Uuid::new_v5(&car, format!("event\n{says}\n{count}").as_bytes())
    }
}

/// Brings a file's events and their books into the garage; how many rows are new.
pub(crate) fn merge(
    connection: &Connection,
    car: i64,
    car_id: Uuid,
    events: Vec<Value>,
    changes: Vec<Value>,
    at: Stamp,
) -> Result<usize> {
    let (rows, _) = row::all(connection, car)?;
    let mut known: HashSet<String> = rows.iter().map(|row| row.change.uuid.clone()).collect();
    let mut said: HashMap<Uuid, Vec<Event>> = HashMap::new();
    for row in &rows {
        said.entry(row.event).or_default().extend(row.change.says.as_ref().map(content));
    }
    let mut new = 0;
    for change in changes {
        let Ok(typed) = serde_json::from_value::<EventChange>(change.clone()) else { continue };
        if known.insert(typed.uuid.clone()) {
            let event = named_id(car_id, "event", &typed.event);
            said.entry(event).or_default().extend(typed.says.as_ref().map(content));
            row::insert(connection, car, car_id, &change, None, at)?;
            new += 1;
        }
    }
    let mut ids = MadeIds::default();
    for event in events {
        let Ok(typed) = serde_json::from_value::<Event>(event.clone()) else { continue };
        let name = match &typed.id {
            Some(name) => name.clone(),
            None => ids.made(car_id, &event).to_string(),
        };
        let id = named_id(car_id, "event", &name);
        let before = said.entry(id).or_default();
        let says = content(&typed);
        if before.contains(&says) {
            continue;
        }
        let (what, uuid) = if before.is_empty() {
            ("kept", id.to_string())
        } else {
            ("changed", Uuid::new_v5(&id, json!(says).to_string().as_bytes()).to_string())
        };
        before.push(says);
        if known.insert(uuid.clone()) {
            let document = json!({ "uuid": uuid, "event": name, "what": what, "says": event });
            row::insert(connection, car, car_id, &document, None, at)?;
            new += 1;
        }
    }
    Ok(new)
}

/// What an event says, whatever its id.
fn content(event: &Event) -> Event {
    Event { id: None, ..event.clone() }
}

/// Writes into a car's file the events that count, and the books of those to which something happened; damaged rows in words.
pub(crate) fn put_in(connection: &Connection, car: i64, car_id: Uuid, file: &mut Value) -> Result<Vec<String>> {
    let (rows, damaged) = row::all(connection, car)?;
    let mut books: Vec<(Uuid, Vec<Written>)> = Vec::new();
    let mut places = HashMap::new();
    for row in rows {
        let place = *places.entry(row.event).or_insert_with(|| {
            books.push((row.event, Vec::new()));
            books.len() - 1
        });
        books[place].1.push(row);
    }
    let (mut events, mut changes) = (Vec::new(), Vec::new());
    let mut ids = MadeIds::default();
    for (id, rows) in books {
        let Some((_, counts)) = EventChange::replay(rows.iter().map(|row| &row.change)) else { continue };
        let says = rows.iter().rev().map(|row| &row.document["says"]).find(|says| says.is_object());
        if let Some(says) = says.filter(|_| counts) {
            let mut event = says.clone();
            if event["id"].as_str().is_none() && (ids.made(car_id, &event) != id || rows.len() > 1) {
                event["id"] = json!(id.to_string());
            }
            events.push(event);
        }
        if rows.len() > 1 {
            changes.extend(rows.into_iter().map(|row| row.document));
        }
    }
    for (key, written) in [("events", events), ("event_changes", changes)] {
        if !written.is_empty() {
            file[key] = Value::Array(written);
        }
    }
    Ok(damaged)
}

/// Moves every car's events out of its description into rows, where they stood before they had a table. The description as it was stays
/// among the earlier ones.
pub(crate) fn take_over(connection: &Connection) -> Result<()> {
    let mut statement = connection.prepare("SELECT uuid, utc_ms, offset_minutes FROM car ORDER BY id")?;
    let cars = statement
        .query_map([], |row| Ok((uuid_at(row, 0)?, Stamp { utc_ms: row.get(1)?, offset_minutes: row.get(2)? })))?
        .collect::<rusqlite::Result<Vec<_>>>()?;
    for (id, at) in cars {
        // A damaged description stays as it is, events and all.
        let Ok(Some(mut car)) = record(connection, id) else { continue };
        let Some(events) = car.document["events"].as_array().cloned() else { continue };
        if events.is_empty() || events.iter().any(|event| serde_json::from_value::<Event>(event.clone()).is_err()) {
            continue;
        }
        merge(connection, car.row, id, events, Vec::new(), at)?;
        if let Some(keys) = car.document.as_object_mut() {
            keys.shift_remove("events");
        }
        replace(connection, car.row, id, &car.document)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use crate::migration::MIGRATIONS;
    use crate::{Stamp, Store};
    use serde_json::json;
    use uuid::Uuid;

    const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 120 };

    #[test]
    fn events_of_an_older_garage_move_over_whole() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garage.db");
        let car = Uuid::from_u128(1);
        let event = json!({"date": "2031-05-03", "odometer_km": 48215, "what": "leaves out", "resets_settling": true, "by": "me"});
        let vehicle = json!({"label": "T", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0});
        let document = json!({"vehicle": vehicle, "events": [event, event], "target": {"rake_deg": 2}});
        let mut store = Store::open_at(&path, &MIGRATIONS[..7]).unwrap();
        store.add_car(car, &document, AT).unwrap();
        drop(store);

        let store = Store::open(&path).unwrap();
        assert_eq!(store.car(car).unwrap().document, json!({"vehicle": vehicle, "target": {"rake_deg": 2}}));
        let (events, damaged) = store.car_events(car).unwrap();
        assert_eq!((events.len(), damaged.len()), (2, 0));
        assert_eq!(events[1].event.extra["by"], "me");
        assert_eq!(store.car_file(car).unwrap().document["events"], json!([event, event]));
        let earlier: String =
            store.connection.query_row("SELECT document FROM earlier_document", [], |row| row.get(0)).unwrap();
        assert_eq!(earlier, document.to_string(), "the description as it was");
        assert_eq!(store.check().unwrap(), Vec::<String>::new());
    }
}

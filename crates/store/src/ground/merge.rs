//! Grounds of an exchange file: into the garage, and out again.

use super::take::{insert as insert_station, stations};
use super::{StationIds, all, described, insert};
use crate::{Result, Stamp};
use rusqlite::Connection;
use serde_json::Value;
use std::collections::HashSet;
use uuid::Uuid;

/// Brings a file's grounds into the garage; true where anything was new. A ground that is described here as the file has it, now or
/// at any time before, stays as it is: an older file reverts nothing.
pub(crate) fn merge(connection: &Connection, file: &mut Value, at: Stamp) -> Result<bool> {
    let Some(Value::Array(grounds)) = file.as_object_mut().and_then(|keys| keys.shift_remove("grounds")) else {
        return Ok(false);
    };
    let known = described(connection, &mut Vec::new())?;
    let mut changed = false;
    for mut ground in grounds {
        let name = ground["id"].as_str().unwrap_or_default().to_owned();
        let read = match ground.pointer_mut("/string/stations") {
            Some(Value::Array(stations)) => std::mem::take(stations),
            _ => Vec::new(),
        };
        if !known.iter().any(|(other, document)| *other == name && alike(document, &ground)) {
            insert(connection, &ground, at)?;
            changed = true;
        }
        let kept: HashSet<Uuid> = stations(connection, &name)?.0.into_iter().map(|station| station.id).collect();
        let mut ids = StationIds::new(&name);
        for mut station in read {
            let made = ids.made(&station);
            let given = station.as_object_mut().and_then(|keys| keys.shift_remove("uuid"));
            let id = given.as_ref().and_then(Value::as_str).and_then(|text| Uuid::parse_str(text).ok()).unwrap_or(made);
            if !kept.contains(&id) {
                insert_station(connection, &name, id, &station, None, at)?;
                changed = true;
            }
        }
    }
    Ok(changed)
}

/// A list of stations that is empty and none say the same.
fn alike(a: &Value, b: &Value) -> bool {
    let said = |value: &Value| {
        let mut value = value.clone();
        if let Some(string) = value.get_mut("string").and_then(Value::as_object_mut)
            && string.get("stations").and_then(Value::as_array).is_some_and(Vec::is_empty)
        {
            string.shift_remove("stations");
        }
        value
    };
    said(a) == said(b)
}

/// Writes the garage's grounds into a car's file.
pub(crate) fn put_in(connection: &Connection, file: &mut Value, damaged: &mut Vec<String>) -> Result<()> {
    let grounds = all(connection, damaged)?;
    damaged.extend(grounds.iter().flat_map(|ground| ground.damaged.iter().cloned()));
    if !grounds.is_empty() {
        file["grounds"] = Value::Array(grounds.iter().map(super::GroundRecord::file).collect());
    }
    Ok(())
}

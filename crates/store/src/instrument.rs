//! The table `instrument`: the tapes and gauges of the garage, which any of its cars may be read with.

use crate::checksum::of_document;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use std::collections::BTreeSet;

/// One entry; it never changes.
#[derive(Clone, Debug, PartialEq)]
pub struct InstrumentRecord {
    /// Its `id` in the exchange file.
    pub name: String,
    /// As it stands in the exchange file.
    pub document: Value,
    /// No longer offered.
    pub put_away: bool,
}

impl Store {
    /// All entries in the order they were made, replaced and put away ones too. A damaged one is left out.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn instruments(&self) -> Result<Vec<InstrumentRecord>> {
        let mut statement = self
            .connection
            .prepare_cached("SELECT name, document, document_check, put_away FROM instrument ORDER BY id")?;
        let rows = statement.query_map([], |row| {
            let (name, text, check): (String, String, i64) = (row.get(0)?, row.get(1)?, row.get(2)?);
            let document = verified(&name, &text, check);
            Ok((name, document, row.get(3)?))
        })?;
        let all = rows.collect::<rusqlite::Result<Vec<_>>>()?;
        Ok(all
            .into_iter()
            .filter_map(|(name, document, put_away)| Some(InstrumentRecord { name, document: document?, put_away }))
            .collect())
    }

    /// Adds an entry; its `id` in the exchange file stands in `document`.
    ///
    /// # Errors
    /// The name is taken, or it cannot be written.
    pub fn add_instrument(&mut self, document: &Value, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        insert(&transaction, document, at)?;
        Ok(transaction.commit()?)
    }

    /// Puts an entry away, or takes it out again.
    ///
    /// # Errors
    /// Not there, or it cannot be written.
    pub fn put_instrument_away(&mut self, name: &str, away: bool) -> Result<()> {
        let changed =
            self.connection.execute("UPDATE instrument SET put_away = ?2 WHERE name = ?1", params![name, away])?;
        if changed == 0 {
            return Err(StoreError::NotFound { what: "instrument", id: name.to_owned() });
        }
        Ok(())
    }
}

fn verified(name: &str, text: &str, check: i64) -> Option<Value> {
    (of_document(name.as_bytes(), 0, name, text, "") == check).then(|| serde_json::from_str(text).ok()).flatten()
}

fn insert(connection: &Connection, document: &Value, at: Stamp) -> Result<()> {
    let (name, text) = (document["id"].as_str().unwrap_or_default(), document.to_string());
    connection.execute(
        "INSERT INTO instrument (name, document, document_check, utc_ms, offset_minutes) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![name, text, of_document(name.as_bytes(), 0, name, &text, ""), at.utc_ms, at.offset_minutes],
    )?;
    Ok(())
}

fn of_name(connection: &Connection, name: &str) -> Result<Option<Value>> {
    // A damaged garage of an earlier layout is read too.
    let kept = "SELECT EXISTS (SELECT 1 FROM sqlite_schema WHERE name = 'instrument')";
    if !connection.query_row(kept, [], |row| row.get::<_, bool>(0))? {
        return Ok(None);
    }
    let found = connection
        .prepare_cached("SELECT document, document_check FROM instrument WHERE name = ?1")?
        .query_row([name], |row| Ok((row.get::<_, String>(0)?, row.get::<_, i64>(1)?)))
        .optional()?;
    Ok(found.and_then(|(text, check)| verified(name, &text, check)))
}

/// Brings a file's instruments into the garage. What stays in the car's own description is what no reading names, and what the
/// garage knows under the same name as something else: the file's readings then go on meaning the file's.
///
/// True where the garage got any.
pub(crate) fn merge(connection: &Connection, file: &mut Value, at: Stamp) -> Result<bool> {
    let named = named(file);
    let Some(Value::Array(entries)) = file.get_mut("instruments") else { return Ok(false) };
    let mut added = false;
    let mut stay = Vec::new();
    for entry in std::mem::take(entries) {
        let name = entry["id"].as_str().unwrap_or_default().to_owned();
        let kept = of_name(connection, &name)?;
        if kept.is_none() {
            insert(connection, &entry, at)?;
            added = true;
        }
        let same = kept.is_none_or(|kept| kept == entry);
        if !same || !named.contains(&name) {
            stay.push(entry);
        }
    }
    if stay.is_empty() {
        file.as_object_mut().and_then(|keys| keys.shift_remove("instruments"));
    } else {
        file["instruments"] = Value::Array(stay);
    }
    Ok(added)
}

/// Writes into a car's file what its readings name and its own description does not hold.
pub(crate) fn put_in(connection: &Connection, file: &mut Value) -> Result<()> {
    let mut entries = match file.get_mut("instruments") {
        Some(Value::Array(entries)) => std::mem::take(entries),
        _ => Vec::new(),
    };
    for name in named(file) {
        if !entries.iter().any(|entry| entry["id"] == name.as_str())
            && let Some(document) = of_name(connection, &name)?
        {
            entries.push(document);
        }
    }
    if !entries.is_empty() {
        file["instruments"] = Value::Array(entries);
    }
    Ok(())
}

/// Names that anything in the file was read with.
fn named(file: &Value) -> BTreeSet<String> {
    fn each<'a>(owner: &'a Value, key: &str) -> impl Iterator<Item = &'a Value> {
        owner[key].as_array().into_iter().flatten()
    }
    let mut found = BTreeSet::new();
    let mut name = |value: &Value| {
        if let Some(name) = value.as_str() {
            found.insert(name.to_owned());
        }
    };
    for floor in each(file, "floors") {
        for read in each(&floor["survey"], "passes").chain(each(&floor["survey"], "straightedge")) {
            name(&read["instrument"]);
        }
    }
    for snapshot in each(file, "snapshots") {
        name(&snapshot["tape"]);
        name(&snapshot["gauge"]);
        let tapes = each(snapshot, "bounces").flat_map(|bounce| each(bounce, "readings"));
        for read in tapes.chain(each(snapshot, "angle_gauge")).chain(each(snapshot, "plane_on_car")) {
            name(&read["instrument"]);
        }
    }
    found
}

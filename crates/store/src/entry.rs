//! Tables of entries of a car that never change: each is a document as it stands in the exchange file, under its name there.

use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError, car, readable};
use rusqlite::{Connection, params};
use serde_json::{Map, Value, json};
use uuid::Uuid;

/// A table of entries of a car, and the key that they stand under in the exchange file.
pub(crate) struct Sort {
    pub(crate) table: &'static str,
    pub(crate) key: &'static str,
    /// What names an entry in the file.
    pub(crate) name: &'static str,
    pub(crate) damaged: &'static str,
    /// Where an entry is not what it should be; `None` where it can be read.
    pub(crate) fault: fn(&Value) -> Option<String>,
}

impl Store {
    /// Adds an entry in a transaction of its own.
    pub(crate) fn add_entry(&mut self, id: Uuid, sort: &Sort, document: &Value, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let Some(record) = car::record(&transaction, id)? else {
            return Err(StoreError::NotFound { what: "car", id: id.to_string() });
        };
        insert(&transaction, record.row, sort, document, at)?;
        car::touch(&transaction, record.row)?;
        Ok(transaction.commit()?)
    }
}

pub(crate) fn insert(connection: &Connection, car: i64, sort: &Sort, document: &Value, at: Stamp) -> Result<()> {
    let (name, text) = (document[sort.name].as_str().unwrap_or_default(), document.to_string());
    let Sort { table, .. } = sort;
    connection.execute(
        &format!(
            "INSERT INTO {table} (car, name, document, utc_ms, offset_minutes, checksum) VALUES (?1, ?2, ?3, ?4, ?5, ?6)"
        ),
        params![car, name, text, at.utc_ms, at.offset_minutes, checksum(sort, car, name, &text, at)],
    )?;
    Ok(())
}

/// Entries of a car in the order they were made; a damaged one is said and left out.
pub(crate) fn all(connection: &Connection, car: i64, sort: &Sort, damaged: &mut Vec<String>) -> Result<Vec<Value>> {
    // What is brought over from a damaged garage may be of a layout that had none.
    if !connection.table_exists(None, sort.table)? {
        return Ok(Vec::new());
    }
    let Sort { table, .. } = sort;
    let mut statement = connection.prepare_cached(&format!(
        "SELECT name, document, utc_ms, offset_minutes, checksum FROM {table} WHERE car = ?1 ORDER BY id"
    ))?;
    let mut rows = statement.query([car])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let read = || -> Option<Value> {
            let (name, text): (String, String) = (row.get(0).ok()?, row.get(1).ok()?);
            let at = Stamp { utc_ms: row.get(2).ok()?, offset_minutes: row.get(3).ok()? };
            let check: i64 = row.get(4).ok()?;
            (check == checksum(sort, car, &name, &text, at)).then(|| serde_json::from_str(&text).ok()).flatten()
        };
        match read() {
            Some(document) => found.push(document),
            None => damaged.push(sort.damaged.to_owned()),
        }
    }
    Ok(found)
}

fn checksum(sort: &Sort, car: i64, name: &str, text: &str, at: Stamp) -> i64 {
    let row = Checksum::new(sort.table).integer(car).text(name).text(text);
    row.integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

/// Writes a car's entries of those sorts into its file; one that is not what it should be is said and left out.
pub(crate) fn put_in(
    connection: &Connection,
    car: i64,
    sorts: &[&Sort],
    file: &mut Value,
    damaged: &mut Vec<String>,
) -> Result<()> {
    for sort in sorts {
        let entries = sound(connection, car, sort, damaged)?;
        if !entries.is_empty() {
            file[sort.key] = Value::Array(entries);
        }
    }
    Ok(())
}

/// Entries of a car that can be read as what they are; the others are said.
fn sound(connection: &Connection, car: i64, sort: &Sort, damaged: &mut Vec<String>) -> Result<Vec<Value>> {
    let mut entries = all(connection, car, sort, damaged)?;
    entries.retain(|entry| {
        let fault = (sort.fault)(entry);
        damaged.extend(fault.as_ref().map(|fault| readable::named(sort.damaged, entry, fault)));
        fault.is_none()
    });
    Ok(entries)
}

/// Takes the entries of a sort out of a file.
pub(crate) fn take_out(file: &mut Value, sort: &Sort) -> Vec<Value> {
    match file.as_object_mut().and_then(|keys| keys.shift_remove(sort.key)) {
        Some(Value::Array(entries)) => entries,
        _ => Vec::new(),
    }
}

/// Brings entries that may be replaced into the garage; true where any was new. One that is kept under its name and described
/// differently becomes an entry that replaces it.
pub(crate) fn merge_replacing(
    connection: &Connection,
    id: Uuid,
    car: i64,
    sort: &Sort,
    entries: Vec<Value>,
    at: Stamp,
) -> Result<bool> {
    let mut changed = false;
    let mut known = all(connection, car, sort, &mut Vec::new())?;
    for mut entry in entries {
        let name = entry[sort.name].clone();
        match known.iter().find(|known| known[sort.name] == name) {
            Some(same) if alike(same, &entry) => continue,
            Some(_) => {
                let text = entry.to_string();
                entry[sort.name] = json!(Uuid::new_v5(&id, format!("{}\n{text}", sort.table).as_bytes()).to_string());
                entry["replaces"] = name;
                if known.iter().any(|known| known[sort.name] == entry[sort.name]) {
                    continue;
                }
            }
            None => {}
        }
        insert(connection, car, sort, &entry, at)?;
        known.push(entry);
        changed = true;
    }
    Ok(changed)
}

/// Brings entries that only add up into the garage; true where any was new.
pub(crate) fn merge_adding(
    connection: &Connection,
    car: i64,
    sort: &Sort,
    entries: Vec<Value>,
    at: Stamp,
) -> Result<bool> {
    let known = all(connection, car, sort, &mut Vec::new())?;
    let mut changed = false;
    for entry in entries.into_iter().filter(|entry| known.iter().all(|known| known[sort.name] != entry[sort.name])) {
        insert(connection, car, sort, &entry, at)?;
        changed = true;
    }
    Ok(changed)
}

/// A key that is absent and one that is null say the same.
fn alike(a: &Value, b: &Value) -> bool {
    let said = |value: &Value| -> Map<String, Value> {
        let keys = value.as_object().cloned().unwrap_or_default();
        keys.into_iter().filter(|(_, value)| !value.is_null()).collect()
    };
    said(a) == said(b)
}

//! The tables `target` and `target_mark`: stances that are wanted of a car, and which of them were put away.
//!
//! The target of an exchange file of version 1 stays in its car's description, and comes back from there.

use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError, car};
use rusqlite::{Connection, params};
use serde_json::{Map, Value, json};
use trueground_core::capture::CarFile;
use trueground_core::target::{Target, TargetMark, TargetMarkKind};
use uuid::Uuid;

/// A table of entries of a car, and the key that they stand under in the exchange file.
struct Sort {
    table: &'static str,
    key: &'static str,
    /// What names an entry in the file.
    name: &'static str,
    damaged: &'static str,
}

const TARGETS: Sort = Sort { table: "target", key: "targets", name: "id", damaged: "a target" };
const MARKS: Sort = Sort {
    table: "target_mark",
    key: "target_marks",
    name: "uuid",
    damaged: "a note that a target was put away or brought back",
};

impl Store {
    /// Targets of a car that are neither replaced nor put away, in the order they were made; that of a file of version 1 first. A
    /// damaged one is left out.
    ///
    /// # Errors
    /// No such car, or its own description is damaged.
    pub fn targets(&self, car: Uuid) -> Result<Vec<Target>> {
        let file = self.with_targets(car)?;
        Ok(Target::offered(&file).unwrap_or_default())
    }

    /// The car's description with its targets and their marks, and without floors and snapshots.
    ///
    /// # Errors
    /// No such car, or its own description is damaged.
    pub fn with_targets(&self, car: Uuid) -> Result<CarFile> {
        let record = self.car(car)?;
        let mut document = record.document;
        put_in(&self.connection, record.row, &mut document, &mut Vec::new())?;
        for list in ["floors", "snapshots"] {
            document.as_object_mut().and_then(|keys| keys.shift_remove(list));
        }
        serde_json::from_value(document).map_err(|error| StoreError::Damaged { what: error.to_string() })
    }

    /// Adds a target; its `id` in the exchange file stands in it.
    ///
    /// # Errors
    /// No such car, the name is taken, or it cannot be written.
    pub fn add_target(&mut self, car: Uuid, document: &Value, at: Stamp) -> Result<()> {
        self.add(car, &TARGETS, document, at)
    }

    /// Puts a target away, or brings it back. `mark` names the mark.
    ///
    /// # Errors
    /// No such car, or it cannot be written.
    pub fn mark_target(&mut self, car: Uuid, mark: Uuid, target: &str, what: TargetMarkKind, at: Stamp) -> Result<()> {
        let mark = TargetMark { uuid: mark.to_string(), target: target.to_owned(), what, at: at.iso() };
        self.add(car, &MARKS, &json!(mark), at)
    }

    fn add(&mut self, id: Uuid, sort: &Sort, document: &Value, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let Some(record) = car::record(&transaction, id)? else {
            return Err(StoreError::NotFound { what: "car", id: id.to_string() });
        };
        insert(&transaction, record.row, sort, document, at)?;
        car::touch(&transaction, record.row)?;
        Ok(transaction.commit()?)
    }
}

fn insert(connection: &Connection, car: i64, sort: &Sort, document: &Value, at: Stamp) -> Result<()> {
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
fn all(connection: &Connection, car: i64, sort: &Sort, damaged: &mut Vec<String>) -> Result<Vec<Value>> {
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

/// Writes a car's targets and their marks into its file.
pub(crate) fn put_in(connection: &Connection, car: i64, file: &mut Value, damaged: &mut Vec<String>) -> Result<()> {
    for sort in [&TARGETS, &MARKS] {
        let entries = all(connection, car, sort, damaged)?;
        if !entries.is_empty() {
            file[sort.key] = Value::Array(entries);
        }
    }
    Ok(())
}

/// What a file says of targets, taken out of it.
pub(crate) struct InFile {
    targets: Vec<Value>,
    marks: Vec<Value>,
}

/// Takes targets and marks out of a file.
pub(crate) fn take_out(file: &mut Value) -> InFile {
    let mut list = |sort: &Sort| match file.as_object_mut().and_then(|keys| keys.shift_remove(sort.key)) {
        Some(Value::Array(entries)) => entries,
        _ => Vec::new(),
    };
    InFile { targets: list(&TARGETS), marks: list(&MARKS) }
}

/// Brings a file's targets into the garage; true where any was new. One that is kept under its name and described differently
/// becomes an entry that replaces it.
pub(crate) fn merge(connection: &Connection, id: Uuid, car: i64, file: InFile, at: Stamp) -> Result<bool> {
    let mut changed = false;
    let mut known = all(connection, car, &TARGETS, &mut Vec::new())?;
    for mut entry in file.targets {
        let name = entry["id"].clone();
        match known.iter().find(|known| known["id"] == name) {
            Some(same) if alike(same, &entry) => continue,
            Some(_) => {
                let text = entry.to_string();
                entry["id"] = json!(Uuid::new_v5(&id, format!("target\n{text}").as_bytes()).to_string());
                entry["replaces"] = name;
                if known.iter().any(|known| known["id"] == entry["id"]) {
                    continue;
                }
            }
            None => {}
        }
        insert(connection, car, &TARGETS, &entry, at)?;
        known.push(entry);
        changed = true;
    }
    let marks = all(connection, car, &MARKS, &mut Vec::new())?;
    for mark in file.marks.into_iter().filter(|mark| marks.iter().all(|known| known["uuid"] != mark["uuid"])) {
        insert(connection, car, &MARKS, &mark, at)?;
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

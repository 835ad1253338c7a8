//! The tables `target` and `target_mark`: stances that are wanted of a car, and which of them were put away.
//!
//! The target of an exchange file of version 1 stays in its car's description, and comes back from there.

use crate::entry::{self, Sort};
use crate::readable::fault;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::Connection;
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::target::{Target, TargetMark, TargetMarkKind};
use uuid::Uuid;

const TARGETS: Sort = Sort { table: "target", key: "targets", name: "id", damaged: "a target", fault: fault::<Target> };
const MARKS: Sort = Sort {
    table: "target_mark",
    key: "target_marks",
    name: "uuid",
    damaged: "a note that a target was put away or brought back",
    fault: fault::<TargetMark>,
};

impl Store {
    /// Targets of a car that are neither replaced nor put away, in the order they were made; that of a file of version 1 first. A
    /// damaged one is left out.
    ///
    /// # Errors
    /// No such car, or its own description is damaged.
    pub fn targets(&self, car: Uuid) -> Result<Vec<Target>> {
        let file = self.with_targets(car)?;
        Ok(Target::offered(&file))
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
        self.add_entry(car, &TARGETS, document, at)
    }

    /// Puts a target away, or brings it back. `mark` names the mark.
    ///
    /// # Errors
    /// No such car, or it cannot be written.
    pub fn mark_target(&mut self, car: Uuid, mark: Uuid, target: &str, what: TargetMarkKind, at: Stamp) -> Result<()> {
        let mark = TargetMark { uuid: mark.to_string(), target: target.to_owned(), what, at: at.iso() };
        self.add_entry(car, &MARKS, &json!(mark), at)
    }
}

/// Writes a car's targets and their marks into its file.
pub(crate) fn put_in(connection: &Connection, car: i64, file: &mut Value, damaged: &mut Vec<String>) -> Result<()> {
    entry::put_in(connection, car, &[&TARGETS, &MARKS], file, damaged)
}

/// What a file says of targets, taken out of it.
pub(crate) struct InFile {
    targets: Vec<Value>,
    marks: Vec<Value>,
}

/// Takes targets and marks out of a file.
pub(crate) fn take_out(file: &mut Value) -> InFile {
    InFile { targets: entry::take_out(file, &TARGETS), marks: entry::take_out(file, &MARKS) }
}

/// Brings a file's targets into the garage; true where any was new.
pub(crate) fn merge(connection: &Connection, id: Uuid, car: i64, file: InFile, at: Stamp) -> Result<bool> {
    let targets = entry::merge_replacing(connection, id, car, &TARGETS, file.targets, at)?;
    Ok(entry::merge_adding(connection, car, &MARKS, file.marks, at)? || targets)
}

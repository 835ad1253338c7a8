//! The tables `plan`, `part`, `plan_mark` and `tick`: what a person means to do to a car, with what, and what is left to do afterwards.

use crate::entry::{self, Sort};
use crate::readable::fault;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::Connection;
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::plan::{KeptPart, KeptPlan, Part, PlanMark, Tick};
use uuid::Uuid;

pub(crate) const PLANS: Sort =
    Sort { table: "plan", key: "plans", name: "id", damaged: "a plan", fault: fault::<KeptPlan> };
const PARTS: Sort = Sort { table: "part", key: "parts", name: "id", damaged: "a part", fault: part_fault };
const MARKS: Sort = Sort {
    table: "plan_mark",
    key: "plan_marks",
    name: "uuid",
    damaged: "a note about a plan or a part",
    fault: fault::<PlanMark>,
};
const TICKS: Sort = Sort { table: "tick", key: "ticks", name: "uuid", damaged: "a tick", fault: fault::<Tick> };

/// A part is looked at as it is used: one that cannot be would stop every search.
fn part_fault(document: &Value) -> Option<String> {
    fault::<KeptPart>(document).or_else(|| Some(Part::of(document).err()?.message.trim_end_matches('.').to_owned()))
}

impl Store {
    /// The car's description with its plans, parts, marks and ticks, and without floors and snapshots; one that is damaged or not what it should be is left out.
    ///
    /// # Errors
    /// No such car, or its own description is damaged.
    pub fn with_plans(&self, car: Uuid) -> Result<CarFile> {
        let record = self.car(car)?;
        let mut document = record.document;
        put_in(&self.connection, record.row, &mut document, &mut Vec::new())?;
        for list in ["floors", "snapshots"] {
            document.as_object_mut().and_then(|keys| keys.shift_remove(list));
        }
        serde_json::from_value(document).map_err(|error| StoreError::Damaged { what: error.to_string() })
    }

    /// Adds a plan; its `id` in the exchange file stands in it.
    ///
    /// # Errors
    /// No such car, the name is taken, or it cannot be written.
    pub fn add_plan(&mut self, car: Uuid, plan: &KeptPlan, at: Stamp) -> Result<()> {
        self.add_entry(car, &PLANS, &json!(plan), at)
    }

    /// Adds a part; its `id` in the exchange file stands in it.
    ///
    /// # Errors
    /// As [`Store::add_plan`].
    pub fn add_part(&mut self, car: Uuid, part: &KeptPart, at: Stamp) -> Result<()> {
        self.add_entry(car, &PARTS, &json!(part), at)
    }

    /// Puts a plan or a part away, brings it back, or says that a plan was carried out.
    ///
    /// # Errors
    /// No such car, or it cannot be written.
    pub fn mark_plan(&mut self, car: Uuid, mark: &PlanMark, at: Stamp) -> Result<()> {
        self.add_entry(car, &MARKS, &json!(mark), at)
    }

    /// Ticks a task of the list that work made, or takes the tick back.
    ///
    /// # Errors
    /// No such car, or it cannot be written.
    pub fn add_tick(&mut self, car: Uuid, tick: &Tick, at: Stamp) -> Result<()> {
        self.add_entry(car, &TICKS, &json!(tick), at)
    }
}

/// Writes a car's plans, parts, marks and ticks into its file.
pub(crate) fn put_in(connection: &Connection, car: i64, file: &mut Value, damaged: &mut Vec<String>) -> Result<()> {
    entry::put_in(connection, car, &[&PLANS, &PARTS, &MARKS, &TICKS], file, damaged)
}

/// What a file says of plans, taken out of it.
pub(crate) struct InFile {
    plans: Vec<Value>,
    parts: Vec<Value>,
    marks: Vec<Value>,
    ticks: Vec<Value>,
}

/// Takes plans, parts, marks and ticks out of a file.
pub(crate) fn take_out(file: &mut Value) -> InFile {
    let mut taken = |sort| entry::take_out(file, sort);
    InFile { plans: taken(&PLANS), parts: taken(&PARTS), marks: taken(&MARKS), ticks: taken(&TICKS) }
}

/// Brings a file's plans into the garage; true where any was new. A plan or part without a name gets one from what it says.
pub(crate) fn merge(connection: &Connection, id: Uuid, car: i64, mut file: InFile, at: Stamp) -> Result<bool> {
    for (sort, entries) in [(&PLANS, &mut file.plans), (&PARTS, &mut file.parts)] {
        for entry in
            entries.iter_mut().filter(|entry| entry.is_object() && entry[sort.name].as_str().is_none_or(str::is_empty))
        {
            let text = entry.to_string();
            entry[sort.name] = json!(Uuid::new_v5(&id, format!("{}\n{text}", sort.table).as_bytes()).to_string());
        }
    }
    let plans = entry::merge_replacing(connection, id, car, &PLANS, file.plans, at)?;
    let parts = entry::merge_replacing(connection, id, car, &PARTS, file.parts, at)?;
    let marks = entry::merge_adding(connection, car, &MARKS, file.marks, at)?;
    let ticks = entry::merge_adding(connection, car, &TICKS, file.ticks, at)?;
    Ok(plans || parts || marks || ticks)
}

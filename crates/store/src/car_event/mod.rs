//! The table `event`: dated work on a car and notes. Every row is its own transaction with its own checksum; an event is changed,
//! withdrawn and brought back by later rows only.

mod merge;
mod row;

pub(crate) use merge::{merge, put_in, take_over};

use crate::car::{CarRecord, replace, touch};
use crate::{Result, Stamp, Store, StoreError, Taken, car};
use rusqlite::{Connection, OptionalExtension};
use serde_json::Value;
use trueground_core::capture::{Event, EventChange, EventChanged};
use uuid::Uuid;

/// An event of a car with everything that happened to its entry.
#[derive(Clone, Debug)]
pub struct EventRecord {
    /// Id.
    pub id: Uuid,
    /// Its id in the exchange file.
    pub name: String,
    /// What it says now.
    pub event: Event,
    /// False where it is withdrawn.
    pub counts: bool,
    /// Its rows, oldest first.
    pub rows: Vec<EventChange>,
    /// When the first of them was written here.
    pub entered: Stamp,
}

impl Store {
    /// Every event of a car in the order of entry, withdrawn ones too; and damaged rows in words.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn car_events(&self, car: Uuid) -> Result<(Vec<EventRecord>, Vec<String>)> {
        match car::record(&self.connection, car)? {
            Some(record) => row::events(&self.connection, record.row),
            None => Ok((Vec::new(), Vec::new())),
        }
    }

    /// Writes the next row of an event: kept, changed, withdrawn or brought back. When this returns it is on the disk. The same
    /// `request` is stored once. A row that says something is given the event's id.
    ///
    /// # Errors
    /// No such car; an event that is there already is kept again, or one that is not there is changed; or it cannot be written.
    pub fn write_event(&mut self, car: Uuid, change: &EventChange, request: Option<&str>, at: Stamp) -> Result<Taken> {
        let transaction = self.write()?;
        let record = known_car(&transaction, car)?;
        let taken = write(&transaction, &record, change, request, at)?;
        transaction.commit()?;
        Ok(taken)
    }

    /// Replaces a car's description and keeps an event in one transaction, where the one is the reason for the other.
    ///
    /// # Errors
    /// As [`Store::change_car`] and [`Store::write_event`]; then neither was kept.
    pub fn change_car_with_event(&mut self, id: Uuid, document: &Value, change: &EventChange, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let car = known_car(&transaction, id)?;
        replace(&transaction, car.row, id, document)?;
        write(&transaction, &car, change, None, at)?;
        car::touch_guests(&transaction, car.row)?;
        Ok(transaction.commit()?)
    }
}

fn known_car(connection: &Connection, id: Uuid) -> Result<CarRecord> {
    car::record(connection, id)?.ok_or_else(|| StoreError::NotFound { what: "car", id: id.to_string() })
}

fn write(
    connection: &Connection,
    car: &CarRecord,
    change: &EventChange,
    request: Option<&str>,
    at: Stamp,
) -> Result<Taken> {
    if let Some(request) = request {
        let heard = "SELECT 1 FROM event WHERE request = ?1";
        if connection.prepare_cached(heard)?.query_row([request], |_| Ok(())).optional()?.is_some() {
            return Ok(Taken::Before);
        }
    }
    let (events, _) = row::events(connection, car.row)?;
    let known = events.iter().find(|event| event.name == change.event);
    let mut change = change.clone();
    if change.what == EventChanged::Kept {
        // As a file that gives no rows would name it, so that both ways it is one row.
        change.uuid.clone_from(&change.event);
    }
    match (known, change.what) {
        (None, EventChanged::Kept) | (Some(_), EventChanged::Changed) => {}
        (Some(event), EventChanged::Withdrawn) if event.counts => {}
        (Some(event), EventChanged::BroughtBack) if !event.counts => {}
        (None, _) => return Err(StoreError::NotFound { what: "event", id: change.event.clone() }),
        (Some(event), EventChanged::Kept) => {
            let what = format!("{} is there already.", trueground_core::wording::shown(&event.event.what));
            return Err(StoreError::Contradiction { what });
        }
        // Withdrawn twice is withdrawn.
        (Some(_), EventChanged::Withdrawn | EventChanged::BroughtBack) => return Ok(Taken::Before),
    }
    if let Some(says) = &mut change.says {
        says.id = known.map_or_else(|| Some(change.event.clone()), |known| known.event.id.clone());
    }
    let document =
        serde_json::to_value(&change).map_err(|error| StoreError::Contradiction { what: error.to_string() })?;
    row::insert(connection, car.row, car.id, &document, request, at)?;
    touch(connection, car.row)?;
    Ok(Taken::Now)
}

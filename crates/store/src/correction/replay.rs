//! From what was written in the yard to what counts, by going through the corrections; and back, for a file that carries both.

use crate::exchange::added_reading;
use crate::reading::{NewReading, Reading, Standing};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use trueground_core::capture::{Corrected, Correction};
use uuid::Uuid;

/// Makes document and readings what counts after these corrections.
pub(crate) fn replay(document: &mut Value, readings: &mut Vec<Reading>, corrections: &[Correction]) {
    for correction in Correction::in_force(corrections) {
        let new = correction.new.clone().unwrap_or_default();
        match correction.what {
            Corrected::Condition => set(document, correction.field.as_deref().unwrap_or_default(), new),
            Corrected::Added => {
                if let Some(taken) = reading_id(correction).and_then(|id| added_reading(id, new))
                    && !readings.iter().any(|known| known.taken.id == taken.id)
                {
                    let standing = Standing::Kept;
                    readings.push(Reading {
                        row: 0,
                        taken,
                        at: None,
                        standing,
                        marked: 0,
                        marked_last: false,
                        marks: Vec::new(),
                    });
                }
            }
            Corrected::Value | Corrected::Struck | Corrected::BroughtBack => {
                let Some(id) = reading_id(correction) else { continue };
                if let Some(reading) = readings.iter_mut().find(|reading| reading.taken.id == id) {
                    change(reading, correction, &new);
                }
            }
            Corrected::TakenBack => {}
        }
    }
}

fn change(reading: &mut Reading, correction: &Correction, new: &Value) {
    match correction.what {
        Corrected::Value => write_value(&mut reading.taken, new),
        Corrected::Struck => {
            reading.taken.extra.shift_remove("struck");
            reading.standing = Standing::Struck { reason: correction.reason.clone(), at: correction.at.clone() };
        }
        _ => {
            reading.taken.extra.shift_remove("struck");
            reading.standing = Standing::Kept;
        }
    }
}

/// Makes a file's snapshot and readings what they were before their first correction. The first `old` of each thing is what
/// was written in the yard, whatever was taken back later.
pub(crate) fn before(document: &mut Value, readings: &mut Vec<NewReading>, corrections: &[Correction]) {
    let added: BTreeSet<Uuid> =
        corrections.iter().filter(|each| each.what == Corrected::Added).filter_map(reading_id).collect();
    readings.retain(|reading| !added.contains(&reading.id));
    // From the newest to the oldest, so that the first one of each thing has the last word.
    for correction in corrections.iter().rev() {
        let old = correction.old.clone().unwrap_or_default();
        let reading = reading_id(correction).and_then(|id| readings.iter_mut().find(|reading| reading.id == id));
        match (correction.what, reading) {
            (Corrected::Condition, _) => set(document, correction.field.as_deref().unwrap_or_default(), old),
            (Corrected::Value, Some(reading)) => write_value(reading, &old),
            (Corrected::Struck | Corrected::BroughtBack, Some(reading)) => {
                reading.extra.shift_remove("struck");
                if old.is_object() {
                    reading.extra.insert("struck".to_owned(), old);
                }
            }
            _ => {}
        }
    }
}

/// Readings that a correction is about; in a file each says its id.
pub(crate) fn touched_readings(corrections: &[Correction]) -> BTreeSet<Uuid> {
    corrections.iter().filter_map(reading_id).collect()
}

/// Keys of the snapshot that a correction is about.
pub(crate) fn touched_fields(corrections: &[Correction]) -> BTreeSet<&str> {
    let mut fields: BTreeSet<&str> = corrections.iter().filter_map(|each| each.field.as_deref()).collect();
    if fields.contains("facing") {
        fields.insert("wheel_on_spot");
    }
    fields
}

fn reading_id(correction: &Correction) -> Option<Uuid> {
    Uuid::parse_str(correction.reading.as_deref()?).ok()
}

fn write_value(reading: &mut NewReading, written: &Value) {
    let text = |key: &str| written[key].as_str().unwrap_or_default().to_owned();
    if let Some(value) = written.get("value_mm").or_else(|| written.get("angle_deg")).and_then(Value::as_f64) {
        (reading.text, reading.unit, reading.value) = (text("text"), text("unit"), value);
    }
}

/// Sets a key of a snapshot; `null` takes it away. The spots follow the facing where they stand in the file.
fn set(document: &mut Value, field: &str, value: Value) {
    if field == "facing" && document["wheel_on_spot"].is_object() {
        let spots = if value == json!("B") { ["S4", "S3", "S2", "S1"] } else { ["S1", "S2", "S3", "S4"] };
        document["wheel_on_spot"] = json!({"FL": spots[0], "FR": spots[1], "RL": spots[2], "RR": spots[3]});
    }
    let Value::Object(keys) = document else { return };
    if value.is_null() {
        keys.shift_remove(field);
    } else {
        keys.insert(field.to_owned(), value);
    }
}

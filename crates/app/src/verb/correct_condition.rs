//! Corrects a condition of a finished snapshot.

use crate::book_page::{self, Book, LOAD};
use crate::condition::{air, odometer, pressures};
use crate::fields::Fields;
use crate::wire::{BookView, CorrectCondition, GaugeUnit, Problem};
use crate::{Garage, Now, car_form, load, moment};
use serde_json::{Value, json};
use trueground_core::capture::{Corrected, OwnedInstrument};
use trueground_core::units::TemperatureUnit;

/// Writes another floor, facing, load, odometer, air, date or name, or other pressures, over those of the snapshot. What stood there is
/// kept.
///
/// # Errors
/// No such snapshot or field, unfinished, no reason, what was typed cannot be read, or it says so already; then nothing was
/// stored.
pub fn correct_condition(garage: &mut Garage, request: CorrectCondition, now: &Now<'_>) -> Result<BookView, Problem> {
    let book = Book::of(garage, &request.snapshot)?;
    if garage.store.heard_correction(&request.request_id)? {
        return Ok(book_page::page(&book));
    }
    let mut fields = Fields::default();
    let typed = request.text.trim();
    let new = match request.field.as_str() {
        "floor" if typed.is_empty() => Value::Null,
        "floor" => {
            if !book.file.floors.iter().any(|floor| floor.id == typed) {
                fields.refuse("text", typed, "There is no such floor.", "Choose one of the list.");
            }
            json!(typed)
        }
        "tape" if typed.is_empty() => Value::Null,
        "tape" => {
            if !book
                .file
                .instruments
                .iter()
                .any(|owned| matches!(owned, OwnedInstrument::Tape(tape) if tape.id == typed))
            {
                fields.refuse("text", typed, "There is no such tape.", "Choose one of the list.");
            }
            json!(typed)
        }
        "facing" => {
            if !["A", "B"].contains(&typed) {
                fields.refuse("text", typed, "A car stands as first or turned end for end.", "Choose one of the two.");
            }
            json!(typed)
        }
        "label" if typed.is_empty() => json!(""),
        "label" => json!(fields.label("text", "The snapshot", typed)),
        "date" => json!(moment::day(&mut fields, typed, now)),
        "odometer_km" => json!(odometer(&mut fields, &request.text)),
        "air_c" => json!(air(&mut fields, &request.text, TemperatureUnit::C)),
        "tire_pressure_kpa" => match &request.pressures {
            Some(typed) => car_form::written(&pressures(&mut fields, typed, GaugeUnit::Kpa))?,
            None => Value::Null,
        },
        LOAD => match &request.load {
            Some(typed) => car_form::written(&load::read(&mut fields, typed, &book.file.vehicle))?,
            None => json!([]),
        },
        other => {
            let sentence = format!("{} cannot be corrected.", trueground_core::wording::shown(other));
            return Err(Problem::new("field_unknown", sentence, "Choose one of the list."));
        }
    };
    let old = book.record.document.get(&request.field).cloned().unwrap_or_default();
    let reason = book_page::reason(&mut fields, &request.reason);
    if same(&old, &new) {
        fields.refuse("text", &request.text, "It says that already.", "Type what it should say, or leave it as it is.");
    }
    fields.done()?;
    let mut correction = book.correction(Corrected::Condition, now);
    correction.field = Some(request.field.clone());
    correction.reason = reason;
    correction.old = Some(old).filter(|old| !old.is_null());
    correction.new = Some(new).filter(|new| !new.is_null());
    correction.text = match &request.pressures {
        Some(pressures) if request.field == "tire_pressure_kpa" => Some(car_form::written(pressures)?.to_string()),
        _ if request.field == LOAD => {
            request.load.as_ref().map(car_form::written).transpose()?.map(|as_typed| as_typed.to_string())
        }
        _ => Some(request.text.clone()),
    };
    book_page::correct(garage, &book, &correction, &request.request_id, now)
}

/// 600 and 600.0 are the same, and so are nothing, an empty name, and a facing that is not said.
fn same(old: &Value, new: &Value) -> bool {
    let plain = |value: &Value| match value {
        Value::Number(number) => json!(number.as_f64()),
        Value::String(text) if text.is_empty() || text == "A" => Value::Null,
        other => other.clone(),
    };
    plain(old) == plain(new)
}

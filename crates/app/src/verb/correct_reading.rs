//! Corrects a reading of a finished snapshot.

use super::take_reading::{HEIGHT_RANGE_MM, HUB_RANGE_MM, HUB_TO_LIP_RANGE_MM, LINE_RANGE_MM, STEEP_DEG};
use crate::book_page::{self, Book};
use crate::fields::Fields;
use crate::wire::{BookView, CorrectReading, FieldProblem, Problem, ReadingChange};
use crate::{Garage, Now};
use serde_json::json;
use trueground_core::capture::Corrected;
use trueground_core::units::{LengthUnit, read_angle, read_length};
use trueground_store::{NewReading, ReadingKind, Standing, written_value};

/// Writes another value over a reading, strikes it, or lets a struck one count again. What stood there is kept.
///
/// # Errors
/// No such snapshot or reading, unfinished, no reason, the value cannot be read, or there is nothing to correct; then nothing
/// was stored.
pub fn correct_reading(garage: &mut Garage, request: CorrectReading, now: &Now<'_>) -> Result<BookView, Problem> {
    let book = Book::of(garage, &request.snapshot)?;
    let reading = book.reading(&request.reading)?;
    if garage.store.heard_correction(&request.request_id)? {
        return Ok(book_page::page(&book));
    }
    let mut fields = Fields::default();
    let reason = book_page::reason(&mut fields, &request.reason);
    let mut correction = book.correction(Corrected::Value, now);
    correction.reading = Some(request.reading.clone());
    match request.change {
        ReadingChange::Value => {
            correction.old = Some(written_value(&reading.taken));
            let new = value(&mut fields, &reading.taken, &request.text);
            correction.new = new.as_ref().map(written_value);
            if correction.new == correction.old {
                let hint = "Type what it should say, or leave it as it is.";
                fields.refuse("text", &request.text, "It says that already.", hint);
            }
        }
        ReadingChange::Strike => {
            correction.what = Corrected::Struck;
            if !reading.counts() {
                let hint = "Nothing is left to strike there.";
                return Err(Problem::new("nothing_to_correct", "This reading takes no part already.", hint));
            }
        }
        ReadingChange::BringBack => {
            correction.what = Corrected::BroughtBack;
            correction.old = match &reading.standing {
                Standing::Kept => {
                    let hint = "Nothing has to be brought back.";
                    return Err(Problem::new("nothing_to_correct", "This reading counts already.", hint));
                }
                Standing::TakenBack { at } => Some(json!({ "reason": "taken back", "at": at.iso() })),
                Standing::Struck { reason, at } => Some(json!({ "reason": reason, "at": at })),
            };
        }
    }
    fields.done()?;
    correction.reason = reason;
    book_page::correct(garage, &book, &correction, &request.request_id, now)
}

/// The reading with what was typed over it: a bare number is in its own unit, and it keeps its side of a level line.
pub(super) fn value(fields: &mut Fields, reading: &NewReading, typed: &str) -> Option<NewReading> {
    if reading.kind == ReadingKind::Gauge {
        return angle(fields, reading, typed);
    }
    let unit = match reading.unit.as_str() {
        "in" => LengthUnit::In,
        "cm" => LengthUnit::Cm,
        _ => LengthUnit::Mm,
    };
    let below = reading.kind == ReadingKind::Plane && reading.value < 0.0;
    let bare = if below { typed.trim_start().trim_start_matches(['-', '\u{2212}']) } else { typed };
    let (what, range) = match reading.kind {
        ReadingKind::Plane | ReadingKind::Staff => ("the way from the line to a point", LINE_RANGE_MM),
        _ if reading.place.starts_with("hub_to:") => ("a wheel centre to lip", HUB_TO_LIP_RANGE_MM),
        _ if reading.place.starts_with("hub.") => ("a wheel centre", HUB_RANGE_MM),
        _ => ("a ride height", HEIGHT_RANGE_MM),
    };
    match read_length(bare, unit).and_then(|entered| entered.within(what, range)) {
        Ok(entered) => {
            let mm = entered.length.to_mm();
            let (value, text) = if below { (0.0 - mm, format!("-{}", bare.trim())) } else { (mm, typed.to_owned()) };
            Some(NewReading { text, unit: entered.unit.to_string(), value, ..reading.clone() })
        }
        Err(error) => {
            fields.push(FieldProblem::entry("text", typed, error));
            None
        }
    }
}

fn angle(fields: &mut Fields, reading: &NewReading, typed: &str) -> Option<NewReading> {
    match read_angle(typed) {
        Ok(entered) if entered.angle.to_deg().abs() > STEEP_DEG => {
            let deg = entered.angle.to_deg();
            let sentence = format!("{deg}° is steeper than any frame: within ± {STEEP_DEG}° is usual.");
            fields.refuse("text", typed, &sentence, "Type what the note says.");
            None
        }
        Ok(entered) => Some(NewReading {
            text: typed.to_owned(),
            unit: "deg".to_owned(),
            value: entered.angle.to_deg(),
            ..reading.clone()
        }),
        Err(error) => {
            fields.push(FieldProblem::entry("text", typed, error));
            None
        }
    }
}

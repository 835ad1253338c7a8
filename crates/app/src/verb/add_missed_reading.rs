//! Adds a reading that was missed to a finished snapshot.

use super::correct_reading::value;
use crate::book_page::{self, Book};
use crate::fields::{Fields, unit};
use crate::moment;
use crate::wire::{AddMissedReading, BookView, Problem};
use crate::{Garage, Now};
use serde_json::{Map, json};
use trueground_core::capture::Corrected;
use trueground_store::{NewReading, ReadingKind};

/// Adds a tape reading from a note, with the time it was read; it says for ever that it was added later.
///
/// # Errors
/// No such snapshot, place or bounce, unfinished, no reason, a value or a time that cannot be read, or one still to come; then
/// nothing was stored.
pub fn add_missed_reading(garage: &mut Garage, request: AddMissedReading, now: &Now<'_>) -> Result<BookView, Problem> {
    let book = Book::of(garage, &request.snapshot)?;
    if garage.store.heard_correction(&request.request_id)? {
        return Ok(book_page::page(&book));
    }
    let mut fields = Fields::default();
    if !book.places().iter().any(|place| place.point == request.point) {
        fields.refuse("ref", &request.point, "This car has no such place.", "Choose one of the list.");
    }
    let bounces = book.bounce_ids();
    let bounce = bounces.get((request.bounce as usize).wrapping_sub(1));
    if bounce.is_none() {
        let sentence = format!("There is no bounce {}: this snapshot has {}.", request.bounce, bounces.len());
        fields.refuse("bounce", &request.bounce.to_string(), &sentence, "Choose one it has.");
    }
    let bounce = bounce.cloned().unwrap_or_default();
    let same =
        |taken: &NewReading| taken.kind == ReadingKind::Tape && taken.place == request.point && taken.bounce == bounce;
    let rounds = book.record.readings.iter().filter(|reading| same(&reading.taken)).map(|reading| reading.taken.round);
    let missed = NewReading {
        id: now.id(),
        kind: ReadingKind::Tape,
        bounce: bounce.clone(),
        pass_no: 0,
        place: request.point.clone(),
        round: rounds.max().unwrap_or(0) + 1,
        reversed: false,
        text: String::new(),
        unit: unit(book.tape).to_string(),
        value: 0.0,
        extra: Map::new(),
        request: None,
    };
    let read = value(&mut fields, &missed, &request.text);
    let at = moment::read_at(&mut fields, &request.date, &request.time, now);
    let reason = book_page::reason(&mut fields, &request.reason);
    fields.done()?;
    let read = read.unwrap_or(missed);
    let mut correction = book.correction(Corrected::Added, now);
    correction.reading = Some(read.id.to_string());
    correction.reason = reason;
    correction.new = Some(json!({
        "bounce_id": read.bounce, "ref": read.place, "repeat": read.round, "text": read.text, "unit": read.unit,
        "value_mm": read.value, "taken_at": at,
    }));
    book_page::correct(garage, &book, &correction, &request.request_id, now)
}

//! Takes a correction back.

use crate::book_page::{self, Book};
use crate::fields::Fields;
use crate::wire::{BookView, Problem, TakeBackCorrection};
use crate::{Garage, Now};
use trueground_core::capture::{Corrected, Correction};
use trueground_store::StoreError;

/// Takes an earlier correction back; both stay in the history. Taking back one that took another back brings that again.
///
/// # Errors
/// No such snapshot or correction, it is taken back already, or no reason; then nothing was stored.
pub fn take_back_correction(
    garage: &mut Garage,
    request: TakeBackCorrection,
    now: &Now<'_>,
) -> Result<BookView, Problem> {
    let book = Book::of(garage, &request.snapshot)?;
    if garage.store.heard_correction(&request.request_id)? {
        return Ok(book_page::page(&book));
    }
    if !book.record.corrections.iter().any(|each| each.uuid == request.correction) {
        let id = trueground_core::wording::shown(&request.correction);
        return Err(StoreError::NotFound { what: "correction", id }.into());
    }
    if Correction::taken_back(&book.record.corrections).contains(request.correction.as_str()) {
        let hint = "Take back the one that took it back, if it should count again.";
        return Err(Problem::new("nothing_to_correct", "This correction is taken back already.", hint));
    }
    let mut fields = Fields::default();
    let reason = book_page::reason(&mut fields, &request.reason);
    fields.done()?;
    let mut correction = book.correction(Corrected::TakenBack, now);
    correction.of = Some(request.correction.clone());
    correction.reason = reason;
    book_page::correct(garage, &book, &correction, &request.request_id, now)
}

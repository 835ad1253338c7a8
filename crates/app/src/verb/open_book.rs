//! Opens the book of a finished snapshot.

use crate::book_page::{Book, page};
use crate::wire::{BookView, Problem, SnapshotRef};
use crate::{Garage, Now};

/// Every reading and condition as they count, and what was corrected.
///
/// # Errors
/// No such snapshot, or it is unfinished.
pub fn open_book(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<BookView, Problem> {
    Ok(page(&Book::of(garage, &request.snapshot)?))
}

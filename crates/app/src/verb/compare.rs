//! Holds two stances of a car against each other.

use crate::compare_page::{asked, page};
use crate::wire::{CompareAsk, CompareView, Problem};
use crate::{Garage, Now};

/// Everything the Compare tab says of the two; a sentence in place of it where there are no two stances yet.
///
/// # Errors
/// No such car, snapshot or target, a stance against itself, or readings that cannot be worked out.
pub fn compare(garage: &mut Garage, request: CompareAsk, now: &Now<'_>) -> Result<CompareView, Problem> {
    page(&asked(garage, &request, &now.stamp().date())?, &request)
}

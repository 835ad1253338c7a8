//! Puts a photo back that was taken off.

use super::take_off_photo::mark;
use crate::wire::{PhotoRef, PhotosView, Problem};
use crate::{Garage, Now};

/// Puts it back. Twice changes nothing.
///
/// # Errors
/// No such photo, or it cannot be written.
pub fn put_back_photo(garage: &mut Garage, request: PhotoRef, now: &Now<'_>) -> Result<PhotosView, Problem> {
    mark(garage, &request, false, now)
}

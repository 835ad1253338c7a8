//! Takes a photo off its side.

use crate::wire::{PhotoRef, PhotosView, Problem};
use crate::{Garage, Now, photo_page, problems};

/// Takes it off; it stays in the book and can be put back. Twice changes nothing.
///
/// # Errors
/// No such photo, or it cannot be written.
pub fn take_off_photo(garage: &mut Garage, request: PhotoRef, now: &Now<'_>) -> Result<PhotosView, Problem> {
    mark(garage, &request, true, now)
}

pub(super) fn mark(garage: &mut Garage, request: &PhotoRef, off: bool, now: &Now<'_>) -> Result<PhotosView, Problem> {
    let id = problems::id("photo", &request.photo)?;
    garage.store.mark_photo(id, off, now.stamp())?;
    let (snapshot, _) = garage.store.photo(id)?;
    photo_page::page(garage, snapshot)
}

//! Shows one photo.

use crate::wire::{PhotoPicture, PhotoRef, Problem};
use crate::{Garage, Now, photo_page};

/// Its picture, at the size it was kept.
///
/// # Errors
/// No such photo, or its picture is missing or damaged and no backup has it.
pub fn see_photo(garage: &mut Garage, request: PhotoRef, _now: &Now<'_>) -> Result<PhotoPicture, Problem> {
    photo_page::picture(garage, &request)
}

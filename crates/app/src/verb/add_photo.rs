//! Adds a photo of one side to a snapshot.

use crate::wire::{AddPhoto, PhotosView, Problem};
use crate::{Garage, Now, photo_page};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use trueground_core::picture::{MOST_BYTES, NoPicture};
use trueground_store::StoreError;

/// Adds it, to a finished snapshot too, since no number hangs on it; an earlier one of that side stays in the book.
///
/// # Errors
/// No such snapshot, not a picture, too large, or it cannot be written; then nothing is stored.
pub fn add_photo(garage: &mut Garage, request: AddPhoto, now: &Now<'_>) -> Result<PhotosView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let refused = |error: NoPicture| Problem::from(StoreError::NoPicture { error });
    // Four letters carry three bytes.
    let bytes = request.data.len() / 4 * 3;
    if bytes > MOST_BYTES + 3 {
        return Err(refused(NoPicture::TooManyBytes { bytes }));
    }
    let bytes = STANDARD.decode(&request.data).map_err(|_| refused(NoPicture::Unknown))?;
    garage.store.add_photo(id, request.side, &bytes, now.stamp())?;
    photo_page::page(garage, id)
}

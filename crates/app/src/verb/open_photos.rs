//! Shows the photos of a snapshot.

use crate::wire::{PhotosView, Problem, SnapshotRef};
use crate::{Garage, Now, photo_page};

/// Its four sides in walking order.
///
/// # Errors
/// No such snapshot, or it cannot be read.
pub fn open_photos(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<PhotosView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    photo_page::page(garage, id)
}

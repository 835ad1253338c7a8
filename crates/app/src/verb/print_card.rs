//! The card of a snapshot's stance, to print.

use super::see_result::about;
use crate::photo_page::data_url;
use crate::sheet::card;
use crate::wire::{BlankSheet, Problem, SnapshotRef};
use crate::words::file_stem;
use crate::{Garage, Now};
use trueground_core::capture::PhotoSide;

/// A page to print, with the photos of the snapshot, and a name to save it under. A photo whose picture is lost is left out.
///
/// # Errors
/// No such snapshot, or its readings cannot be worked out.
pub fn print_card(garage: &mut Garage, request: SnapshotRef, _now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let photos = garage.store.photos(garage.find("snapshot", &request.snapshot)?)?;
    let picture = |side: PhotoSide| {
        let photo = photos.shown(side)?;
        Some((side, data_url(photo.media_type(), &garage.store.picture(photo).ok()?)))
    };
    let pictures = PhotoSide::ALL.into_iter().filter_map(picture).collect();
    about(garage, &request.snapshot, |about| BlankSheet {
        file_name: format!(
            "{}-{}-card.html",
            file_stem(&about.solved.file.vehicle.label),
            file_stem(&about.snapshot.date)
        ),
        html: card::of(about, &pictures),
    })
}

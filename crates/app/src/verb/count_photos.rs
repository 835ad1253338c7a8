//! Says how much a car's photos add to its file, before it is written.

use crate::wire::{CarRef, PhotoCount, Problem};
use crate::{Garage, Now};

/// Number and size of a car's photos as a file carries them.
///
/// # Errors
/// The garage cannot be read.
pub fn count_photos(garage: &mut Garage, request: CarRef, _now: &Now<'_>) -> Result<PhotoCount, Problem> {
    let (photos, bytes) = garage.store.pictures_of(garage.find("car", &request.car)?)?;
    // Written as text, three bytes are four letters.
    let megabytes = (bytes as f64 * 4.0 / 3.0 / 1e6).max(0.1);
    let words = match photos {
        0 => String::new(),
        1 => format!("1 photo, about {megabytes:.1} MB"),
        many => format!("{many} photos, about {megabytes:.1} MB"),
    };
    Ok(PhotoCount { photos, words })
}

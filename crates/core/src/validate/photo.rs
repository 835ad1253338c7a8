//! Photos of a snapshot, as far as a file alone can tell; whether the data is the picture it is named after, the store looks at.

use super::Faults;
use crate::capture::Photo;
use crate::picture::{LONGEST_EDGE_PX, MOST_BYTES, PictureFormat};
use crate::wording::shown;

const MOST_PHOTOS: usize = 1_000;

pub(super) fn check(place: &str, photos: &[Photo], found: &mut Faults) {
    found.count(place, photos.len(), MOST_PHOTOS);
    for (number, photo) in photos.iter().enumerate() {
        let place = format!("{place}[{number}]");
        if !is_hash(&photo.sha256) {
            let message = format!("{} is no SHA-256: 64 digits of 0 to 9 and a to f", shown(&photo.sha256));
            found.add(format!("{place}.sha256"), message, "export the car again");
        }
        if PictureFormat::from_media_type(&photo.media_type).is_none() {
            let message = format!("{} is not known", shown(&photo.media_type));
            found.add(format!("{place}.media_type"), message, "use image/jpeg, image/png or image/webp");
        }
        let edge = 1.0..=f64::from(LONGEST_EDGE_PX);
        found.number(&format!("{place}.width_px"), f64::from(photo.width_px), &edge, "px");
        found.number(&format!("{place}.height_px"), f64::from(photo.height_px), &edge, "px");
        found.number(&format!("{place}.size_bytes"), f64::from(photo.size_bytes), &(1.0..=MOST_BYTES as f64), "bytes");
    }
}

/// 64 small hexadecimal digits.
fn is_hash(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|digit| matches!(digit, b'0'..=b'9' | b'a'..=b'f'))
}

//! Photos of a snapshot's four sides: to look at, and to stand in the same place again; no number hangs on them.

use serde::{Deserialize, Serialize};
use trueground_core::capture::PhotoSide;

/// The photos of a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PhotosView {
    /// The snapshot.
    pub snapshot: String,
    /// All four sides in walking order.
    pub sides: Vec<SidePhoto>,
}

/// One side of a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SidePhoto {
    /// Which.
    pub side: PhotoSide,
    /// "left side"
    pub words: String,
    /// The photo that counts.
    pub photo: Option<PhotoView>,
    /// The newest photo, where it was taken off; it can be put back.
    pub taken_off: Option<String>,
    /// How many others of this side are kept in the book.
    pub others: usize,
    /// The same side in the last snapshot that has one, to stand in the same place.
    pub before: Option<PhotoView>,
}

/// A photo.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PhotoView {
    /// Its id.
    pub photo: String,
    /// Width as shown, px.
    pub width_px: u32,
    /// Height as shown, px.
    pub height_px: u32,
    /// "28 Aug 2031", with "added 3 Sept 2031" behind it where that was another day.
    pub when: String,
    /// In a sentence, for whoever does not see it.
    pub alt: String,
}

/// Names a photo.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct PhotoRef {
    /// Its id.
    pub photo: String,
}

/// A photo's picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PhotoPicture {
    /// Its id.
    pub photo: String,
    /// As an image takes it: `data:image/jpeg;base64,…`
    pub data_url: String,
}

/// A photo to add to a snapshot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct AddPhoto {
    /// The snapshot.
    pub snapshot: String,
    /// Which side it shows.
    pub side: PhotoSide,
    /// The picture, JPEG, PNG or WebP, as Base64.
    pub data: String,
}

/// How many photos a car has.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct PhotoCount {
    /// Replaced and taken-off ones too, since a file carries them.
    pub photos: i64,
    /// What they add to an exported file: "4 photos, about 2.1 MB"; empty where there are none.
    pub words: String,
}

/// Asks for a car as an exchange file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct ExportCar {
    /// Id.
    pub car: String,
    /// Photos are named, and their pictures left out.
    #[serde(default)]
    #[cfg_attr(feature = "ts", ts(optional, as = "Option<bool>"))]
    pub without_pictures: bool,
}

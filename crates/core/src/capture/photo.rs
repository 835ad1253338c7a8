//! A photo of one side of the car in a snapshot: to look at, never measured from.

use super::Struck;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A photo of one side. Of several of one side the last counts; the ones before it stay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Photo {
    /// Which side of the car is seen.
    pub side: PhotoSide,
    /// SHA-256 of the picture's bytes (FIPS 180-4), 64 small hexadecimal digits; the name of its file.
    pub sha256: String,
    /// `image/jpeg`, `image/png` or `image/webp`.
    pub media_type: String,
    /// Width as it is shown, px.
    pub width_px: u32,
    /// Height as it is shown, px.
    pub height_px: u32,
    /// Size of the picture, bytes.
    pub size_bytes: u32,
    /// When it was added, `YYYY-MM-DDTHH:MM:SS+HH:MM`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub added_at: Option<String>,
    /// Set when the person took it off; it stays in the book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken_off: Option<Struck>,
    /// The picture itself, Base64 (RFC 4648 section 4); absent where the file names it only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub data: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Which side of the car a photo shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum PhotoSide {
    /// The nose.
    Front,
    /// Its right.
    Right,
    /// The tail.
    Rear,
    /// Its left.
    Left,
}

impl PhotoSide {
    /// All four as a walk passes them: from the front left corner past the nose, along the right, past the tail, along the left.
    pub const ALL: [Self; 4] = [Self::Front, Self::Right, Self::Rear, Self::Left];

    /// As in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Right => "right",
            Self::Rear => "rear",
            Self::Left => "left",
        }
    }

    /// In words: "right side".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Right => "right side",
            Self::Rear => "rear",
            Self::Left => "left side",
        }
    }

    /// The side of that code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|side| side.code() == code)
    }
}

//! What kind of picture some bytes are, how large, and the same picture without what it tells about place and camera.
//!
//! Only the frame of a file is walked, never its pixels, so a small file that would unpack into a huge picture is refused by the
//! numbers in its header. Sources: JPEG, ITU-T T.81 annex B; PNG, ISO/IEC 15948 section 5; WebP, RFC 9649; orientation, Exif 3.0 tag 0112.

mod jpeg;
mod png;
mod webp;

/// Most bytes of a picture that is taken in.
pub const MOST_BYTES: usize = 25 << 20;
/// Longest edge that is taken in, px.
pub const LONGEST_EDGE_PX: u32 = 16_384;
/// Most px in all.
const MOST_PX: u64 = 64_000_000;

/// A picture that was recognised from its content.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Picture {
    /// How it is written.
    pub format: PictureFormat,
    /// Width as it is shown, px.
    pub width_px: u32,
    /// Height as it is shown, px.
    pub height_px: u32,
}

/// How a picture is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PictureFormat {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// WebP.
    Webp,
}

impl PictureFormat {
    const ALL: [Self; 3] = [Self::Jpeg, Self::Png, Self::Webp];

    /// `image/jpeg`
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::Webp => "image/webp",
        }
    }

    /// Ending of a file's name: `jpg`.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Webp => "webp",
        }
    }

    /// The format of that media type.
    pub fn from_media_type(media_type: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|format| format.media_type() == media_type)
    }
}

/// Why bytes are not taken in as a picture; the sentence says what, `hint` what to do.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoPicture {
    /// Nothing in it.
    #[error("The picture is empty: it has 0 bytes.")]
    Empty,
    /// More than [`MOST_BYTES`].
    #[error("The picture has {} MB; at most 25 MB are kept.", .bytes.div_ceil(1 << 20))]
    TooManyBytes {
        /// Its size.
        bytes: usize,
    },
    /// None of the three formats.
    #[error("This is not a JPEG, PNG or WebP picture, whatever its name says.")]
    Unknown,
    /// Breaks off, or its parts do not fit together.
    #[error("The picture is damaged: {what}.")]
    Broken {
        /// What is wrong.
        what: &'static str,
    },
    /// More px than are taken in, or none.
    #[error(
        "The picture says it is {width_px} × {height_px} px; 1 to 16384 px an edge and at most 64 million px are kept."
    )]
    Size {
        /// As its header says.
        width_px: u32,
        /// As its header says.
        height_px: u32,
    },
}

impl NoPicture {
    /// What to do next.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Empty | Self::Unknown | Self::Broken { .. } => "Choose another picture, or take it again.",
            Self::TooManyBytes { .. } | Self::Size { .. } => {
                "Choose a smaller one: 2048 px on the long edge are plenty."
            }
        }
    }
}

const fn broken(what: &'static str) -> NoPicture {
    NoPicture::Broken { what }
}

/// What was found in a file: the picture, and its bytes with nothing but the picture.
struct Walked {
    width_px: u32,
    height_px: u32,
    plain: Vec<u8>,
}

/// Recognises a picture by its content.
///
/// # Errors
/// Not a picture, damaged, or larger than is taken in.
pub fn recognise(bytes: &[u8]) -> Result<Picture, NoPicture> {
    walk(bytes).map(|(picture, _)| picture)
}

/// The same picture without place, camera, comments and whatever hangs behind its end; which way up it is shown stays.
///
/// # Errors
/// As [`recognise`].
pub fn without_metadata(bytes: &[u8]) -> Result<Vec<u8>, NoPicture> {
    walk(bytes).map(|(_, plain)| plain)
}

fn walk(bytes: &[u8]) -> Result<(Picture, Vec<u8>), NoPicture> {
    if bytes.is_empty() {
        return Err(NoPicture::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(NoPicture::TooManyBytes { bytes: bytes.len() });
    }
    let (format, walked) = match bytes {
        [0xff, 0xd8, 0xff, ..] => (PictureFormat::Jpeg, jpeg::walk(bytes)?),
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', rest @ ..] => (PictureFormat::Png, png::walk(bytes, rest)?),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', rest @ ..] => {
            (PictureFormat::Webp, webp::walk(rest)?)
        }
        _ => return Err(NoPicture::Unknown),
    };
    let (width_px, height_px) = (walked.width_px, walked.height_px);
    let edge = 1..=LONGEST_EDGE_PX;
    let fits =
        edge.contains(&width_px) && edge.contains(&height_px) && u64::from(width_px) * u64::from(height_px) <= MOST_PX;
    if !fits {
        return Err(NoPicture::Size { width_px, height_px });
    }
    Ok((Picture { format, width_px, height_px }, walked.plain))
}

#[cfg(test)]
mod tests;

//! The frame of a JPEG file: marker segments, and the coded data between them.

use super::{NoPicture, Walked, broken};

const BREAKS_OFF: NoPicture = broken("it breaks off before its end");

/// Walks from marker to marker up to the end of the image. Application segments and comments are left out of the plain bytes,
/// but for those that say how colours are meant; an orientation is written anew.
pub(super) fn walk(bytes: &[u8]) -> Result<Walked, NoPicture> {
    let mut plain = vec![0xff, 0xd8];
    let mut size = None;
    let mut orientation = 1;
    let mut scanned = false;
    let mut at = 2;
    loop {
        let marker = match bytes.get(at..at + 2).ok_or(BREAKS_OFF)? {
            // Any number of fill bytes may stand before a marker.
            [0xff, 0xff] => {
                at += 1;
                continue;
            }
            [0xff, marker] => *marker,
            _ => return Err(broken("a marker is missing between its parts")),
        };
        at += 2;
        if marker == 0xd9 {
            break;
        }
        if matches!(marker, 0x01 | 0xd0..=0xd8) {
            return Err(broken("a marker stands where none belongs"));
        }
        let length = bytes.get(at..at + 2).ok_or(BREAKS_OFF)?;
        let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
        let segment = bytes.get(at..at + length).ok_or(BREAKS_OFF)?;
        let content = segment.get(2..).ok_or(broken("a part of it has no length"))?;
        match marker {
            // Start of frame, but for the tables that lie between those codes.
            0xc0..=0xcf if !matches!(marker, 0xc4 | 0xc8 | 0xcc) => {
                let [_, h1, h0, w1, w0, ..] = content else { return Err(broken("its size is missing")) };
                size = Some((u16::from_be_bytes([*w1, *w0]), u16::from_be_bytes([*h1, *h0])));
            }
            0xe1 => orientation = exif_orientation(content).unwrap_or(orientation),
            _ => {}
        }
        if is_kept(marker, content) {
            plain.extend([0xff, marker]);
            plain.extend(segment);
        }
        at += length;
        if marker == 0xda {
            let coded = end_of_coded(&bytes[at..]).ok_or(BREAKS_OFF)?;
            plain.extend(&bytes[at..at + coded]);
            at += coded;
            scanned = true;
        }
    }
    let (width, height) = size.ok_or(broken("its size is missing"))?;
    if !scanned {
        return Err(broken("there is no picture in it"));
    }
    plain.extend([0xff, 0xd9]);
    if orientation != 1 {
        plain.splice(2..2, exif_of(orientation));
    }
    let (width_px, height_px) = (u32::from(width), u32::from(height));
    // From 5 on the picture lies on its side.
    let (width_px, height_px) = if orientation >= 5 { (height_px, width_px) } else { (width_px, height_px) };
    Ok(Walked { width_px, height_px, plain })
}

/// JFIF, the colour profile and the note on colour transforms belong to the picture.
fn is_kept(marker: u8, content: &[u8]) -> bool {
    match marker {
        0xe0 => content.starts_with(b"JFIF\0"),
        0xe2 => content.starts_with(b"ICC_PROFILE\0"),
        0xee => content.starts_with(b"Adobe"),
        0xe1..=0xef | 0xfe => false,
        _ => true,
    }
}

/// How many bytes of coded data stand before the next marker.
fn end_of_coded(bytes: &[u8]) -> Option<usize> {
    bytes.windows(2).position(|pair| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xd0..=0xd7 | 0xff))
}

/// The orientation, 1 to 8, in the first directory of an Exif segment.
fn exif_orientation(content: &[u8]) -> Option<u8> {
    let tiff = content.strip_prefix(b"Exif\0\0")?;
    let little = match tiff.get(..4)? {
        [b'I', b'I', 42, 0] => true,
        [b'M', b'M', 0, 42] => false,
        _ => return None,
    };
    let two = |at: usize| -> Option<u16> {
        let pair: [u8; 2] = tiff.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) })
    };
    let four: [u8; 4] = tiff.get(4..8)?.try_into().ok()?;
    let directory = if little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) };
    let directory = usize::try_from(directory).ok()?;
    let entries = usize::from(two(directory)?);
    (0..entries)
        .map_while(|entry| directory.checked_add(2 + 12 * entry))
        .find_map(|at| (two(at)? == 0x0112).then(|| two(at + 8)).flatten().and_then(|value| u8::try_from(value).ok()))
        .filter(|value| (1..=8).contains(value))
}

/// A segment that says the orientation and nothing else.
fn exif_of(orientation: u8) -> Vec<u8> {
    let mut segment = vec![0xff, 0xe1, 0, 34];
    segment.extend(b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0");
    segment.push(orientation);
    segment.extend([0; 6]);
    segment
}

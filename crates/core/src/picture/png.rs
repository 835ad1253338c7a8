//! The frame of a PNG file: chunks.

use super::{NoPicture, Walked, broken};

const SIGNATURE: usize = 8;

/// Walks from chunk to chunk up to the end of the image; text, time and Exif chunks are left out of the plain bytes.
pub(super) fn walk(bytes: &[u8], mut rest: &[u8]) -> Result<Walked, NoPicture> {
    let mut plain = bytes[..SIGNATURE].to_vec();
    let mut size = None;
    let mut has_data = false;
    loop {
        let (Some(&length), Some(&kind)) =
            (rest.first_chunk::<4>(), rest.get(4..).and_then(|rest| rest.first_chunk::<4>()))
        else {
            return Err(broken("it breaks off before its end"));
        };
        // Length, kind and checksum are 12 bytes more.
        let whole = usize::try_from(u32::from_be_bytes(length)).ok().and_then(|length| length.checked_add(12));
        let chunk = whole.and_then(|whole| rest.get(..whole)).ok_or(broken("it breaks off before its end"))?;
        match (&kind, size) {
            (b"IHDR", None) => {
                let edge = |at: usize| {
                    chunk.get(at..).and_then(|edge| edge.first_chunk::<4>()).map(|edge| u32::from_be_bytes(*edge))
                };
                size = edge(8).zip(edge(12)).filter(|_| chunk.len() == 25);
                if size.is_none() {
                    return Err(broken("its size is missing"));
                }
            }
            (_, None) => return Err(broken("its size is missing")),
            (b"IDAT", _) => has_data = true,
            _ => {}
        }
        if !matches!(&kind, b"tEXt" | b"zTXt" | b"iTXt" | b"tIME" | b"eXIf") {
            plain.extend(chunk);
        }
        if kind == *b"IEND" {
            break;
        }
        rest = &rest[chunk.len()..];
    }
    let Some((width_px, height_px)) = size.filter(|_| has_data) else {
        return Err(broken("there is no picture in it"));
    };
    Ok(Walked { width_px, height_px, plain })
}

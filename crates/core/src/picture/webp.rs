//! The frame of a WebP file: chunks of a RIFF container.

use super::{NoPicture, Walked, broken};

/// Exif and XMP in the flags of an extended file.
const METADATA: u8 = 0b0000_1100;

/// Walks the chunks after the twelve bytes of the container's head; Exif and XMP are left out of the plain bytes.
pub(super) fn walk(mut rest: &[u8]) -> Result<Walked, NoPicture> {
    let mut chunks = Vec::new();
    let mut size = None;
    let mut has_data = false;
    while let Some(&[k0, k1, k2, k3, l0, l1, l2, l3]) = rest.first_chunk::<8>() {
        let length = usize::try_from(u32::from_le_bytes([l0, l1, l2, l3])).ok();
        let whole = length.and_then(|length| length.checked_add(8));
        let chunk = whole.and_then(|whole| rest.get(..whole)).ok_or(broken("it breaks off before its end"))?;
        let content = &chunk[8..];
        let mut kept = chunk.to_vec();
        match &[k0, k1, k2, k3] {
            b"VP8X" => {
                let [_, _, _, _, w0, w1, w2, h0, h1, h2, ..] = content else {
                    return Err(broken("its size is missing"));
                };
                let edge = |low: u8, middle: u8, high: u8| u32::from_le_bytes([low, middle, high, 0]) + 1;
                size = Some((edge(*w0, *w1, *w2), edge(*h0, *h1, *h2)));
                kept[8] &= !METADATA;
            }
            b"VP8 " => {
                has_data = true;
                let [_, _, _, 0x9d, 0x01, 0x2a, w0, w1, h0, h1, ..] = content else {
                    return Err(broken("its size is missing"));
                };
                let edge = |low: u8, high: u8| u32::from(u16::from_le_bytes([low, high]) & 0x3fff);
                size = size.or(Some((edge(*w0, *w1), edge(*h0, *h1))));
            }
            b"VP8L" => {
                has_data = true;
                let [0x2f, b0, b1, b2, b3, ..] = content else { return Err(broken("its size is missing")) };
                let bits = u32::from_le_bytes([*b0, *b1, *b2, *b3]);
                size = size.or(Some(((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1)));
            }
            b"ANMF" => has_data = true,
            b"EXIF" | b"XMP " => kept.clear(),
            _ => {}
        }
        if !kept.is_empty() {
            chunks.extend(kept);
            if content.len() % 2 == 1 {
                chunks.push(0);
            }
        }
        // Chunks begin at even places.
        rest = rest.get(chunk.len() + content.len() % 2..).unwrap_or_default();
    }
    let Some((width_px, height_px)) = size.filter(|_| has_data) else {
        return Err(broken("there is no picture in it"));
    };
    let length = u32::try_from(chunks.len() + 4).map_err(|_| broken("it is too long"))?;
    let mut plain = b"RIFF".to_vec();
    plain.extend(length.to_le_bytes());
    plain.extend(b"WEBP");
    plain.extend(chunks);
    Ok(Walked { width_px, height_px, plain })
}

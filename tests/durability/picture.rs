//! Photos for tests: their content follows from their number.

/// A photo as it is mostly added, bytes.
pub(crate) const USUAL: usize = 30_000;

/// A PNG's frame of this number, around so many bytes; its pixels mean nothing.
pub(crate) fn picture(number: u64, size: usize) -> Vec<u8> {
    let chunk =
        |kind: &[u8], content: &[u8]| [&(content.len() as u32).to_be_bytes()[..], kind, content, &[0; 4]].concat();
    let head = [&40_u32.to_be_bytes()[..], &30_u32.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    let data: Vec<u8> = number.to_be_bytes().into_iter().cycle().take(size).collect();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &head), chunk(b"IDAT", &data), chunk(b"IEND", &[])].concat()
}

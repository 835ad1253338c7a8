//! The letters that a photo travels in.

/// Base64 (RFC 4648), written anew so that the app's own is not judged by itself.
pub(crate) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len() / 3 * 4 + 4);
    for three in bytes.chunks(3) {
        let bits = three.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte)) << (8 * (3 - three.len()));
        for nth in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * nth) & 63) as usize] as char;
            text.push(if nth <= three.len() { letter } else { '=' });
        }
    }
    text
}

//! Pictures made here byte by byte after the three standards, and what must be refused.

use super::*;

fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
    let length = u16::try_from(content.len() + 2).expect("short");
    [&[0xff, marker][..], &length.to_be_bytes(), content].concat()
}

/// A JPEG's frame round coded data that means nothing; `extra` stands behind its head.
fn jpeg(width: u16, height: u16, extra: &[Vec<u8>]) -> Vec<u8> {
    let frame = [&[8][..], &height.to_be_bytes(), &width.to_be_bytes(), &[1, 1, 0x11, 0]].concat();
    let mut bytes = vec![0xff, 0xd8];
    bytes.extend(segment(0xe0, b"JFIF\0\x01\x02\0\0\x01\0\x01\0\0"));
    bytes.extend(extra.concat());
    bytes.extend(segment(0xc0, &frame));
    bytes.extend(segment(0xda, &[1, 1, 0, 0, 63, 0]));
    // A stuffed byte and a restart marker belong to the data.
    bytes.extend([0x12, 0xff, 0x00, 0x34, 0xff, 0xd0, 0x56, 0xff, 0xd9]);
    bytes
}

/// Exif in either byte order: a place (tag 8825) and then an orientation.
fn exif(little: bool, orientation: u16) -> Vec<u8> {
    let two = |value: u16| if little { value.to_le_bytes() } else { value.to_be_bytes() };
    let four = |value: u32| if little { value.to_le_bytes() } else { value.to_be_bytes() };
    let mut content = b"Exif\0\0".to_vec();
    content.extend(if little { *b"II" } else { *b"MM" });
    content.extend(two(42));
    content.extend(four(8));
    content.extend(two(2));
    for (tag, kind, value) in [(0x8825, 4, 0x6767_u32), (0x0112, 3, 0)] {
        content.extend(two(tag));
        content.extend(two(kind));
        content.extend(four(1));
        if tag == 0x0112 {
            content.extend(two(orientation));
            content.extend([0, 0]);
        } else {
            content.extend(four(value));
        }
    }
    content.extend(b"\0\0\0\0SECRET PLACE");
    segment(0xe1, &content)
}

fn chunk(kind: &[u8; 4], content: &[u8]) -> Vec<u8> {
    let length = u32::try_from(content.len()).expect("short");
    [&length.to_be_bytes()[..], kind, content, &[1, 2, 3, 4]].concat()
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    let chunks = [chunk(b"IHDR", &head), chunk(b"tEXt", b"SECRET PLACE"), chunk(b"IDAT", &[7; 9]), chunk(b"IEND", &[])];
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunks.concat()].concat()
}

fn riff(chunks: &[(&[u8; 4], &[u8])]) -> Vec<u8> {
    let mut content = b"WEBP".to_vec();
    for (kind, bytes) in chunks {
        content.extend(*kind);
        content.extend(u32::try_from(bytes.len()).expect("short").to_le_bytes());
        content.extend(*bytes);
        content.extend(vec![0; bytes.len() % 2]);
    }
    [&b"RIFF"[..], &u32::try_from(content.len()).expect("short").to_le_bytes(), &content].concat()
}

fn seen(bytes: &[u8]) -> (PictureFormat, u32, u32) {
    let picture = recognise(bytes).expect("a picture");
    (picture.format, picture.width_px, picture.height_px)
}

fn holds(bytes: &[u8], text: &str) -> bool {
    bytes.windows(text.len()).any(|window| window == text.as_bytes())
}

#[test]
fn a_picture_is_known_by_its_content() {
    assert_eq!(seen(&jpeg(40, 30, &[])), (PictureFormat::Jpeg, 40, 30));
    assert_eq!(seen(&png(41, 31)), (PictureFormat::Png, 41, 31));
    // 42 × 32, lossy: the 14 bits after the start code; lossless: 14 bits each less one; extended: 24 bits each less one.
    let lossy = [0, 0, 0, 0x9d, 0x01, 0x2a, 42, 0, 32, 0];
    assert_eq!(seen(&riff(&[(b"VP8 ", &lossy)])), (PictureFormat::Webp, 42, 32));
    let lossless = [&[0x2f][..], &(41_u32 | 31 << 14).to_le_bytes()].concat();
    assert_eq!(seen(&riff(&[(b"VP8L", &lossless)])), (PictureFormat::Webp, 42, 32));
    let extended = [0b1100, 0, 0, 0, 99, 0, 0, 49, 0, 0];
    let file = riff(&[(b"VP8X", &extended), (b"VP8 ", &lossy), (b"EXIF", b"SECRET PLACE!")]);
    assert_eq!(seen(&file), (PictureFormat::Webp, 100, 50));
    let plain = without_metadata(&file).expect("a picture");
    assert!(!holds(&plain, "SECRET") && plain[20] == 0, "its flags no longer promise metadata");
    assert_eq!(seen(&plain), (PictureFormat::Webp, 100, 50));
    assert_eq!(plain, riff(&[(b"VP8X", &[0, 0, 0, 0, 99, 0, 0, 49, 0, 0]), (b"VP8 ", &lossy)]));
}

#[test]
fn place_and_camera_go_and_which_way_up_stays() {
    for little in [true, false] {
        for orientation in 1..=8 {
            let comment = segment(0xfe, b"SECRET PLACE");
            let mut file = jpeg(40, 30, &[exif(little, orientation), comment, segment(0xed, b"SECRET PLACE")]);
            file.extend(b"SECRET PLACE behind the end");
            let upright = if orientation >= 5 { (PictureFormat::Jpeg, 30, 40) } else { (PictureFormat::Jpeg, 40, 30) };
            assert_eq!(seen(&file), upright, "orientation {orientation}");
            let plain = without_metadata(&file).expect("a picture");
            assert!(!holds(&plain, "SECRET"));
            assert_eq!(seen(&plain), upright, "orientation {orientation} is still said");
            assert_eq!(holds(&plain, "Exif"), orientation != 1);
            assert_eq!(without_metadata(&plain).expect("a picture"), plain, "nothing more is to be taken out");
        }
    }
    let nonsense = segment(0xe1, b"Exif\0\0MM\0\x2a\xff\xff\xff\xff");
    assert_eq!(without_metadata(&jpeg(40, 30, &[nonsense])).expect("a picture"), jpeg(40, 30, &[]));
    let profile = segment(0xe2, b"ICC_PROFILE\0\x01\x01colours");
    let kept = jpeg(40, 30, &[profile]);
    assert_eq!(without_metadata(&kept).expect("a picture"), kept, "how colours are meant belongs to the picture");
    assert!(!holds(&without_metadata(&png(4, 4)).expect("a picture"), "SECRET"));
}

#[test]
fn what_is_no_picture_is_refused_in_words() {
    let says = |bytes: &[u8], words: &str| {
        let error = recognise(bytes).expect_err(words);
        assert!(error.to_string().contains(words), "{error}");
        assert!(error.hint().ends_with('.'));
    };
    says(b"", "0 bytes");
    says(b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a JPEG, PNG or WebP");
    says(b"GIF89a\x01\0\x01\0", "not a JPEG, PNG or WebP");
    says(&vec![0; MOST_BYTES + 1], "26 MB; at most 25 MB");
    says(&png(60_000, 60_000), "60000 × 60000 px");
    says(&png(16_000, 16_000), "16000 × 16000 px");
    says(&png(0, 10), "0 × 10 px");
    says(&png(u32::MAX, 1), "4294967295 × 1 px");
    says(&jpeg(65_535, 65_535, &[]), "65535 × 65535 px");
    says(&[0xff, 0xd8, 0xff, 0xd9], "its size is missing");
    says(b"\x89PNG\r\n\x1a\nIHDR", "breaks off");
    says(&[&b"\x89PNG\r\n\x1a\n"[..], &chunk(b"IEND", &[])].concat(), "its size is missing");
    says(&riff(&[]), "no picture in it");
}

/// Every cut of every format, and every byte of it replaced: refused or recognised, never a panic, never a picture without size.
#[test]
fn no_cut_and_no_byte_makes_it_stumble() {
    let lossy = [0, 0, 0, 0x9d, 0x01, 0x2a, 42, 0, 32, 0];
    for whole in [jpeg(40, 30, &[exif(true, 6)]), png(40, 30), riff(&[(b"VP8X", &[0; 10]), (b"VP8 ", &lossy)])] {
        for cut in 0..whole.len() {
            assert!(recognise(&whole[..cut]).is_err(), "cut at {cut} of {}", whole.len());
        }
        for at in 0..whole.len() {
            for value in [0x00, 0x7f, 0xff, whole[at] ^ 1] {
                let mut changed = whole.clone();
                changed[at] = value;
                if let Ok(picture) = recognise(&changed) {
                    assert!(picture.width_px > 0 && picture.height_px > 0);
                    let plain = without_metadata(&changed).expect("recognised");
                    assert_eq!(recognise(&plain), Ok(picture));
                }
            }
        }
    }
}

//! Photographs for a booklet: made ready for print or refused, and nothing is left in them but the picture.

use super::said::can_be_told;
use flate2::Crc;
use image::ImageReader;
use pressfoot::booklet::pictures::{Asked, ready};
use pressfoot::design::Crop;
use pressfoot::diagnostic::{Diagnostics, Place, SourceText};
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::Arc;

/// Pixels to the inch that print needs, with what is not resampled.
const FINEST: f64 = 300.0 * 1.1;

/// How a PNG begins.
const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Makes the picture ready that follows three bytes: its width in print, and what is cropped off.
pub fn check(bytes: &[u8]) {
    let [wide, off, shape, file @ ..] = bytes else {
        return;
    };
    let share = f64::from(off % 16) / 20.0;
    let asked = Asked {
        name: "pictures/finished.png",
        crop: Crop {
            off: [share, 0.0, 0.0, share].map(|share| share * f64::from(off / 128)),
            shape: (shape % 4 == 3).then(|| f64::from(shape / 4 + 1) / 16.0),
            focus: (shape % 8 == 7).then_some([0.2, 0.9]),
        },
        width: (*wide > 0).then(|| f64::from(*wide)),
        room: [170.0, 240.0],
    };
    let files = BTreeMap::from([(asked.name.to_string(), with_sums(file))]);
    let source = SourceText {
        path: "booklet/10-making.md".to_string(),
        text: "![finished](pictures/finished.png)\n".to_string(),
    };
    let place = Place {
        source: Arc::new(source),
        line: 1,
        column: 1,
    };
    let mut said = Diagnostics::default();
    let picture = ready(&asked, &files, &place, &mut said);
    can_be_told(&said);
    let Some(picture) = picture else {
        assert!(said.has_errors(), "refused without a word");
        return;
    };
    let sides = [picture.width, picture.height];
    assert!(
        sides.iter().all(|side| side.is_finite() && *side > 0.0),
        "{sides:?}"
    );
    assert!(
        picture.width <= 170.0 + 1e-9 && picture.height <= 240.0 + 1e-9,
        "{sides:?}"
    );
    if picture.format != "svg" {
        is_bare(&picture.bytes);
    }
}

/// Checks that a photograph can be decoded and holds neither Exif nor a profile.
fn is_bare(bytes: &[u8]) {
    let kinds = chunks(bytes);
    for kind in [b"iCCP", b"eXIf"] {
        let within = kinds.contains(&kind.as_slice());
        assert!(!within, "it still holds {}", String::from_utf8_lossy(kind));
    }
    for word in [b"Exif\0".as_slice(), b"ICC_PROFILE"] {
        let within = applications(bytes)
            .iter()
            .any(|content| content.starts_with(word));
        assert!(!within, "it still holds {}", String::from_utf8_lossy(word));
    }
    let reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format();
    let decoded = reader.expect("bytes in memory can be read").decode();
    let decoded = decoded.unwrap_or_else(|why| panic!("it cannot be decoded: {why}"));
    assert!(f64::from(decoded.width()) <= FINEST * 400.0);
}

/// The kinds of the chunks of a PNG (ISO/IEC 15948, 5.3); none of another file.
fn chunks(bytes: &[u8]) -> Vec<&[u8]> {
    let mut kinds = Vec::new();
    let mut rest = bytes.strip_prefix(PNG).unwrap_or_default();
    while let [a, b, c, d, chunk @ ..] = rest {
        let length = u32::from_be_bytes([*a, *b, *c, *d]) as usize;
        kinds.extend(chunk.get(..4));
        rest = chunk.get(length.saturating_add(8)..).unwrap_or_default();
    }
    kinds
}

/// What a JPEG holds for applications, before its first scan (ITU-T T.81, B.1.1.4 and B.2.4.6); nothing of
/// another file. Its tables may hold any letters.
fn applications(bytes: &[u8]) -> Vec<&[u8]> {
    let mut contents = Vec::new();
    let mut rest = bytes.strip_prefix(b"\xff\xd8").unwrap_or_default();
    while let [0xff, marker, tail @ ..] = rest {
        // any number of fill bytes may stand before a marker, and some markers alone
        rest = match (marker, tail) {
            (0xff, _) => &rest[1..],
            (0x01 | 0xd0..=0xd7, _) => tail,
            (0xda | 0xd9, _) | (_, [] | [_]) => break,
            (marker, [high, low, ..]) => {
                let length = usize::from(u16::from_be_bytes([*high, *low]));
                if (0xe0..=0xef).contains(marker) {
                    contents.extend(tail.get(2..length));
                }
                tail.get(length..).unwrap_or_default()
            }
        };
    }
    contents
}

/// The chunks of a PNG with the sums that belong to them (ISO/IEC 15948, 5.3), so that not every change is
/// refused for its sum; other files as they are.
pub fn with_sums(file: &[u8]) -> Vec<u8> {
    let mut file = file.to_vec();
    let mut at = PNG.len();
    while file.starts_with(PNG) {
        let Some(head) = file.get(at..at + 4) else {
            break;
        };
        let length = head
            .iter()
            .fold(0, |sum, byte| sum << 8 | usize::from(*byte));
        let Some(chunk) = file.get(at + 4..(at + 8).saturating_add(length)) else {
            break;
        };
        let mut crc = Crc::new();
        crc.update(chunk);
        let end = at + 8 + length;
        let Some(sum) = file.get_mut(end..end + 4) else {
            break;
        };
        sum.copy_from_slice(&crc.sum().to_be_bytes());
        at = end + 4;
    }
    file
}

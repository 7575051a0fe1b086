//! The segments of a JPEG file (ITU-T T.81, annex B): whether it is whole, how many inks it has, and
//! the file without all that is not the picture.

use super::ANEW;
use crate::booklet::drawn_picture::Unfit;
use std::ops::Range;

const START_OF_SCAN: u8 = 0xda;
const END: u8 = 0xd9;
/// Application data: 0 names the format, 1 and 13 hold camera and author, 2 a profile, 14 says how the
/// components are coded.
const APPLICATION: std::ops::RangeInclusive<u8> = 0xe0..=0xef;
const HOW_CODED: u8 = 0xee;
const COMMENT: u8 = 0xfe;

/// A marker and the bytes that belong to it, the marker itself among them.
struct Segment {
    marker: u8,
    range: Range<usize>,
}

/// Whether the file is whole and its colours are red, green and blue, or grey.
///
/// # Errors
/// Why it cannot be used.
pub fn check(bytes: &[u8]) -> Result<(), Unfit> {
    let segments = segments(bytes)?;
    let is_frame =
        |marker: u8| (0xc0..=0xcf).contains(&marker) && ![0xc4, 0xc8, 0xcc].contains(&marker);
    let frame = segments.iter().find(|segment| is_frame(segment.marker));
    let Some(frame) = frame else {
        return Err(Unfit::new("it holds no picture", ANEW));
    };
    // marker, length, precision, height, width, then the number of components
    match bytes[frame.range.clone()].get(9) {
        Some(1 | 3) => Ok(()),
        Some(4) => Err(Unfit::new(
            "its colours are four inks of a press (CMYK)",
            "Save it with red, green and blue (sRGB); a print shop parts it into its own inks.",
        )),
        _ => Err(Unfit::new("its colours are not known", ANEW)),
    }
}

/// The file with nothing but the picture: no place, time, camera, thumbnail, comment or profile.
///
/// # Errors
/// If the file is not whole.
pub fn bare(bytes: &[u8]) -> Result<Vec<u8>, Unfit> {
    let mut bare = Vec::with_capacity(bytes.len());
    for Segment { marker, range } in segments(bytes)? {
        let said = (APPLICATION.contains(&marker) && marker != HOW_CODED) || marker == COMMENT;
        if !said {
            bare.extend_from_slice(&bytes[range]);
        }
    }
    Ok(bare)
}

/// All segments up to the end of the picture; what stands after it is left out.
fn segments(bytes: &[u8]) -> Result<Vec<Segment>, Unfit> {
    let cut_short = || Unfit::new("it breaks off before its end", ANEW);
    let mut segments = Vec::new();
    let mut at = 0;
    loop {
        let start = at;
        if bytes.get(at) != Some(&0xff) {
            return Err(cut_short());
        }
        while bytes.get(at) == Some(&0xff) {
            at += 1;
        }
        let marker = *bytes.get(at).ok_or_else(cut_short)?;
        at += 1;
        if !matches!(marker, 0x01 | 0xd0..=0xd9) {
            let length = bytes.get(at..at + 2).ok_or_else(cut_short)?;
            at += usize::from(u16::from_be_bytes([length[0], length[1]])).max(2);
        }
        if marker == START_OF_SCAN {
            at = after_scan(bytes, at).ok_or_else(cut_short)?;
        }
        if at > bytes.len() {
            return Err(cut_short());
        }
        segments.push(Segment {
            marker,
            range: start..at,
        });
        if marker == END {
            return Ok(segments);
        }
    }
}

/// Where coded data that begins at `at` ends: at the next marker that is no restart.
fn after_scan(bytes: &[u8], at: usize) -> Option<usize> {
    let data = bytes.get(at..)?;
    let ends = |pair: &[u8]| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xff | 0xd0..=0xd7);
    data.windows(2).position(ends).map(|found| at + found)
}

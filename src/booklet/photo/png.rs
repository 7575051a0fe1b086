//! The chunks of a PNG file (PNG specification, third edition, section 5): whether it is whole, and the
//! file without all that is not the picture.

use super::ANEW;
use crate::booklet::drawn_picture::Unfit;
use std::ops::Range;

const SIGNATURE: usize = 8;

/// What the picture itself needs.
const PICTURE: [&[u8; 4]; 5] = [b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND"];

/// Whether the file is whole.
///
/// # Errors
/// Why it cannot be used.
pub fn check(bytes: &[u8]) -> Result<(), Unfit> {
    chunks(bytes).map(|_| ())
}

/// The file with nothing but the picture: no words, place, time or profile, and of several pictures
/// the first.
///
/// # Errors
/// If the file is not whole.
pub fn bare(bytes: &[u8]) -> Result<Vec<u8>, Unfit> {
    let mut bare = bytes.get(..SIGNATURE).unwrap_or_default().to_vec();
    for range in chunks(bytes)? {
        let name = &bytes[range.start + 4..range.start + 8];
        if PICTURE.iter().any(|known| name == known.as_slice()) {
            bare.extend_from_slice(&bytes[range]);
        }
    }
    Ok(bare)
}

/// Each chunk, with its length and its check sum, up to the last.
fn chunks(bytes: &[u8]) -> Result<Vec<Range<usize>>, Unfit> {
    let cut_short = || Unfit::new("it breaks off before its end", ANEW);
    let mut chunks = Vec::new();
    let mut at = SIGNATURE;
    loop {
        let head = bytes.get(at..at.saturating_add(8)).ok_or_else(cut_short)?;
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let end = at.saturating_add(length).saturating_add(12);
        if end > bytes.len() {
            return Err(cut_short());
        }
        chunks.push(at..end);
        if &head[4..8] == b"IEND" {
            return Ok(chunks);
        }
        at = end;
    }
}

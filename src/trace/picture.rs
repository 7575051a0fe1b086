//! A scan or photograph, upright, as planes of light, and what its file says of its size. Large pictures
//! are averaged down to [`MOST_KEPT`] pixels: 300 to the inch on A4, where a pencil line is four wide.

#[cfg(test)]
mod tests;

use super::plane::Plane;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits, RgbImage};
use std::io::Cursor;

/// Pixels that are kept to be traced.
const MOST_KEPT: usize = 9_000_000;

/// Pixels of the largest picture that is read: A4 at 900 to the inch.
const MOST_READ: u64 = 80_000_000;

/// Memory that a decoded picture may take, bytes.
const MOST_BYTES: u64 = 600_000_000;

/// Resolutions below this many pixels to the inch are those of screens, written into files by habit (72
/// and 96 are common); no scanner is set so low for a drawing.
const SCANNED_FROM: f64 = 100.0;

/// And none is higher than this.
const SCANNED_TO: f64 = 4800.0;

/// A picture to be traced.
#[derive(Debug, Clone)]
pub struct Picture {
    /// Light from 0 to 1, linear: red, green and blue, or one plane if they are alike.
    pub light: Vec<Plane>,
    /// The picture for people to look at, as large as the planes.
    pub shown: RgbImage,
    /// Pixels of the file to one of the planes, each way.
    pub averaged: usize,
    /// Pixels of the planes to the inch, across and down, if the file is a scan that says so.
    pub resolution: Option<[f64; 2]>,
    /// Whether a camera made it.
    pub photograph: bool,
    /// Its focal length as a share of the picture's half diagonal, if the camera says so.
    pub focal: Option<f64>,
}

/// Why a file cannot be traced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PictureFault {
    /// It is neither PNG nor JPEG.
    Unknown,
    /// It has more pixels than are read: across and down.
    TooLarge(u32, u32),
    /// The decoder's words.
    Broken(String),
}

impl Picture {
    /// Decodes the bytes of a PNG or JPEG file and turns it upright (Exif orientation).
    ///
    /// # Errors
    /// See [`PictureFault`].
    pub fn decoded(bytes: &[u8]) -> Result<Picture, PictureFault> {
        let broken = |e: &dyn std::fmt::Display| PictureFault::Broken(e.to_string());
        let reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format();
        let mut reader = reader.map_err(|e| broken(&e))?;
        if reader.format().is_none() {
            return Err(PictureFault::Unknown);
        }
        let mut limits = Limits::default();
        limits.max_alloc = Some(MOST_BYTES);
        reader.limits(limits);
        let unknown = |e: image::ImageError| match e {
            image::ImageError::Unsupported(_) => PictureFault::Unknown,
            other => PictureFault::Broken(other.to_string()),
        };
        let mut decoder = reader.into_decoder().map_err(unknown)?;
        let (width, height) = decoder.dimensions();
        let many = u64::from(width) * u64::from(height) > MOST_READ;
        if many || decoder.total_bytes() > MOST_BYTES {
            return Err(PictureFault::TooLarge(width, height));
        }
        let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let said = decoder.exif_metadata().ok().flatten();
        let mut image = DynamicImage::from_decoder(decoder).map_err(|e| broken(&e))?;
        image.apply_orientation(orientation);
        let said = said.and_then(|raw| exif::Reader::new().read_raw(raw).ok());
        let mut picture = planes(&image);
        picture.photograph = said.as_ref().is_some_and(made_by_camera);
        picture.focal = said.as_ref().and_then(focal);
        let resolution = resolution(bytes, said.as_ref()).filter(|_| !picture.photograph);
        let turned = matches!(
            orientation,
            Orientation::Rotate90
                | Orientation::Rotate270
                | Orientation::Rotate90FlipH
                | Orientation::Rotate270FlipH
        );
        picture.resolution = resolution.map(|[x, y]| {
            let upright = if turned { [y, x] } else { [x, y] };
            upright.map(|r| r / picture.averaged as f64)
        });
        Ok(picture)
    }

    /// Pixels across and down.
    pub fn size(&self) -> [usize; 2] {
        let first = self.light.first();
        first.map_or([0, 0], |plane| [plane.width, plane.height])
    }
}

/// What sRGB stores, as light from 0 to 1 (IEC 61966-2-1).
fn linear(stored: u8) -> f32 {
    let share = f32::from(stored) / 255.0;
    if share <= 0.040_45 {
        share / 12.92
    } else {
        ((share + 0.055) / 1.055).powf(2.4)
    }
}

/// The picture on white paper, averaged down, as light.
fn planes(image: &DynamicImage) -> Picture {
    let rgba = image.to_rgba8();
    let (width, height) = (rgba.width() as usize, rgba.height() as usize);
    let mut averaged = 1;
    while (width / averaged) * (height / averaged) > MOST_KEPT {
        averaged += 1;
    }
    let (across, down) = ((width / averaged).max(1), (height / averaged).max(1));
    let table: Vec<f32> = (0..=255).map(linear).collect();
    let mut light = vec![Plane::filled(across, down, 0.0); 3];
    let mut coloured = false;
    let mut shown = RgbImage::new(across as u32, down as u32);
    for y in 0..down {
        for x in 0..across {
            let (mut sum, mut stored) = ([0.0_f32; 3], [0_u32; 3]);
            for row in y * averaged..((y + 1) * averaged).min(height) {
                for column in x * averaged..((x + 1) * averaged).min(width) {
                    let [r, g, b, a] = rgba.get_pixel(column as u32, row as u32).0;
                    let (share, rest) = (f32::from(a) / 255.0, 255 - u32::from(a));
                    for (channel, value) in [r, g, b].into_iter().enumerate() {
                        sum[channel] += share * table[usize::from(value)] + 1.0 - share;
                        stored[channel] += (u32::from(value) * u32::from(a)) / 255 + rest;
                    }
                    coloured |= r.abs_diff(g) > 8 || g.abs_diff(b) > 8;
                }
            }
            let count = (averaged * averaged) as f32;
            for (plane, sum) in light.iter_mut().zip(sum) {
                plane.data[y * across + x] = sum / count;
            }
            let seen = stored.map(|s| (s as f32 / count).min(255.0) as u8);
            shown.put_pixel(x as u32, y as u32, image::Rgb(seen));
        }
    }
    if !coloured {
        light.truncate(1);
    }
    Picture {
        light,
        shown,
        averaged,
        resolution: None,
        photograph: false,
        focal: None,
    }
}

fn made_by_camera(exif: &exif::Exif) -> bool {
    let tags = [
        exif::Tag::FocalLength,
        exif::Tag::ExposureTime,
        exif::Tag::FNumber,
    ];
    let has = |tag: exif::Tag| exif.get_field(tag, exif::In::PRIMARY).is_some();
    tags.into_iter().any(has)
}

/// The focal length that a camera with film of 36 by 24 mm would have, as a share of half the diagonal of that
/// film, 21.63 mm (Exif 2.32, tag FocalLengthIn35mmFilm).
fn focal(exif: &exif::Exif) -> Option<f64> {
    let field = exif.get_field(exif::Tag::FocalLengthIn35mmFilm, exif::In::PRIMARY)?;
    let length = f64::from(field.value.get_uint(0)?);
    (10.0..=400.0).contains(&length).then_some(length / 21.63)
}

/// Pixels to the inch across and down as the file has them, if they can be those of a scan.
fn resolution(bytes: &[u8], exif: Option<&exif::Exif>) -> Option<[f64; 2]> {
    let found = match bytes.starts_with(b"\x89PNG") {
        true => of_png(bytes),
        false => of_jfif(bytes),
    };
    let found = found.or_else(|| exif.and_then(of_exif));
    found.filter(|both| both.iter().all(|r| (SCANNED_FROM..=SCANNED_TO).contains(r)))
}

fn number(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_be_bytes(four.try_into().ok()?))
}

/// The chunk pHYs: pixels to the metre (ISO/IEC 15948, 11.3.5.3).
fn of_png(bytes: &[u8]) -> Option<[f64; 2]> {
    let mut at = 8;
    loop {
        let length = number(bytes, at)? as usize;
        let kind = bytes.get(at + 4..at + 8)?;
        if kind == b"pHYs" && bytes.get(at + 16) == Some(&1) {
            let metre = |at: usize| number(bytes, at).map(|n| f64::from(n) * 0.0254);
            return Some([metre(at + 8)?, metre(at + 12)?]);
        }
        if kind == b"IDAT" || kind == b"IEND" {
            return None;
        }
        at = at.checked_add(length)?.checked_add(12)?;
    }
}

/// The density of a JFIF file (ISO/IEC 10918-5, 10.1): unit 1 is pixels to the inch, 2 to the centimetre.
fn of_jfif(bytes: &[u8]) -> Option<[f64; 2]> {
    let head = bytes.get(2..18)?;
    if &head[..2] != b"\xff\xe0" || &head[4..9] != b"JFIF\0" {
        return None;
    }
    let to_inch = match head[11] {
        1 => 1.0,
        2 => 2.54,
        _ => return None,
    };
    let pair = |at: usize| f64::from(u16::from_be_bytes([head[at], head[at + 1]]));
    Some([pair(12) * to_inch, pair(14) * to_inch])
}

fn of_exif(exif: &exif::Exif) -> Option<[f64; 2]> {
    let value = |tag: exif::Tag| {
        let field = exif.get_field(tag, exif::In::PRIMARY)?;
        match &field.value {
            exif::Value::Rational(list) => list.first().map(exif::Rational::to_f64),
            other => other.get_uint(0).map(f64::from),
        }
    };
    let to_inch = match value(exif::Tag::ResolutionUnit) {
        Some(unit) if (unit - 3.0).abs() < 0.5 => 2.54,
        _ => 1.0,
    };
    let (x, y) = (
        value(exif::Tag::XResolution)?,
        value(exif::Tag::YResolution)?,
    );
    Some([x * to_inch, y * to_inch])
}

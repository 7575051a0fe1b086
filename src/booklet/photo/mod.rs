//! Photographs made ready for print: upright, cropped, in sRGB, with no more pixels than print needs,
//! and nothing in them besides the picture. Widths in mm.
//!
//! What needs no change keeps its own pixels; only what it says of camera, place and time is left
//! out. JPEG stays JPEG, PNG stays PNG.

mod colour;
mod jpeg;
mod png;
#[cfg(test)]
mod tests;

use super::drawn_picture::Unfit;
use crate::design::Crop;
use crate::diagnostic::guard;
use crate::geometry::units::INCH;
use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::{CompressionType, FilterType, PngDecoder, PngEncoder};
use image::imageops::FilterType as Sampling;
use image::metadata::Orientation;
use image::{DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, Limits};
use std::collections::BTreeSet;
use std::io::Cursor;

/// Resolution of a picture in print, pixels per inch (common practice). In large print the same
/// picture is up to 1.4 times as large, and still has 214.
pub const RESOLUTION: f64 = 300.0;

/// Up to this many times [`RESOLUTION`] nothing is resampled: encoding anew would cost more than it
/// saves.
const SPARE: f64 = 1.1;

/// Quality of a JPEG that is encoded anew, of 100: no loss shows in print, at half the size of 100
/// (common practice: 90 and more). All three components keep their full resolution.
const QUALITY: u8 = 92;

/// Pixels of the largest picture.
const MOST_PIXELS: u64 = 100_000_000;

/// Memory that a decoded picture may take, bytes: 100 megapixels of 8-bit red, green and blue, with a
/// fourth more.
const MOST_BYTES: u64 = 400_000_000;

/// A PNG of no more colours than this is line art: its edges would blur if it were resampled.
const FEW_COLOURS: usize = 256;

/// A format that is known by its content.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
}

impl Format {
    /// Ending of its files.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
        }
    }
}

/// What is known of a photograph before it is decoded.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// Its format.
    pub format: Format,
    /// Width and height, upright, pixels.
    pub size: [u32; 2],
    turned: Orientation,
}

/// A picture as it is printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Ready {
    /// The file.
    pub bytes: Vec<u8>,
    /// Width and height, pixels.
    pub size: [u32; 2],
}

/// Looks at the headers of `bytes` and decodes nothing.
///
/// # Errors
/// Why it cannot be used: it breaks off, is too large, or its inks are those of a press.
pub fn measure(bytes: &[u8], format: Format) -> Result<Measured, Unfit> {
    match format {
        Format::Jpeg => jpeg::check(bytes)?,
        Format::Png => png::check(bytes)?,
    }
    guarded(|| {
        let mut decoder = decoder(bytes, format)?;
        let (width, height) = decoder.dimensions();
        if width == 0 || height == 0 {
            return Err(Unfit::format("it is empty"));
        }
        let pixels = u64::from(width) * u64::from(height);
        if pixels > MOST_PIXELS || decoder.total_bytes() > MOST_BYTES {
            let why = format!("{width} × {height} pixels are more than can be decoded");
            return Err(Unfit::new(why, SMALLER));
        }
        let turned = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let size = match turned {
            Orientation::Rotate90
            | Orientation::Rotate270
            | Orientation::Rotate90FlipH
            | Orientation::Rotate270FlipH => [height, width],
            _ => [width, height],
        };
        Ok(Measured {
            format,
            size,
            turned,
        })
    })
}

const SMALLER: &str = "Make it smaller: 100 megapixels of 8 bits are the most.";
const ANEW: &str = "Save it anew with another program, or as PNG.";

/// The picture for a print `width` mm wide.
///
/// # Errors
/// Why it cannot be used.
pub fn ready(bytes: &[u8], measured: &Measured, crop: &Crop, width: f64) -> Result<Ready, Unfit> {
    guarded(|| made(bytes, measured, crop, width))
}

fn made(bytes: &[u8], measured: &Measured, crop: &Crop, width: f64) -> Result<Ready, Unfit> {
    let format = measured.format;
    let mut decoder = decoder(bytes, format)?;
    let profile = decoder.icc_profile().map_err(unreadable)?;
    let picture = DynamicImage::from_decoder(decoder).map_err(unreadable)?;
    let profile = colour::profile(profile.as_deref(), &picture)?;
    let line_art = format == Format::Png && has_few_colours(&picture);
    let [x, y, across, down] = crop.left_of(measured.size);
    let needed = (width / INCH * RESOLUTION).round().max(1.0);
    let too_fine = f64::from(across) > needed * SPARE && !line_art;
    let whole = [across, down] == measured.size;
    if whole && !too_fine && profile.is_none() && measured.turned == Orientation::NoTransforms {
        let bytes = match format {
            Format::Jpeg => jpeg::bare(bytes)?,
            Format::Png => png::bare(bytes)?,
        };
        let size = measured.size;
        return Ok(Ready { bytes, size });
    }
    let mut picture = picture;
    picture.apply_orientation(measured.turned);
    if !whole {
        picture = picture.crop_imm(x, y, across, down);
    }
    if too_fine {
        let high = (needed * f64::from(down) / f64::from(across)).round();
        picture = smaller(picture, [needed as u32, high.max(1.0) as u32]);
    }
    if let Some(profile) = &profile {
        picture = profile.to_srgb(picture)?;
    }
    encoded(&picture, format)
}

/// A decoder that takes no more memory than is reasonable.
fn decoder(bytes: &[u8], format: Format) -> Result<Box<dyn ImageDecoder + '_>, Unfit> {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    Ok(match format {
        Format::Jpeg => Box::new(JpegDecoder::new(Cursor::new(bytes)).map_err(unreadable)?),
        Format::Png => {
            Box::new(PngDecoder::with_limits(Cursor::new(bytes), limits).map_err(unreadable)?)
        }
    })
}

fn unreadable(error: image::ImageError) -> Unfit {
    Unfit::new(format!("it cannot be decoded ({error})"), ANEW)
}

/// A fault inside a decoder is a broken picture.
fn guarded<T>(work: impl FnOnce() -> Result<T, Unfit>) -> Result<T, Unfit> {
    guard::guarded(work).unwrap_or_else(|_| Err(Unfit::new("it cannot be decoded", ANEW)))
}

fn has_few_colours(picture: &DynamicImage) -> bool {
    let mut colours = BTreeSet::new();
    let mut last = None;
    let pixels = picture.to_rgba8();
    pixels.pixels().all(|pixel| {
        if last == Some(pixel.0) {
            return true;
        }
        last = Some(pixel.0);
        colours.insert(pixel.0);
        colours.len() <= FEW_COLOURS
    })
}

/// Resampled after Lanczos (three lobes), so that fine threads neither vanish nor shimmer. Colour that
/// cannot be seen does not run into what can.
fn smaller(picture: DynamicImage, size: [u32; 2]) -> DynamicImage {
    let [width, height] = size;
    if !picture.color().has_alpha() {
        return picture.resize_exact(width, height, Sampling::Lanczos3);
    }
    let mut pixels = picture.to_rgba8();
    for pixel in pixels.pixels_mut() {
        let [red, green, blue, alpha] = pixel.0;
        let seen = |part: u8| ((u16::from(part) * u16::from(alpha) + 127) / 255) as u8;
        pixel.0 = [seen(red), seen(green), seen(blue), alpha];
    }
    let mut pixels = image::imageops::resize(&pixels, width, height, Sampling::Lanczos3);
    for pixel in pixels.pixels_mut() {
        let [red, green, blue, alpha] = pixel.0;
        let whole = |part: u8| {
            let whole = (u32::from(part) * 255 + u32::from(alpha) / 2) / u32::from(alpha.max(1));
            whole.min(255) as u8
        };
        pixel.0 = [whole(red), whole(green), whole(blue), alpha];
    }
    DynamicImage::ImageRgba8(pixels)
}

fn encoded(picture: &DynamicImage, format: Format) -> Result<Ready, Unfit> {
    let grey = !picture.color().has_color();
    let (pixels, kind) = match (picture.color().has_alpha(), grey) {
        (true, true) => (picture.to_luma_alpha8().into_raw(), ExtendedColorType::La8),
        (true, false) => (picture.to_rgba8().into_raw(), ExtendedColorType::Rgba8),
        (false, true) => (picture.to_luma8().into_raw(), ExtendedColorType::L8),
        (false, false) => (picture.to_rgb8().into_raw(), ExtendedColorType::Rgb8),
    };
    let (width, height) = (picture.width(), picture.height());
    let mut bytes = Vec::new();
    let written = match format {
        Format::Jpeg => JpegEncoder::new_with_quality(&mut bytes, QUALITY)
            .write_image(&pixels, width, height, kind),
        Format::Png => {
            PngEncoder::new_with_quality(&mut bytes, CompressionType::Default, FilterType::Adaptive)
                .write_image(&pixels, width, height, kind)
        }
    };
    written.map_err(|error| Unfit::new(format!("it cannot be encoded ({error})"), ANEW))?;
    let size = [width, height];
    Ok(Ready { bytes, size })
}

//! Photographs made in the tests, changed, and read again pixel by pixel.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::*;
use crate::booklet::fixture;
use image::{GrayImage, Luma, Rgb, RgbImage};
use moxcms::{Chromaticity, ColorPrimaries, ColorProfile};

/// A JPEG of `picture` without any further segment.
fn jpeg_of(picture: &DynamicImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 100)
        .encode_image(picture)
        .unwrap();
    bytes
}

/// `bytes` with a segment put in after the first marker.
fn with_segment(bytes: &[u8], marker: u8, body: &[u8]) -> Vec<u8> {
    let length = u16::try_from(body.len() + 2).unwrap().to_be_bytes();
    [&bytes[..2], &[0xff, marker], &length, body, &bytes[2..]].concat()
}

/// An APP1 segment's body with tag 0x0112 (orientation, a SHORT) and one of place, GPSLatitudeRef, in
/// an IFD of its own (Exif 2.3, 4.6.3 to 4.6.6; TIFF 6.0, section 2).
fn exif(orientation: u8) -> Vec<u8> {
    let mut body = b"Exif\0\0MM\0\x2a\0\0\0\x08".to_vec();
    body.extend([0, 2]);
    body.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
    body.extend([0x88, 0x25, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38]);
    body.extend([0, 0, 0, 0]);
    body.extend([0, 1]);
    body.extend([0, 1, 0, 2, 0, 0, 0, 2, b'N', 0, 0, 0]);
    body.extend([0, 0, 0, 0]);
    body
}

fn made_ready(bytes: &[u8], format: Format, crop: Crop, width: f64) -> (DynamicImage, Vec<u8>) {
    let measured = measure(bytes, format).unwrap();
    let ready = ready(bytes, &measured, &crop, width).unwrap();
    let picture = image::load_from_memory(&ready.bytes).unwrap();
    assert_eq!([picture.width(), picture.height()], ready.size);
    (picture, ready.bytes)
}

fn refused(bytes: &[u8], format: Format) -> String {
    let measured = match measure(bytes, format) {
        Ok(measured) => measured,
        Err(unfit) => return unfit.why,
    };
    ready(bytes, &measured, &Crop::default(), 20.0)
        .unwrap_err()
        .why
}

/// Exif 2.3 (TIFF 6.0), tag 0x0112: which sides of the scene row 0 and column 0 of the file are. A
/// scene, dark at its upper left and light grey at its upper right, black elsewhere, is stored in
/// each of the eight ways and comes out upright.
#[test]
fn all_eight_orientations_come_out_upright() {
    let scene = GrayImage::from_fn(48, 32, |x, y| match (x < 16, y < 16) {
        (true, true) => Luma([120]),
        (false, true) if x >= 32 => Luma([230]),
        _ => Luma([0]),
    });
    // value, row 0, column 0
    let table = [
        (1, "top", "left"),
        (2, "top", "right"),
        (3, "bottom", "right"),
        (4, "bottom", "left"),
        (5, "left", "top"),
        (6, "right", "top"),
        (7, "right", "bottom"),
        (8, "left", "bottom"),
    ];
    let along = |side: &str, steps: u32, size: u32| match side {
        "top" | "left" => steps,
        _ => size - 1 - steps,
    };
    for (value, row, column) in table {
        let turned = matches!(row, "left" | "right");
        let (width, height) = if turned { (32, 48) } else { (48, 32) };
        let stored = GrayImage::from_fn(width, height, |x, y| {
            // going down leads away from row 0, going right away from column 0
            let (x, y) = match turned {
                false => (along(column, x, 48), along(row, y, 32)),
                true => (along(row, y, 48), along(column, x, 32)),
            };
            *scene.get_pixel(x, y)
        });
        let bytes = with_segment(&jpeg_of(&stored.into()), 0xe1, &exif(value));
        assert_eq!(
            measure(&bytes, Format::Jpeg).unwrap().size,
            [48, 32],
            "{value}"
        );
        let (picture, bytes) = made_ready(&bytes, Format::Jpeg, Crop::default(), 20.0);
        let picture = picture.to_luma8();
        for (x, y, wanted) in [(8, 8, 120), (40, 8, 230), (8, 24, 0), (40, 24, 0)] {
            let found = i32::from(picture.get_pixel(x, y).0[0]);
            assert!((found - wanted).abs() < 6, "{value} at {x} {y}: {found}");
        }
        assert!(!bytes.windows(4).any(|part| part == b"Exif"));
    }
}

#[test]
fn what_a_camera_writes_beside_the_picture_is_left_out_and_the_picture_kept() {
    let plain = jpeg_of(&fixture_photo(60, 40));
    let mut bytes = with_segment(&plain, 0xfe, b"taken in the barn");
    bytes = with_segment(&bytes, 0xe1, b"http://ns.adobe.com/xap/1.0/\0<x/>");
    bytes = with_segment(&bytes, 0xed, b"Photoshop 3.0\0");
    bytes = with_segment(&bytes, 0xe1, &exif(1));
    bytes.extend(b"a second picture behind the first");
    let (_, ready) = made_ready(&bytes, Format::Jpeg, Crop::default(), 20.0);
    for said in [&b"barn"[..], b"Exif", b"xap", b"Photoshop", b"second"] {
        assert!(!ready.windows(said.len()).any(|part| part == said));
    }
    assert_eq!(
        image::load_from_memory(&ready).unwrap(),
        image::load_from_memory(&plain).unwrap()
    );
}

#[test]
fn words_in_a_png_are_left_out() {
    let plain = fixture::png(30, 20);
    // tEXt before the first IDAT; CRC-32 of ISO 3309 over name and data (PNG specification, 5.5)
    let mut chunk = b"tEXtComment\0barn".to_vec();
    let sum = check_sum(&chunk);
    chunk.splice(0..0, 12u32.to_be_bytes());
    chunk.extend(sum.to_be_bytes());
    let bytes = [&plain[..33], &chunk, &plain[33..]].concat();
    assert!(image::load_from_memory(&bytes).is_ok());
    let (_, ready) = made_ready(&bytes, Format::Png, Crop::default(), 20.0);
    assert_eq!(ready, plain);
}

fn check_sum(bytes: &[u8]) -> u32 {
    let step = |sum: u32, byte: &u8| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| {
            (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg())
        })
    };
    !bytes.iter().fold(u32::MAX, step)
}

/// Many colours, smooth.
fn fixture_photo(width: u32, height: u32) -> DynamicImage {
    RgbImage::from_fn(width, height, |x, y| {
        let part = |value: u32, of: u32| (value * 255 / of.max(1)) as u8;
        Rgb([part(x, width), part(y, height), part(x + y, width + height)])
    })
    .into()
}

#[test]
fn photographs_have_300_pixels_to_the_inch_and_no_more() {
    let photo = fixture_photo(1200, 900);
    // 50.8 mm are 2 in: 600 pixels; 900 x 600 / 1200 = 450
    let (picture, _) = made_ready(&jpeg_of(&photo), Format::Jpeg, Crop::default(), 50.8);
    assert_eq!((picture.width(), picture.height()), (600, 450));
    // smooth colours stay where they were
    let (old, new) = (photo.to_rgb8(), picture.to_rgb8());
    for (x, y) in [(30, 30), (300, 225), (570, 420)] {
        let near = |a: u8, b: u8| a.abs_diff(b) < 8;
        let (old, new) = (old.get_pixel(2 * x, 2 * y).0, new.get_pixel(x, y).0);
        assert!(
            old.iter().zip(new).all(|(a, b)| near(*a, b)),
            "{old:?} {new:?}"
        );
    }
    // 101.6 mm are 4 in: 1200 pixels are just right, and kept
    let bytes = jpeg_of(&photo);
    let (_, ready) = made_ready(&bytes, Format::Jpeg, Crop::default(), 101.6);
    assert_eq!(ready.len(), jpeg::bare(&bytes).unwrap().len());
}

#[test]
fn a_cropped_photograph_has_what_is_left() {
    let crop = Crop {
        off: [0.5, 0.0, 0.0, 0.5],
        ..Crop::default()
    };
    let (picture, _) = made_ready(&jpeg_of(&fixture_photo(400, 200)), Format::Jpeg, crop, 50.8);
    assert_eq!((picture.width(), picture.height()), (200, 100));
    let [red, green, _] = picture.to_rgb8().get_pixel(100, 50).0;
    // pixel 300, 50 of 400 x 200: 300 / 400 and 50 / 200 of 255
    assert!(
        red.abs_diff(191) < 5 && green.abs_diff(63) < 5,
        "{red} {green}"
    );
}

#[test]
fn line_art_in_png_keeps_its_pixels_and_a_photograph_in_png_does_not() {
    let art = fixture::png(1500, 1000);
    let (_, ready) = made_ready(&art, Format::Png, Crop::default(), 25.4);
    assert_eq!(ready, png::bare(&art).unwrap());
    let photo = encoded(&fixture_photo(1500, 1000), Format::Png)
        .unwrap()
        .bytes;
    let (picture, ready) = made_ready(&photo, Format::Png, Crop::default(), 25.4);
    assert_eq!((picture.width(), picture.height()), (300, 200));
    assert_eq!(
        image::guess_format(&ready).unwrap(),
        image::ImageFormat::Png
    );
}

#[test]
fn colour_that_cannot_be_seen_does_not_run_into_what_can() {
    let mut pixels = image::RgbaImage::from_pixel(400, 300, image::Rgba([0, 255, 0, 0]));
    for (x, y, pixel) in pixels.enumerate_pixels_mut() {
        if x < 200 {
            pixel.0 = [255, (y / 2) as u8 / 4, (x / 2) as u8, 255];
        }
    }
    let bytes = encoded(&pixels.into(), Format::Png).unwrap().bytes;
    let (picture, _) = made_ready(&bytes, Format::Png, Crop::default(), 10.0);
    let greenest = picture
        .to_rgba8()
        .pixels()
        .filter(|p| p.0[3] > 40)
        .map(|p| p.0[1])
        .max();
    assert!(greenest.unwrap() < 80, "{greenest:?}");
}

/// A matrix profile of the primaries of SMPTE EG 432-1 (P3) with the white of D65 and the curve of
/// IEC 61966-2-1, as a display has it.
fn display_p3() -> Vec<u8> {
    let mut profile = ColorProfile::new_srgb();
    profile.update_rgb_colorimetry(
        moxcms::XyY {
            x: 0.3127,
            y: 0.3290,
            yb: 1.0,
        },
        ColorPrimaries {
            red: Chromaticity { x: 0.680, y: 0.320 },
            green: Chromaticity { x: 0.265, y: 0.690 },
            blue: Chromaticity { x: 0.150, y: 0.060 },
        },
    );
    profile.cicp = None;
    profile.encode().unwrap()
}

/// `colour` of Display P3 in sRGB, 0 to 255: through XYZ with matrices made from the chromaticities
/// (SMPTE RP 177), both with the white D65, so that no white is adapted.
fn by_formula(colour: [u8; 3]) -> [f64; 3] {
    use nalgebra::{Matrix3, Vector3};
    let matrix = |primaries: [[f64; 2]; 3]| {
        let xyz = |[x, y]: [f64; 2]| Vector3::new(x / y, 1.0, (1.0 - x - y) / y);
        let columns = Matrix3::from_columns(&primaries.map(xyz));
        let white = xyz([0.3127, 0.3290]);
        columns * Matrix3::from_diagonal(&(columns.try_inverse().unwrap() * white))
    };
    let p3 = matrix([[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]]);
    // IEC 61966-2-1 (ITU-R BT.709)
    let srgb = matrix([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]]);
    let linear = colour.map(|part| match f64::from(part) / 255.0 {
        c if c <= 0.04045 => c / 12.92,
        c => ((c + 0.055) / 1.055).powf(2.4),
    });
    let found = srgb.try_inverse().unwrap() * p3 * Vector3::from(linear);
    [found.x, found.y, found.z].map(|c| {
        let coded = match c {
            c if c <= 0.003_130_8 => 12.92 * c,
            c => 1.055 * c.powf(1.0 / 2.4) - 0.055,
        };
        (coded * 255.0).clamp(0.0, 255.0)
    })
}

#[test]
fn a_photograph_of_wide_colours_comes_out_in_srgb() {
    let profile = display_p3();
    for colour in [
        [200, 80, 60],
        [90, 150, 110],
        [30, 60, 120],
        [128, 128, 128],
    ] {
        let picture: DynamicImage = RgbImage::from_pixel(64, 64, Rgb(colour)).into();
        let body = [&b"ICC_PROFILE\0\x01\x01"[..], &profile].concat();
        let bytes = with_segment(&jpeg_of(&picture), 0xe2, &body);
        let (made, ready) = made_ready(&bytes, Format::Jpeg, Crop::default(), 20.0);
        let found = made.to_rgb8().get_pixel(32, 32).0;
        let wanted = by_formula(colour);
        // JPEG itself moves a colour by a step or two
        let near = |(found, wanted): (&u8, &f64)| (f64::from(*found) - wanted).abs() < 2.5;
        assert!(found.iter().zip(&wanted).all(near), "{found:?} {wanted:?}");
        assert!(!ready.windows(11).any(|part| part == b"ICC_PROFILE"));
        let moved = colour
            .iter()
            .zip(&wanted)
            .map(|(a, b)| (f64::from(*a) - b).abs());
        let moved = moved.fold(0.0, f64::max);
        assert!(
            moved > 5.0 || colour == [128; 3],
            "the check would pass without a change"
        );
    }
}

#[test]
fn the_profile_of_srgb_changes_nothing() {
    let profile = ColorProfile::new_srgb().encode().unwrap();
    let body = [&b"ICC_PROFILE\0\x01\x01"[..], &profile].concat();
    let plain = jpeg_of(&fixture_photo(80, 60));
    let (_, ready) = made_ready(
        &with_segment(&plain, 0xe2, &body),
        Format::Jpeg,
        Crop::default(),
        20.0,
    );
    assert_eq!(ready, jpeg::bare(&plain).unwrap());
}

#[test]
fn broken_and_foreign_files_are_refused_with_a_reason() {
    let photo = jpeg_of(&fixture_photo(90, 60));
    let end = photo.len();
    for cut in [3, 20, end / 2, end - 2] {
        let why = refused(&photo[..cut], Format::Jpeg);
        assert!(why.contains("breaks off"), "{cut}: {why}");
    }
    let art = fixture::png(90, 60);
    for cut in [9, 40, art.len() - 5] {
        let why = refused(&art[..cut], Format::Png);
        assert!(why.contains("breaks off"), "{cut}: {why}");
    }
    // ITU-T T.81, B.2.2: four components in the frame are four inks
    let mut press = photo.clone();
    let frame = press.windows(2).position(|m| m == [0xff, 0xc0]).unwrap();
    press[frame + 9] = 4;
    assert!(refused(&press, Format::Jpeg).contains("CMYK"));
    let body = [&b"ICC_PROFILE\0\x01\x01"[..], &[7; 200]].concat();
    let why = refused(&with_segment(&photo, 0xe2, &body), Format::Jpeg);
    assert!(why.contains("profile cannot be read"), "{why}");
}

#[test]
fn a_picture_of_many_bytes_to_a_pixel_is_refused_undecoded() {
    // 60 megapixels of four parts with 16 bits are 480 MB (PNG specification, 11.2.1)
    let mut bytes = fixture::png(1, 1);
    bytes[16..24].copy_from_slice(&[0, 0, 0x1f, 0x40, 0, 0, 0x1d, 0x4c]);
    (bytes[24], bytes[25]) = (16, 6);
    let sum = check_sum(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&sum.to_be_bytes());
    let why = refused(&bytes, Format::Png);
    assert!(why.contains("8000 × 7500 pixels"), "{why}");
}

#[test]
fn the_same_photograph_comes_out_the_same() {
    let bytes = jpeg_of(&fixture_photo(900, 600));
    let made = || made_ready(&bytes, Format::Jpeg, Crop::default(), 25.4).1;
    assert_eq!(made(), made());
}

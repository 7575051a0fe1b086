//! Files written with known resolution, turn and camera, after the standards that [`super`] names.

use super::*;
use image::codecs::jpeg::{JpegEncoder, PixelDensity, PixelDensityUnit};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, GrayImage, ImageEncoder, Luma};

/// Dark in the left quarter, pale elsewhere.
fn picture(width: u32, height: u32) -> GrayImage {
    GrayImage::from_fn(width, height, |x, _| {
        Luma([if 4 * x < width { 20 } else { 230 }])
    })
}

fn jpeg(density: PixelDensity, exif: Option<Vec<u8>>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new(&mut bytes);
    encoder.set_pixel_density(density);
    if let Some(exif) = exif {
        encoder.set_exif_metadata(exif).unwrap();
    }
    encoder.encode_image(&picture(80, 40)).unwrap();
    bytes
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = Vec::new();
    let image = picture(width, height);
    let encoder = PngEncoder::new(&mut bytes);
    encoder
        .write_image(&image, width, height, ExtendedColorType::L8)
        .unwrap();
    bytes
}

/// The file with a chunk behind its head (ISO/IEC 15948, 5.3: length, kind, data, CRC).
fn with_chunk(png: &[u8], kind: &[u8; 4], data: &[u8]) -> Vec<u8> {
    let head = 8 + 25;
    let kind_and_data = [&kind[..], data].concat();
    let mut crc = u32::MAX;
    for byte in &kind_and_data {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 {
                0xedb8_8320 ^ (crc >> 1)
            } else {
                crc >> 1
            };
        }
    }
    let length = (data.len() as u32).to_be_bytes();
    let chunk = [&length[..], &kind_and_data, &(!crc).to_be_bytes()].concat();
    [&png[..head], &chunk, &png[head..]].concat()
}

/// Exif data of a camera (Exif 2.32, 4.6): the picture to be turned right by a quarter, exposure, and a focal
/// length of 26 mm on film.
fn exif() -> Vec<u8> {
    let mut exif = b"MM\0*\0\0\0\x08".to_vec();
    let short = |tag: u16, value: u16| {
        [
            &tag.to_be_bytes()[..],
            &[0, 3, 0, 0, 0, 1],
            &value.to_be_bytes(),
            &[0, 0],
        ]
        .concat()
    };
    // two entries and the end of the list: 8 + 2 + 24 + 4 = 38
    exif.extend([0, 2]);
    exif.extend(short(0x0112, 6));
    exif.extend([0x87, 0x69, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38, 0, 0, 0, 0]);
    // exposure 1/60, its figures behind the list at 38 + 2 + 24 + 4 = 68
    exif.extend([0, 2, 0x82, 0x9a, 0, 5, 0, 0, 0, 1, 0, 0, 0, 68]);
    exif.extend(short(0xa405, 26));
    exif.extend([0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 60]);
    exif
}

#[test]
fn a_scan_says_its_resolution_and_a_screen_says_none() {
    let centimetre = PixelDensity {
        density: (118, 59),
        unit: PixelDensityUnit::Centimeters,
    };
    let resolution = |bytes: &[u8]| Picture::decoded(bytes).unwrap().resolution;
    assert_eq!(
        resolution(&jpeg(PixelDensity::dpi(150), None)),
        Some([150.0; 2])
    );
    let [across, down] = resolution(&jpeg(centimetre, None)).unwrap();
    assert!((across - 299.72).abs() < 1e-9 && (down - 149.86).abs() < 1e-9);
    assert_eq!(resolution(&jpeg(PixelDensity::dpi(72), None)), None);
    let metre = [&11_811_u32.to_be_bytes()[..], &5906_u32.to_be_bytes(), &[1]].concat();
    let [across, down] = resolution(&with_chunk(&png(80, 40), b"pHYs", &metre)).unwrap();
    assert!((across - 299.999_4).abs() < 1e-6 && (down - 150.012_4).abs() < 1e-6);
    assert_eq!(resolution(&png(80, 40)), None);
}

#[test]
fn a_photograph_is_turned_upright_and_its_resolution_is_not_believed() {
    let photo = Picture::decoded(&jpeg(PixelDensity::dpi(300), Some(exif()))).unwrap();
    assert!(photo.photograph);
    assert_eq!(photo.resolution, None);
    assert!((photo.focal.unwrap() - 26.0 / 21.633).abs() < 1e-3);
    assert_eq!(photo.size(), [40, 80]);
    // turned right by a quarter, the left side is at the top
    let light = &photo.light[0];
    assert!(light.at(20, 5) < 0.05 && light.at(20, 60) > 0.7);
}

#[test]
fn large_pictures_are_averaged_and_their_resolution_with_them() {
    let metre = [
        &23_622_u32.to_be_bytes()[..],
        &23_622_u32.to_be_bytes(),
        &[1],
    ]
    .concat();
    let large = Picture::decoded(&with_chunk(&png(4000, 2600), b"pHYs", &metre)).unwrap();
    assert_eq!((large.averaged, large.size()), (2, [2000, 1300]));
    let [across, _] = large.resolution.unwrap();
    assert!((across - 300.0).abs() < 1e-3);
    // stored 230 is 0.791 of light (IEC 61966-2-1)
    assert!((large.light[0].at(1500, 700) - 0.791).abs() < 1e-3);
}

//! The picture with what was taken drawn over it: outline, axis, heel and toe, bridged gaps.

use super::{Sheet, Traced};
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder, Rgb, RgbImage};
use kurbo::{Point, Vec2};

/// The longer side of what is shown, pixels at most: it fits a screen and shows a tenth of a mm.
const LONGEST: u32 = 2400;

const OUTLINE: [u8; 3] = [214, 0, 110];
const AXIS: [u8; 3] = [0, 110, 190];
const GAP: [u8; 3] = [240, 140, 0];

/// A PNG file of the picture with all shapes drawn over it. `None` if it cannot be encoded.
pub fn png(sheet: &Sheet) -> Option<Vec<u8>> {
    let shown = &sheet.picture.shown;
    let parts = shown.width().max(shown.height()).div_ceil(LONGEST).max(1);
    let (width, height) = (
        (shown.width() / parts).max(1),
        (shown.height() / parts).max(1),
    );
    let mut image = match parts {
        1 => shown.clone(),
        _ => image::imageops::thumbnail(shown, width, height),
    };
    let scale = [
        f64::from(width) / f64::from(shown.width()),
        f64::from(height) / f64::from(shown.height()),
    ];
    for shape in &sheet.shapes {
        drawn(&mut image, shape, &|p| {
            Point::new(p.x * scale[0], p.y * scale[1])
        });
    }
    let mut bytes = Vec::new();
    let encoder =
        PngEncoder::new_with_quality(&mut bytes, CompressionType::Default, FilterType::Adaptive);
    let written = encoder.write_image(&image, width, height, ExtendedColorType::Rgb8);
    written.ok().map(|()| bytes)
}

fn drawn(image: &mut RgbImage, shape: &Traced, to_image: &dyn Fn(Point) -> Point) {
    let [heel, toe] = shape.ends.map(to_image);
    let size = heel.distance(toe);
    let thick = (size / 400.0).clamp(1.2, 4.0);
    let mut ring: Vec<Point> = shape.pixels.iter().map(|p| to_image(*p)).collect();
    ring.extend(ring.first().copied());
    stroke(image, &[heel, toe], 0.7 * thick, AXIS);
    stroke(image, &ring, thick, OUTLINE);
    for gap in &shape.gaps {
        circle(image, to_image(*gap), size / 25.0, thick, GAP);
    }
    circle(image, heel, size / 60.0, thick, AXIS);
    let along = (toe - heel) / size.max(1e-9);
    let right = Vec2::new(-along.y, along.x);
    let barb = size / 25.0;
    let arrow =
        [-1.0, 0.0, 1.0].map(|s: f64| toe - along * (s.abs() * barb) + right * (0.6 * s * barb));
    stroke(image, &arrow, thick, AXIS);
}

fn circle(image: &mut RgbImage, centre: Point, radius: f64, thick: f64, colour: [u8; 3]) {
    let turn = |i: u32| Vec2::from_angle(f64::from(i) * std::f64::consts::TAU / 48.0) * radius;
    let ring: Vec<Point> = (0..=48).map(|i| centre + turn(i)).collect();
    stroke(image, &ring, thick, colour);
}

/// A line through points, its border softened over one pixel.
fn stroke(image: &mut RgbImage, points: &[Point], thick: f64, colour: [u8; 3]) {
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let reach = 0.5 * thick + 1.0;
        let side = |least: f64, most: f64, size: u32| {
            let first = (least - reach).floor().clamp(0.0, f64::from(size));
            let last = (most + reach).ceil().clamp(0.0, f64::from(size));
            first as u32..last as u32
        };
        for y in side(a.y.min(b.y), a.y.max(b.y), image.height()) {
            for x in side(a.x.min(b.x), a.x.max(b.x), image.width()) {
                let place = Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5);
                let chord = b - a;
                let along = (place - a).dot(chord) / chord.hypot2().max(1e-12);
                let off = place.distance(a.lerp(b, along.clamp(0.0, 1.0)));
                let cover = (0.5 * thick + 0.5 - off).clamp(0.0, 1.0);
                if cover > 0.0 {
                    covered(image.get_pixel_mut(x, y), colour, cover);
                }
            }
        }
    }
}

fn covered(pixel: &mut Rgb<u8>, colour: [u8; 3], cover: f64) {
    for (own, new) in pixel.0.iter_mut().zip(colour) {
        let mixed = f64::from(*own) * (1.0 - cover) + f64::from(new) * cover;
        *own = mixed.round() as u8;
    }
}

//! Tracing: a small picture becomes outlines of feet, or is refused with a word.

use super::picture::with_sums;
use super::rings::{number, one_of};
use super::said::can_be_told;
use arbitrary::{Result, Unstructured};
use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};
use kurbo::Point;
use pressfoot::diagnostic::Diagnostics;
use pressfoot::trace::{self, Toe, Traced, Wish};

/// The largest picture that is drawn, pixels across and down.
const LARGEST: [usize; 2] = [220, 260];

/// Traces what the first byte says: the picture in the bytes that follow, or one that is drawn after them.
pub fn check(bytes: &[u8]) {
    let Some((kind, rest)) = bytes.split_first() else {
        return;
    };
    let (toe, dots) = (kind >> 1 & 7, kind >> 4);
    let wish = Wish {
        dots_per_inch: (dots > 2).then(|| 20.0 * f64::from(dots)),
        card: dots == 1,
        toe: [
            None,
            Some(Toe::Up),
            Some(Toe::Down),
            Some(Toe::Left),
            Some(Toe::Right),
        ]
        .get(usize::from(toe))
        .copied()
        .flatten(),
    };
    if kind & 1 == 0 {
        traced(&with_sums(rest), &wish);
    } else if let Ok(picture) = drawn(&mut Unstructured::new(rest)) {
        traced(&picture, &wish);
    }
}

fn traced(picture: &[u8], wish: &Wish) {
    let mut said = Diagnostics::default();
    match trace::trace(picture, wish, &mut said) {
        Some(sheet) => {
            assert!(!sheet.shapes.is_empty(), "traced, and no outline");
            sheet.shapes.iter().for_each(is_sound);
        }
        None => assert!(said.has_errors(), "refused without a word"),
    }
    can_be_told(&said);
}

/// Checks the measures of a traced outline.
pub fn is_sound(shape: &Traced) {
    assert!(shape.outline.is_finite() && shape.points.len() > 2);
    assert!(shape.points.iter().all(|point| point.is_finite()));
    for measure in [shape.length, shape.width, shape.chord] {
        assert!(measure.is_finite() && measure > 0.0, "{measure} mm");
    }
    assert!(shape.accuracy.is_finite() && shape.accuracy >= 0.0);
    assert!(
        shape.chord <= shape.length.hypot(shape.width) + 1e-6,
        "{}",
        shape.chord
    );
    assert!(
        shape
            .ends
            .iter()
            .chain(&shape.pixels)
            .all(|point| point.is_finite())
    );
}

/// A grey picture of lines and blots, as PNG.
fn drawn(bytes: &mut Unstructured<'_>) -> Result<Vec<u8>> {
    let width = bytes.int_in_range(1..=LARGEST[0])?;
    let height = bytes.int_in_range(1..=LARGEST[1])?;
    let paper = bytes.int_in_range(120..=255_u8)?;
    let (grain, slope) = (bytes.int_in_range(0..=30_u8)?, number(bytes, -0.3, 0.3)?);
    let mut lights: Vec<u8> = (0..width * height)
        .map(|at| {
            // a fixed pattern that looks like the grain of paper
            let grain = (at.wrapping_mul(2_654_435_761) >> 16) % (usize::from(grain) + 1);
            let shade = 1.0 + slope * (at % width) as f64 / width as f64;
            (f64::from(paper) * shade - grain as f64).clamp(0.0, 255.0) as u8
        })
        .collect();
    for _ in 0..bytes.int_in_range(0..=4)? {
        let ink = bytes.int_in_range(0..=200)?;
        let pen = number(bytes, 0.4, 5.0)?;
        let (x, y) = (number(bytes, 0.0, 1.0)?, number(bytes, 0.0, 1.0)?);
        let middle = Point::new(x * width as f64, y * height as f64);
        let size = [0.0, 0.0].map(|_| number(bytes, 1.0, 130.0));
        let size = [size[0]?, size[1]?];
        let (gap, filled) = (
            one_of(bytes, &[0.0, 0.0, 0.1, 0.5])?,
            bytes.ratio(1_u8, 4_u8)?,
        );
        for (at, light) in lights.iter_mut().enumerate() {
            let from = Point::new((at % width) as f64, (at / width) as f64) - middle;
            let (across, down) = (from.x / size[0], from.y / size[1]);
            let far = across.hypot(down);
            let on_line = (far - 1.0).abs() * size[0].min(size[1]) < pen;
            let in_gap = down.atan2(across).abs() < gap;
            if on_line && !in_gap || filled && far < 1.0 {
                *light = ink;
            }
        }
    }
    let mut file = Vec::new();
    let written = PngEncoder::new(&mut file).write_image(
        &lights,
        width as u32,
        height as u32,
        ExtendedColorType::L8,
    );
    written.expect("a grey picture can be written");
    Ok(file)
}

//! What cannot be traced, and says why.

use super::scene::Scene;
use super::{codes, foot, scanned};
use crate::diagnostic::Diagnostics;
use crate::trace::{Toe, Wish, trace};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use kurbo::Point;

/// Pictures that are refused, with the code of the reason.
fn refused() -> Vec<(&'static str, Scene, Wish)> {
    let scan = Scene::scan(foot(0.0, 0.0));
    let photo = Scene::photo(foot(48.0, 2.0));
    let none = Wish::default();
    let of_scan = |dots: f64, toe: Option<Toe>| Wish {
        dots_per_inch: Some(dots),
        toe,
        ..none
    };
    let dots = of_scan(100.0, None);
    let mut no_feet = scan.clone();
    no_feet.feet.clear();
    let mut moved = scan.clone();
    moved.feet[0].centre.y = 25.0;
    let mut open = scan.clone();
    open.missing = Some([1.0, 2.6]);
    let mut dark = scan.clone();
    dark.light = 0.012;
    let mut half_card = photo.clone();
    half_card.card = Some((Point::new(-75.0, -6.0), 0.1));
    let mut from_the_side = photo;
    from_the_side.tilt = 38.0;
    from_the_side.per_mm = 4.0;
    vec![
        ("trace-no-scale", scan.clone(), none),
        ("trace-coarse", scan.clone(), of_scan(60.0, None)),
        ("trace-heel", scan, of_scan(100.0, Some(Toe::Left))),
        ("trace-no-shape", no_feet, dots),
        ("trace-cut", moved, dots),
        ("trace-open", open, dots),
        ("trace-light", dark, dots),
        ("trace-card-cut", half_card, none),
        ("trace-tilt", from_the_side, none),
    ]
}

#[test]
fn what_cannot_be_traced_is_refused_with_its_reason() {
    for (code, scene, wish) in refused() {
        let mut said = Diagnostics::default();
        let sheet = trace(&scene.png(), &wish, &mut said);
        assert!(sheet.is_none(), "{code} is not refused");
        assert_eq!(codes(&said), [code], "{said:?}");
    }
    let mut said = Diagnostics::default();
    assert!(scanned(b"no picture", &mut said).is_none());
    let cut_short = &Scene::scan(foot(0.0, 0.0)).png()[..4000];
    assert!(scanned(cut_short, &mut said).is_none());
    assert_eq!(codes(&said), ["trace-unreadable", "trace-unreadable"]);
}

/// Pictures of nothing: one pixel, a line of pixels, one tone, stripes, squares, noise.
#[test]
fn pictures_of_nothing_are_refused_and_break_nothing() {
    let tones: [fn(u32, u32) -> u8; 6] = [
        |_, _| 0,
        |_, _| 255,
        |x, _| (x / 9 % 2 * 200) as u8,
        |x, y| ((x / 30 + y / 30) % 2 * 255) as u8,
        |x, y| {
            (x.wrapping_mul(2_654_435_761)
                .wrapping_add(y.wrapping_mul(40_503))
                >> 13) as u8
        },
        |x, y| (x + y).min(255) as u8,
    ];
    for [width, height] in [[1, 1], [1, 400], [300, 2], [260, 180]] {
        for (number, tone) in tones.iter().enumerate() {
            let image = image::GrayImage::from_fn(width, height, |x, y| image::Luma([tone(x, y)]));
            let mut bytes = Vec::new();
            PngEncoder::new(&mut bytes)
                .write_image(&image, width, height, ExtendedColorType::L8)
                .unwrap();
            for dots in [None, Some(50.0), Some(150.0), Some(4800.0)] {
                let wish = Wish {
                    dots_per_inch: dots,
                    ..Wish::default()
                };
                let mut said = Diagnostics::default();
                let sheet = trace(&bytes, &wish, &mut said);
                assert!(sheet.is_none(), "{width} by {height}, tone {number}");
                assert!(said.has_errors());
            }
        }
    }
}

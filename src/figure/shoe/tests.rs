#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use crate::design::ClothKind;
use crate::diagnostic::Diagnostics;
use crate::draft::shoe::{ShoeChoices, shoe_form};
use crate::foot::Foot;
use crate::foot::form::fixture::{known, number};
use crate::language::Words;

/// Known shoe forms by the length of their foot, mm.
pub(super) fn form(length: f64) -> ShoeForm {
    let mut feet = known().into_iter();
    let (spec, known) = feet
        .find(|(_, known)| number(&known["foot length"]) == length)
        .unwrap();
    let kind = ClothKind::named(known["cloth"].as_str().unwrap()).unwrap();
    let choices = ShoeChoices {
        ease: number(&known["ease"]),
        ..ShoeChoices::usual(length, kind)
    };
    let mut diagnostics = Diagnostics::default();
    let foot = Foot::new(&spec, &mut diagnostics).unwrap();
    shoe_form(&foot, &choices, &mut diagnostics).unwrap()
}

fn look(strap: bool) -> ShoeLook {
    ShoeLook {
        cloth: 1.2,
        sole: 1.2,
        strap: strap.then(StrapLook::default),
        tie: None,
        back_elastic: !strap,
        topstitch: true,
        lined: true,
        only: None,
    }
}

/// The contour closes at once, without being drawn larger.
fn closes(pictures: &ShoePictures, view: ShoeView, room: Room) {
    let manner = Manner {
        room,
        ..Manner::wide(room.width)
    };
    let drawing = pictures.drawn(view, manner).unwrap();
    assert_eq!(drawing.open_ends, 0, "{view:?} in {room:?}");
}

/// Widths in which the views are published, mm: a figure in a step, one in the text, the cover.
const PUBLISHED: [f64; 3] = [40.0, 120.0, 162.0];

fn published_views_close(length: f64) {
    let form = form(length);
    let pictures = ShoePictures::new(&form, &look(true));
    let limited = |width: f64| Room {
        width,
        height: Some(90.0),
    };
    for view in [
        ShoeView::ThreeQuarter,
        ShoeView::Side,
        ShoeView::Top,
        ShoeView::Pair,
    ] {
        for width in PUBLISHED {
            closes(&pictures, view, limited(width));
        }
    }
    closes(&pictures, ShoeView::ThreeQuarter, Manner::wide(162.0).room);
    let pictures = ShoePictures::new(&form, &look(false));
    for width in PUBLISHED {
        closes(&pictures, ShoeView::Back, limited(width));
    }
}

#[test]
fn the_contour_closes_for_a_foot_of_25_mm() {
    published_views_close(25.0);
}

#[test]
fn the_contour_closes_for_a_foot_of_45_mm() {
    published_views_close(45.0);
}

#[test]
fn the_contour_closes_for_a_foot_of_70_mm() {
    published_views_close(70.0);
}

#[test]
fn the_contour_closes_for_a_foot_of_95_mm() {
    published_views_close(95.0);
}

#[test]
fn words_name_what_has_a_line_and_nothing_else() {
    let form = form(45.0);
    let manner = Manner::wide(60.0);
    let view = ShoeView::ThreeQuarter;
    let strapped = drawing(&form, &look(true), view, manner).unwrap();
    assert_eq!(
        strapped.alt,
        "The left shoe from the front outside: strap over the instep with a button on the outer side, \
         seam up the side, line of stitching round the topline, the lining is dotted."
    );
    let gathered = drawing(&form, &look(false), ShoeView::Back, manner).unwrap();
    assert_eq!(
        gathered.alt,
        "The left shoe from the back outside: seam up the side, line of stitching round the topline, \
         back gathered on an elastic, the lining is dotted."
    );
    let greys = Manner {
        tints: Tints::Greys,
        ..manner
    };
    let grey = drawing(&form, &look(true), view, greys).unwrap();
    assert!(grey.alt.ends_with("the lining is grey."));
}

#[test]
fn a_very_small_picture_has_no_strap_and_is_a_side_view() {
    let pictures = ShoePictures::new(&form(45.0), &look(true));
    let picture = pictures
        .figure(ShoeView::Top, Manner::wide(24.0), &Words::default())
        .unwrap();
    assert!(picture.alt.starts_with("The left shoe from its outer side"));
    assert!(!picture.alt.contains("strap"));
    assert!((picture.width - 24.0).abs() < 1e-9);
}

/// The scene is a shoe of the foot it is for: as long as its form, the sole flat below it.
#[test]
fn the_scene_has_the_size_of_the_form() {
    let form = form(70.0);
    let pictures = ShoePictures::new(&form, &look(false));
    let extent = pictures.extent;
    assert!((extent.length - 70.0).abs() < 0.01, "{extent:?}");
    let points = pictures.scene.meshes.iter().flat_map(|m| &m.vertices);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for point in points {
        assert!(point.x.is_finite() && point.y.is_finite() && point.z.is_finite());
        (low, high) = (low.min(point.x), high.max(point.x));
    }
    let bulge = 0.35 * 0.034 * 70.0;
    assert!((low - (extent.back - bulge)).abs() < 0.01, "{low}");
    assert!((high - (extent.front + bulge)).abs() < 0.01, "{high}");
}

#[test]
fn the_cover_is_hatched_on_the_shaded_side_only() {
    let pictures = ShoePictures::new(&form(45.0), &look(true));
    let manner = Manner {
        hatched: true,
        ..Manner::wide(80.0)
    };
    let drawing = pictures.drawn(ShoeView::ThreeQuarter, manner).unwrap();
    let tagged = |l: &&super::super::drawing::Line| l.tag == part::SHADE;
    let shade: Vec<_> = drawing.lines.iter().filter(tagged).collect();
    assert!(shade.len() > 20);
    // The toe points to the lower left; its cap stays white.
    let left = shade
        .iter()
        .flat_map(|l| &l.points)
        .map(|p| p.x)
        .fold(f64::INFINITY, f64::min);
    assert!(left > 0.25 * drawing.width, "{left}");
}

/// Directions besides the published ones, azimuth and elevation.
const DIRECTIONS: [(f64, f64); 10] = [
    (40.0, 30.0),
    (60.0, 25.0),
    (65.0, 30.0),
    (128.0, 27.0),
    (47.0, 25.0),
    (55.0, 29.0),
    (50.0, 31.0),
    (58.0, 26.0),
    (85.0, 12.0),
    (140.0, 25.0),
];

/// Drawings of four shoes with and without strap, in thin and in thick cloth, from all sides and at
/// many widths. Of those that are published none has an open contour; of all of them one in thirty
/// may, which is then drawn larger and made small.
#[test]
#[ignore = "draws four thousand pictures, which takes minutes; run it after a change of the drawing"]
fn contours_close_from_all_sides_at_many_widths() {
    const WIDTHS: [f64; 11] = [
        40.0, 50.0, 55.0, 62.0, 74.0, 90.0, 110.0, 118.0, 120.0, 140.0, 162.0,
    ];
    let (mut count, mut open) = (0, Vec::new());
    for length in [25.0, 45.0, 70.0, 95.0] {
        let form = form(length);
        for (strap, back_elastic) in [(true, false), (false, true), (false, false)] {
            for cloth in [0.3, 2.0] {
                let look = ShoeLook {
                    back_elastic,
                    cloth,
                    ..look(strap)
                };
                let pictures = ShoePictures::new(&form, &look);
                for (azimuth, elevation) in DIRECTIONS {
                    let view = View { azimuth, elevation };
                    for width in WIDTHS {
                        let room = Room {
                            width,
                            height: Some(110.0),
                        };
                        count += 1;
                        if draw(&pictures.scene, view, room).unwrap().open_ends > 0 {
                            open.push((length, strap, cloth, azimuth, width));
                        }
                    }
                }
            }
        }
    }
    assert!(
        30 * open.len() <= count,
        "{} of {count}: {open:?}",
        open.len()
    );
}

/// Straps of many widths at many places: a contour that stays open is closed when it is drawn
/// larger, but for one in a thousand, which is refused.
#[test]
#[ignore = "draws three thousand pictures, which takes minutes; run it after a change of the drawing"]
fn contours_close_under_straps_of_many_widths() {
    let (mut count, mut open) = (0, Vec::new());
    for length in [25.0, 45.0, 70.0, 95.0] {
        let form = form(length);
        for at in [0.42, 0.44, 0.46, 0.48, 0.5, 0.52] {
            for width in [0.07, 0.085, 0.1, 0.12, 0.14] {
                let strap = StrapLook {
                    at,
                    width,
                    button: true,
                    ..StrapLook::default()
                };
                let look = ShoeLook {
                    strap: Some(strap),
                    ..look(true)
                };
                let pictures = ShoePictures::new(&form, &look);
                for view in ShoeView::ALL {
                    for paper in [40.0, 62.0, 74.0, 118.0, 162.0] {
                        let manner = Manner {
                            room: Room {
                                width: paper,
                                height: Some(110.0),
                            },
                            ..Manner::wide(paper)
                        };
                        count += 1;
                        if pictures.figure(view, manner, &Words::default()).is_err() {
                            open.push((length, at, width, view, paper));
                        }
                    }
                }
            }
        }
    }
    assert!(
        1000 * open.len() <= count,
        "{} of {count}: {open:?}",
        open.len()
    );
}

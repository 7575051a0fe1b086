#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::super::fixture::{Read, half, length, line, mark, notch, piece, square, usual_colours};
use super::*;
use crate::design::{LineKind, NotchCut};
use crate::export::form::forms;
use crate::geometry::curve;
use crate::piece::{MarkKind, Notch, Piece};
use kurbo::Shape;

fn without_square() -> Cutting {
    Cutting {
        reference_square: None,
        ..Cutting::default()
    }
}

fn drawn(piece: &Piece, cutting: &Cutting) -> Read {
    let forms = forms(piece, cutting);
    let text = piece_file(&forms[0], "size one", cutting, LengthStyle::METRIC);
    Read::of(&text)
}

const OVAL: &str = "M0 5 C0 -3.33333333 30 -3.33333333 30 5 C30 13.3333333 0 13.3333333 0 5 Z";

fn oval() -> Piece {
    let edges = [
        ("top", "M0 5 C0 -3.33333333 30 -3.33333333 30 5"),
        ("bottom", "M30 5 C30 13.3333333 0 13.3333333 0 5"),
    ];
    piece(&edges, OVAL, 0.0)
}

#[test]
fn the_path_read_back_is_the_cut_line_to_four_decimals() {
    let read = drawn(&oval(), &without_square());
    let [outline] = read.group("cut").outlines.as_slice() else {
        panic!("one outline");
    };
    let wanted: Vec<_> = oval().cut_line.segments().collect();
    assert_eq!(outline.segments().count(), wanted.len());
    for (there, here) in outline.segments().zip(wanted) {
        let (a, b) = (there.to_cubic(), here.to_cubic());
        for (p, q) in [(a.p0, b.p0), (a.p1, b.p1), (a.p2, b.p2), (a.p3, b.p3)] {
            assert!(p.distance(q) <= 0.5e-4 * 2_f64.sqrt(), "{p} {q}");
        }
    }
    // one unit of the drawing is one millimetre; the oval is 30 mm wide, with 1 mm of white round it
    assert_eq!(read.size[0], format!("{}mm", read.view[2]));
    assert!((read.view[2] - 32.0).abs() < 1e-3, "{:?}", read.view);
    assert_eq!(read.title, "Panel & flap, size one");
    // without allowance seam line and cut line are one line, which is cut
    assert_eq!(read.groups.len(), 1);
}

#[test]
fn lines_stand_in_groups_by_what_is_done_with_them() {
    let mut piece = square();
    piece.marks = vec![
        line(LineKind::Fold, "M0 20L40 20"),
        line(LineKind::Placement, "M0 10L40 10"),
        line(LineKind::Stitching, "M0 30L40 30"),
        mark(MarkKind::Hole {
            at: Point::new(12.0, 9.5),
            diameter: 3.0,
        }),
        mark(MarkKind::Button {
            at: Point::new(20.0, 35.0),
            diameter: 8.0,
        }),
        mark(MarkKind::Buttonhole {
            from: Point::new(5.0, 5.0),
            to: Point::new(5.0, 15.0),
        }),
    ];
    piece.grain = Some([Point::new(8.0, 5.0), Point::new(8.0, 35.0)]);
    let read = drawn(&piece, &without_square());
    let names: Vec<&str> = read.groups.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["cut", "score", "mark", "guide"]);
    let strokes = names.iter().map(|name| read.group(name).stroke.clone());
    assert_eq!(strokes.collect::<Vec<_>>(), usual_colours());
    let cut = read.group("cut");
    assert_eq!(length(&cut.outlines), 200.0);
    assert_eq!(cut.circles, [[12.0, 9.5, 1.5]]);
    assert_eq!(length(&read.group("score").paths), 40.0);
    // seam line 160, places 40 + 40, buttonhole 10, the cross of the button 2 + 2
    let marks = read.group("mark");
    assert!((length(&marks.paths) - 254.0).abs() < 1e-9);
    assert_eq!(marks.circles, [[20.0, 35.0, 4.0]]);
    assert_eq!(length(&read.group("guide").paths), 30.0);
}

#[test]
fn no_line_is_drawn_twice() {
    let mut piece = square();
    // a fold line along the seam line, and a placement line along the fold line and beyond
    piece.marks = vec![
        line(LineKind::Fold, "M0 0L40 0"),
        line(LineKind::Placement, "M-3 0L43 0"),
        mark(MarkKind::Button {
            at: Point::new(20.0, 20.0),
            diameter: 6.0,
        }),
        mark(MarkKind::Eyelet {
            at: Point::new(20.0, 20.0),
            diameter: 6.0,
        }),
    ];
    // the right edge has none: there the seam line is the cut line
    piece.allowances[1] = 0.0;
    piece.cut_line = kurbo::BezPath::from_svg("M-5 -5L40 -5L40 45L-5 45Z").unwrap();
    let read = drawn(&piece, &without_square());
    assert_eq!(length(&read.group("score").paths), 40.0);
    // of the seam line bottom and left; of the placement line 3 mm at each end; the cross 2 + 2
    let marks = length(&read.group("mark").paths);
    assert!((marks - (80.0 + 6.0 + 4.0)).abs() < 1e-9, "{marks}");
    assert!(read.group("mark").circles.is_empty());
    assert_eq!(read.group("cut").circles.len(), 1);
}

#[test]
fn a_piece_on_the_fold_is_drawn_whole_with_its_marks() {
    let mut piece = half();
    piece.marks = vec![
        mark(MarkKind::Hole {
            at: Point::new(12.0, 9.5),
            diameter: 3.0,
        }),
        mark(MarkKind::Eyelet {
            at: Point::new(0.0, 6.0),
            diameter: 4.0,
        }),
        line(LineKind::Fold, "M0 20L30 20"),
    ];
    let read = drawn(&piece, &without_square());
    let [outline] = read.group("cut").outlines.as_slice() else {
        panic!("one outline");
    };
    assert!((outline.area().abs() - 3600.0).abs() < 1e-6);
    assert_eq!(curve::length(outline, 1e-9), 240.0);
    // the hole has an image; the eyelet lies on the fold and has none
    let circles = [[12.0, 9.5, 1.5], [0.0, 6.0, 2.0], [-12.0, 9.5, 1.5]];
    assert_eq!(read.group("cut").circles, circles);
    assert_eq!(length(&read.group("score").paths), 60.0);
}

#[test]
fn a_half_that_does_not_run_along_its_fold_is_drawn_as_it_is() {
    let mut piece = half();
    piece.cut_line = kurbo::BezPath::from_svg("M5 -5L25 -5L25 45L5 45Z").unwrap();
    let read = drawn(&piece, &without_square());
    assert!((read.group("cut").outlines[0].area() - 1000.0).abs() < 1e-6);
}

#[test]
fn notches_are_slit_cut_out_or_marked_as_the_design_says() {
    let mut piece = square();
    piece.notches = vec![notch(2)];
    let of = |notches: NotchCut| {
        let cutting = Cutting {
            notches,
            ..without_square()
        };
        drawn(&piece, &cutting)
    };
    // a notch reaches 2.2 mm into an allowance of 5 mm, and is 2.2 mm wide: as on the plates
    let slits = of(NotchCut::Slit);
    assert_eq!(length(&slits.group("cut").outlines), 200.0);
    let cuts = &slits.group("cut").paths;
    assert_eq!(cuts.len(), 2);
    assert!((length(cuts) - 4.4).abs() < 1e-9);
    for slit in cuts {
        let bounds = slit.bounding_box();
        assert!((bounds.y0 + 5.0).abs() < 1e-9 && (bounds.y1 + 2.8).abs() < 1e-9);
    }
    let cut_out = of(NotchCut::Vee);
    let outline = &cut_out.group("cut").outlines[0];
    // each triangle is 2.2 mm wide and as high
    assert!((outline.area() - (2500.0 - 2.0 * 2.42)).abs() < 1e-6);
    assert!(cut_out.group("cut").paths.is_empty());
    let marked = of(NotchCut::Mark);
    assert_eq!(length(&marked.group("cut").outlines), 200.0);
    assert!(marked.group("cut").paths.is_empty());
    assert!((length(&marked.group("mark").paths) - 164.4).abs() < 1e-9);
}

#[test]
fn of_notches_on_a_half_each_has_its_image_and_one_on_the_fold_has_none() {
    let mut piece = half();
    piece.allowances = vec![5.0, 5.0, 5.0, 0.0];
    piece.cut_line = kurbo::BezPath::from_svg("M0 -5L35 -5L35 65L0 65Z").unwrap();
    let on_the_fold = Notch {
        point: Point::new(0.0, 0.0),
        at: 0.0,
        ..notch(1)
    };
    let at_the_side = Notch {
        point: Point::new(30.0, 30.0),
        outward: kurbo::Vec2::new(1.0, 0.0),
        edge: "side".to_string(),
        ..notch(1)
    };
    piece.notches = vec![on_the_fold, at_the_side];
    let slits = drawn(&piece, &without_square());
    assert_eq!(slits.group("cut").paths.len(), 3);
    assert!((length(&slits.group("cut").paths) - 6.6).abs() < 1e-9);
    let cutting = Cutting {
        notches: NotchCut::Vee,
        ..without_square()
    };
    let read = drawn(&piece, &cutting);
    // 70 by 70 mm less three triangles, 2.2 mm wide and as high
    let area = read.group("cut").outlines[0].area().abs();
    assert!((area - (4900.0 - 3.0 * 2.42)).abs() < 1e-6, "{area}");
}

#[test]
fn without_its_allowance_a_piece_is_cut_on_the_seam_line() {
    let mut piece = square();
    piece.notches = vec![notch(1)];
    let cutting = Cutting {
        without_allowance: vec!["felt".to_string()],
        ..without_square()
    };
    let both = forms(&piece, &cutting);
    let of = |form: &Form<'_>| {
        let text = piece_file(form, "size one", &cutting, LengthStyle::METRIC);
        length(&Read::of(&text).group("cut").outlines)
    };
    let lengths: Vec<f64> = both.iter().map(of).collect();
    assert_eq!(lengths, [200.0, 160.0]);
    let materials: Vec<&str> = both.iter().map(|f| f.cuts[0].material.as_str()).collect();
    assert_eq!(materials, ["lining", "felt"]);
    // nothing is cut into a piece that has no allowance
    let bare = piece_file(&both[1], "size one", &cutting, LengthStyle::METRIC);
    let bare = Read::of(&bare);
    assert!(bare.group("cut").paths.is_empty());
    assert!((length(&bare.group("mark").paths) - 1.6).abs() < 1e-9);
}

#[test]
fn the_reference_square_is_drawn_below_with_its_measure() {
    let read = drawn(&square(), &Cutting::default());
    let marks = &read.group("mark").paths;
    // the seam line, the square, the letters
    let square = marks[1].bounding_box();
    assert_eq!(square, Rect::new(-5.0, 49.0, 20.0, 74.0));
    assert_eq!(curve::length(&marks[1], 1e-9), 100.0);
    let letters = marks[2].bounding_box();
    assert!(letters.width() > 5.0 && square.contains_rect(letters));
    assert!(marks.len() == 3 && length(&read.group("cut").outlines) == 200.0);
    assert_eq!(read.view, [-6.0, -6.0, 52.0, 81.0]);
}

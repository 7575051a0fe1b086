#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use super::*;
use crate::diagnostic::{Place, SourceText};
use crate::geometry::{Edge, Outline};
use crate::piece::Mark;
use kurbo::BezPath;
use std::sync::Arc;

fn piece(edges: &[(&str, &str)], cut_line: &str, fold: Option<&str>) -> Piece {
    let edges = edges
        .iter()
        .map(|(name, path)| Edge::new(*name, BezPath::from_svg(path).unwrap()))
        .collect();
    let source = SourceText {
        path: "design.yaml".to_string(),
        text: String::new(),
    };
    Piece {
        key: "panel".to_string(),
        number: 1,
        title: "Panel & flap".to_string(),
        note: None,
        outline: Outline::new(edges).unwrap(),
        cut_line: BezPath::from_svg(cut_line).unwrap(),
        allowances: Vec::new(),
        fold: fold.map(str::to_string),
        grain: None,
        grain_within: 0.0,
        common_point: None,
        notches: Vec::new(),
        marks: vec![
            Mark {
                kind: MarkKind::Hole {
                    at: Point::new(12.0, 9.5),
                    diameter: 3.0,
                },
                words: None,
            },
            Mark {
                kind: MarkKind::Eyelet {
                    at: Point::new(0.0, 6.0),
                    diameter: 4.0,
                },
                words: None,
            },
        ],
        cuts: Vec::new(),
        place: Place {
            source: Arc::new(source),
            line: 1,
            column: 1,
        },
    }
}

const OVAL: &str = "M0 5 C0 -3.33333333 30 -3.33333333 30 5 C30 13.3333333 0 13.3333333 0 5 Z";

fn oval() -> Piece {
    let edges = [
        ("top", "M0 5 C0 -3.33333333 30 -3.33333333 30 5"),
        ("bottom", "M30 5 C30 13.3333333 0 13.3333333 0 5"),
    ];
    piece(&edges, OVAL, None)
}

/// Half of a house, the fold upright at x = 0.
fn half() -> Piece {
    let edges = [
        ("roof", "M0 0 L20 15"),
        ("wall", "M20 15 C24 20 24 30 20 40"),
        ("floor", "M20 40 L0 40"),
        ("fold", "M0 40 L0 0"),
    ];
    let cut_line = "M0 -5 L23 12 C28 20 28 32 24 45 L0 45 L0 40 L0 0 Z";
    piece(&edges, cut_line, Some("fold"))
}

struct Read {
    path: BezPath,
    circles: Vec<[f64; 3]>,
    width: String,
    view: Vec<f64>,
}

fn read(text: &str) -> Read {
    let tree = roxmltree::Document::parse(text).unwrap();
    let root = tree.root_element();
    let named = |name: &'static str| {
        tree.descendants()
            .filter(move |n| n.tag_name().name() == name)
    };
    let number = |node: roxmltree::Node<'_, '_>, key: &str| {
        node.attribute(key).unwrap().parse::<f64>().unwrap()
    };
    let view = root.attribute("viewBox").unwrap().split(' ');
    Read {
        path: BezPath::from_svg(named("path").next().unwrap().attribute("d").unwrap()).unwrap(),
        circles: named("circle")
            .map(|c| [number(c, "cx"), number(c, "cy"), number(c, "r")])
            .collect(),
        width: root.attribute("width").unwrap().to_string(),
        view: view.map(|v| v.parse().unwrap()).collect(),
    }
}

#[test]
fn the_path_read_back_is_the_cut_line_to_four_decimals() {
    let read = read(&cut_file(&oval(), "one"));
    let pairs = read
        .path
        .segments()
        .zip(oval().cut_line.segments().collect::<Vec<_>>());
    for (there, here) in pairs {
        let (a, b) = (there.to_cubic(), here.to_cubic());
        for (p, q) in [(a.p0, b.p0), (a.p1, b.p1), (a.p2, b.p2), (a.p3, b.p3)] {
            assert!(p.distance(q) <= 0.5e-4 * 2_f64.sqrt(), "{p} {q}");
        }
    }
    assert_eq!(
        read.path.segments().count(),
        oval().cut_line.segments().count()
    );
}

#[test]
fn one_unit_of_the_drawing_is_one_millimetre() {
    let read = read(&cut_file(&oval(), "one"));
    assert_eq!(read.width, format!("{}mm", read.view[2]));
    // The oval is 30 mm wide; 1 mm of white stands on either side.
    assert!((read.view[2] - 32.0).abs() < 1e-3, "{:?}", read.view);
}

#[test]
fn holes_and_eyelets_are_cut_too() {
    let read = read(&cut_file(&oval(), "one"));
    assert_eq!(read.circles, [[12.0, 9.5, 1.5], [0.0, 6.0, 2.0]]);
}

#[test]
fn a_piece_on_the_fold_is_drawn_whole() {
    let read = read(&cut_file(&half(), "one"));
    let half_area = half().cut_line.area();
    assert!((read.path.area().abs() - 2.0 * half_area).abs() < 1e-2);
    let bounds = read.path.bounding_box();
    assert!((bounds.x0 + bounds.x1).abs() < 1e-3, "{bounds:?}");
    // The hole has an image; the eyelet lies on the fold and has none.
    assert_eq!(read.circles.len(), 3);
    assert_eq!(read.circles[2], [-12.0, 9.5, 1.5]);
    let moves = read.path.elements().iter();
    assert_eq!(
        moves
            .filter(|e| matches!(e, kurbo::PathEl::MoveTo(_)))
            .count(),
        1
    );
}

#[test]
fn a_half_that_does_not_run_along_its_fold_is_drawn_as_it_is() {
    let mut piece = half();
    piece.cut_line = BezPath::from_svg("M5 -5 L25 -5 L25 45 L5 45 Z").unwrap();
    let read = read(&cut_file(&piece, "one"));
    assert!((read.path.area() - 1000.0).abs() < 1e-6);
}

#[test]
fn the_drawing_is_a_red_hairline_and_its_title_names_the_size() {
    let text = cut_file(&oval(), "large");
    assert!(text.contains("<title>Panel &amp; flap, size large</title>"));
    assert!(text.contains("id=\"cut\" fill=\"none\" stroke=\"#ff0000\" stroke-width=\"0.0353\""));
}

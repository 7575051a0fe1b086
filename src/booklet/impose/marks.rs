//! What stands on a sheet outside the trim: where it is folded, trimmed and stapled, and which side of
//! which sheet it is. Millimetres, y down, until they are written as points, y up.

use super::super::pdf::file::POINTS;
use crate::language::{Places, Words};
use crate::plates::lettering::{self, Face};
use kurbo::{Affine, BezPath, PathEl, Point};

/// Nothing stands nearer to the edge of the sheet than this, mm: what home printers leave unprinted.
const EDGE: f64 = 7.3;

/// Marks end this far outside the trim, mm.
const CLEAR: f64 = 0.4;

/// Width of the marks' lines, mm: 0.25 pt is 0.09 mm.
const LINE: f64 = 0.15;

/// Size of the words, points.
const WORDS: f64 = 6.5;

/// The marks of a side, as an artifact of its content.
pub fn content(
    (side, sides): (usize, usize),
    [width, height]: [f64; 2],
    margin: f64,
    said: &Words,
) -> String {
    let to_page = Affine::new([POINTS, 0.0, 0.0, -POINTS, 0.0, height * POINTS]);
    let mut lines = String::new();
    // each line is a path of its own: together they would surround the pages
    let mut line = |from: (f64, f64), to: (f64, f64)| {
        let mut one = BezPath::new();
        one.move_to(from);
        one.line_to(to);
        lines.push_str(&path(&(to_page * one)));
        lines.push_str("S\n");
    };
    let inner = margin - CLEAR;
    let middle = width / 2.0;
    for (near, far) in [(EDGE, inner), (height - EDGE, height - inner)] {
        line((middle, near), (middle, far));
        line((margin, near), (margin, far));
        line((width - margin, near), (width - margin, far));
    }
    for (near, far) in [(EDGE, inner), (width - EDGE, width - inner)] {
        line((near, margin), (far, margin));
        line((near, height - margin), (far, height - margin));
        if side == 0 {
            // the staples go in from the outside, at these heights of the fold
            for share in [0.25, 0.75] {
                let y = margin + share * (height - 2.0 * margin);
                line((near, y), (far, y));
            }
        }
    }
    let words = words(side, sides, said);
    let at = Point::new(margin + 4.0, margin - CLEAR - 0.55);
    let letters =
        Affine::translate(at.to_vec2()) * lettering::outlines(&words, Face::Regular, WORDS);
    let width = LINE * POINTS;
    format!(
        "/Artifact BMC\nq 0 G {width:.4} w\n{lines}0 g\n{}f\nQ\nEMC\n",
        path(&(to_page * letters)),
    )
}

fn words(side: usize, sides: usize, said: &Words) -> String {
    let face = match side % 2 {
        0 => "stapled.front",
        _ => "stapled.back",
    };
    let places: Places<'_> = &[
        ("sheet", &(side / 2 + 1)),
        ("sheets", &(sides / 2)),
        ("face", &said.get(face)),
    ];
    let key = match side {
        0 => "stapled.first side",
        _ => "stapled.side",
    };
    said.say(key, places)
}

fn path(path: &BezPath) -> String {
    let mut text = String::new();
    let mut at = Point::ZERO;
    let mut push = |points: &[Point], operator: &str| {
        for point in points {
            text.push_str(&format!("{:.3} {:.3} ", point.x, point.y));
        }
        text.push_str(operator);
        text.push('\n');
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => push(&[p], "m"),
            PathEl::LineTo(p) => push(&[p], "l"),
            PathEl::QuadTo(c, p) => {
                // a quadratic as a cubic, exactly
                let third = |from: Point| from + (c - from) * (2.0 / 3.0);
                push(&[third(at), third(p), p], "c");
            }
            PathEl::CurveTo(a, b, p) => push(&[a, b, p], "c"),
            PathEl::ClosePath => push(&[], "h"),
        }
        at = element.end_point().unwrap_or(at);
    }
    text
}

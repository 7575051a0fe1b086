//! Seam line, fold and grain line of one piece as ink, in mm, in the piece's own axes.

use super::ink::{FOLD, Ink, THIN, path_of, stroke};
use super::mark::HOOK;
use crate::piece::Piece;
use kurbo::{BezPath, Line, ParamCurve, Point, Vec2};

/// The seam line from its sharpest corner on, so that its dashes start there; `None` where it is
/// the cut line itself.
pub fn seam_line(piece: &Piece) -> Option<BezPath> {
    if piece.allowances.iter().all(|a| *a < 1e-6) {
        return None;
    }
    let edges = piece.outline.edges();
    let turn_at = |i: usize| {
        let before = edges[(i + edges.len() - 1) % edges.len()].end_tangent();
        let after = edges[i].start_tangent();
        before.cross(after).atan2(before.dot(after)).abs()
    };
    let mut first = 0;
    for i in 1..edges.len() {
        if turn_at(i) > turn_at(first) + 1e-6 {
            first = i;
        }
    }
    let mut path = BezPath::new();
    for i in 0..edges.len() {
        for element in edges[(first + i) % edges.len()].curve.elements() {
            match element {
                kurbo::PathEl::MoveTo(_) if !path.is_empty() => {}
                other => path.push(*other),
            }
        }
    }
    path.close_path();
    Some(path)
}

/// The edge on the fold, as far as the cut line follows it beyond the seam line's corners.
pub fn fold_line(piece: &Piece) -> Option<Line> {
    let edge = piece.outline.edge(piece.fold.as_deref()?)?;
    let (start, end) = (edge.start(), edge.end());
    let length = (end - start).hypot();
    if length < 1e-6 {
        return None;
    }
    let along = (end - start) / length;
    let (mut low, mut high) = (0.0_f64, length);
    for point in piece.cut_line.segments().map(|s| s.start()) {
        let from = point - start;
        if along.cross(from).abs() < 0.02 {
            low = low.min(along.dot(from));
            high = high.max(along.dot(from));
        }
    }
    Some(Line::new(start + along * low, start + along * high))
}

/// The line without its outermost quarter millimetres, to be painted white.
pub fn bare(line: Line) -> BezPath {
    let along = line.p1 - line.p0;
    let spare = along * (0.25 / along.hypot().max(1.0));
    path_of(&[line.p0 + spare, line.p1 - spare])
}

/// The fold's dashes, with a hook of 2.2 mm into the piece at both ends.
pub fn fold_ink(line: Line) -> Ink {
    let along = (line.p1 - line.p0).normalize();
    // rings run clockwise on the page: the piece lies to the right of its edge
    let inward = Vec2::new(-along.y, along.x) * HOOK;
    Ink {
        strokes: vec![
            (path_of(&[line.p0, line.p1]), FOLD),
            (path_of(&[line.p0, line.p0 + inward]), stroke(0.3, None)),
            (path_of(&[line.p1, line.p1 + inward]), stroke(0.3, None)),
        ],
        fills: Vec::new(),
    }
}

/// The grain line with its two arrowheads.
pub fn grain_ink(line: Line) -> Ink {
    let along = (line.p1 - line.p0).normalize();
    let across = Vec2::new(-along.y, along.x) * (1.35 / 2.0);
    let head = |tip: Point, back: Vec2| {
        let mut path = path_of(&[tip, tip + back + across, tip + back - across]);
        path.close_path();
        path
    };
    let shaft = [line.p0 + along * 2.0, line.p1 - along * 2.0];
    Ink {
        strokes: vec![(path_of(&shaft), THIN)],
        fills: vec![head(line.p0, along * 2.4), head(line.p1, along * -2.4)],
    }
}

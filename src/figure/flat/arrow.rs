//! Arrows that say what moves where, on a white ground so that they are seen over other lines.
//! Millimetres on paper; one head is one movement.

use super::board::Board;
use crate::figure::drawing::arrow::HALF;
use crate::geometry::curve;
use crate::plates::ink::{path_of, stroke};
use kurbo::{BezPath, Point, Rect, Vec2};

/// Shaft of an arrow, and of a broad one.
const SHAFT: f64 = 0.6;
const BROAD: f64 = 0.9;
/// Length of its head; half its width, and where its base is notched, as shares of that.
const HEAD: f64 = 2.8;
const NOTCHED: f64 = 0.78;
/// White at both sides of a shaft.
const HALO: f64 = 0.65;

/// Which arrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A piece moves.
    Plain,
    /// The whole work is turned.
    Broad,
}

/// Draws an arrow along `path`, its head at the end.
pub(super) fn draw(board: &mut Board, path: &BezPath, kind: Kind) {
    let (width, head) = match kind {
        Kind::Plain => (SHAFT, HEAD),
        Kind::Broad => (BROAD, HEAD * 1.4),
    };
    let length = curve::length(path, 1e-3);
    let Some(tip) = curve::station(path, length, 1e-3) else {
        return;
    };
    let shaft = curve::part(path, 0.0, (length - NOTCHED * head).max(0.0), 1e-3);
    // the head follows the chord of its own length, so that it sits well on a curve
    let behind = curve::station(path, (length - head).max(0.0), 1e-3);
    let chord = behind.map_or(tip.tangent, |behind| tip.point - behind.point);
    let along = if chord.hypot() > 1e-9 {
        chord.normalize()
    } else {
        tip.tangent
    };
    let head = head_at(tip.point, along, head);
    board.white_line(&shaft, width + 2.0 * HALO);
    board.white_line(&head, 2.0 * HALO);
    if !shaft.is_empty() {
        board.line(shaft, stroke(width, None));
    }
    board.fill(head);
}

fn head_at(tip: Point, along: Vec2, length: f64) -> BezPath {
    let across = Vec2::new(-along.y, along.x) * (HALF * length);
    let back = tip - along * length;
    let notch = tip - along * (NOTCHED * length);
    let mut head = path_of(&[tip, back + across, notch, back - across]);
    head.close_path();
    head
}

/// A straight way.
pub(super) fn straight(from: Point, to: Point) -> BezPath {
    path_of(&[from, to])
}

/// A way from `from` to `to` that swings out to its left by `swing` times their distance.
pub(super) fn swung(from: Point, to: Point, swing: f64) -> BezPath {
    let way = to - from;
    let left = Vec2::new(way.y, -way.x) * (swing * 4.0 / 3.0);
    let mut path = BezPath::new();
    path.move_to(from);
    path.curve_to(from + way * 0.12 + left, to - way * 0.12 + left, to);
    path
}

/// An arrow from one state to the next, in the space between them.
pub(super) fn next_state(board: &mut Board, a: Rect, b: Rect) {
    let beside = b.x0 > a.x1;
    let (at, half) = match beside {
        true => (
            Point::new((a.x1 + b.x0) / 2.0, (a.center().y + b.center().y) / 2.0),
            Vec2::new(3.5, 0.0),
        ),
        false => (
            Point::new((a.center().x + b.center().x) / 2.0, (a.y1 + b.y0) / 2.0),
            Vec2::new(0.0, 3.5),
        ),
    };
    draw(board, &straight(at - half, at + half), Kind::Broad);
}

/// An arrow from edge to edge, short of both.
pub(super) fn link(board: &mut Board, [from, to]: [Point; 2]) {
    let way = to - from;
    if way.hypot() < 7.0 {
        return;
    }
    let along = way.normalize() * 1.6;
    draw(board, &straight(from + along, to - along), Kind::Plain);
}

//! Notches and centre marks as ink: a filled triangle with its base on the cut line, a tick across
//! the seam line at a centre. Millimetres, in the piece's own axes.

use super::ink::{Ink, THIN, path_of};
use crate::piece::{Notch, Piece};
use kurbo::{BezPath, ParamCurve, ParamCurveNearest, Point, Vec2};

/// Distance between the middles of notches side by side.
const PITCH: f64 = 2.8;
/// Half the base of a notch's triangle.
pub const HALF_BASE: f64 = 1.1;
/// Deepest notch.
const DEPTH: f64 = 2.2;
/// Below this allowance, mm, a notch is a tick: a triangle would no longer be seen, or would cut into
/// the piece itself.
pub const LEAST_ALLOWANCE: f64 = 1.5;
/// A notch moved sideways is put back on the cut line if it lies no further off than this.
const REACH: f64 = 0.6;

/// All notches of `piece`; with `ticks`, ticks instead of triangles.
pub fn ink(piece: &Piece, ticks: bool) -> Ink {
    let mut ink = Ink::default();
    for notch in &piece.notches {
        for middle in middles(notch, &piece.cut_line) {
            if ticks || notch.allowance < LEAST_ALLOWANCE {
                ink.strokes.push((path_of(&tick(notch, middle)), THIN));
            } else {
                ink.fills.push(triangle(notch, middle));
            }
        }
        if notch.centre {
            ink.strokes.push((path_of(&centre_tick(notch)), THIN));
        }
    }
    ink
}

/// The line that stands for a notch at `middle` on the cut line.
pub fn tick(notch: &Notch, middle: Point) -> [Point; 2] {
    let reach = notch.allowance.clamp(1.6, DEPTH);
    [middle, middle - notch.outward * reach]
}

/// The line across the seam line at the middle of something.
pub fn centre_tick(notch: &Notch) -> [Point; 2] {
    let out = notch.outward * notch.allowance.min(0.6);
    [notch.point + out, notch.point - notch.outward * 1.6]
}

/// How far a notch that is cut reaches into the allowance, mm.
pub fn depth(notch: &Notch) -> f64 {
    DEPTH.min(0.55 * notch.allowance)
}

fn tangent(notch: &Notch) -> Vec2 {
    Vec2::new(-notch.outward.y, notch.outward.x)
}

/// Where on the cut line the triangles of `notch` stand.
pub fn middles(notch: &Notch, cut_line: &BezPath) -> Vec<Point> {
    let count = notch.count.clamp(1, 3);
    let first = notch.point + notch.outward * notch.allowance;
    (0..count)
        .map(|i| {
            let aside = (f64::from(i) - f64::from(count - 1) / 2.0) * PITCH;
            on_line(first + tangent(notch) * aside, cut_line)
        })
        .collect()
}

fn on_line(point: Point, line: &BezPath) -> Point {
    let mut best = (REACH * REACH, point);
    for segment in line.segments() {
        let near = segment.nearest(point, 1e-6);
        if near.distance_sq < best.0 {
            best = (near.distance_sq, segment.eval(near.t));
        }
    }
    best.1
}

fn triangle(notch: &Notch, middle: Point) -> BezPath {
    let half = tangent(notch) * HALF_BASE;
    let tip = middle - notch.outward * depth(notch);
    let mut path = path_of(&[middle - half, middle + half, tip]);
    path.close_path();
    path
}

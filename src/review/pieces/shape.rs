//! Outlines compared: by their extent, their symmetry, and their curves. Millimetres.

use crate::geometry::{Outline, curve};
use crate::piece::Piece;
use kurbo::{Affine, BezPath, ParamCurve, ParamCurveDeriv, PathSeg, Point, Rect, Shape, Vec2};

/// Points round an outline when it is compared.
const ROUND: usize = 144;

/// Steps along a segment when its curvature is read.
const STEPS: usize = 96;

/// The extent of a whole piece: one on the fold is drawn as a half.
pub(super) fn extent(piece: &Piece) -> Rect {
    let bounds = piece.outline.bounds();
    let over = piece.fold.as_ref().and_then(|name| mirror(piece, name));
    over.map_or(bounds, |over| {
        bounds.union(over.transform_rect_bbox(bounds))
    })
}

/// Area of a whole piece, mm².
pub(super) fn area(piece: &Piece) -> f64 {
    let half = if piece.fold.is_some() { 2.0 } else { 1.0 };
    half * piece.outline.area().abs()
}

/// The mirroring about the straight edge `name`.
fn mirror(piece: &Piece, name: &str) -> Option<Affine> {
    let edge = piece.outline.edge(name)?;
    let along = edge.end() - edge.start();
    (along.hypot() > 0.0).then(|| Affine::reflect(edge.start(), along))
}

/// How far `a` and the mirror image of `b` lie apart at the most when they are laid on each other as
/// well as can be, mm: by orthogonal Procrustes analysis over all starts of the walk (Schönemann 1966).
/// `None` if their lengths already differ by more than `tolerance` allows.
pub(super) fn apart_mirrored(a: &Outline, b: &Outline, tolerance: f64) -> Option<f64> {
    let lengths = [a.perimeter(), b.perimeter()];
    if (lengths[0] - lengths[1]).abs() > 4.0 * tolerance {
        return None;
    }
    let flipped = b.transformed(Affine::FLIP_X);
    let (a, b) = (centred(a), centred(&flipped));
    let mut best = (f64::INFINITY, 0, Vec2::new(1.0, 0.0));
    for shift in 0..ROUND {
        // The turn that lays one on the other is the argument of the sum of products.
        let pairs = (0..ROUND).map(|i| (a[i], b[(i + shift) % ROUND]));
        let turn = pairs.fold(Vec2::ZERO, |sum, (p, q)| {
            sum + Vec2::new(q.dot(p), q.cross(p))
        });
        let turn = turn / turn.hypot().max(1e-12);
        let off: f64 = (0..ROUND)
            .map(|i| (turned(b[(i + shift) % ROUND], turn) - a[i]).hypot2())
            .sum();
        if off < best.0 {
            best = (off, shift, turn);
        }
    }
    let laid: Vec<Vec2> = b.iter().map(|q| turned(*q, best.2)).collect();
    let far = |from: &[Vec2], to: &[Vec2]| {
        let points = from.iter().map(|p| distance(*p, to));
        points.fold(0.0, f64::max)
    };
    Some(far(&a, &laid).max(far(&laid, &a)))
}

fn turned(v: Vec2, turn: Vec2) -> Vec2 {
    Vec2::new(v.x * turn.x - v.y * turn.y, v.x * turn.y + v.y * turn.x)
}

fn centred(outline: &Outline) -> Vec<Vec2> {
    let points = curve::spread(&outline.path(), ROUND);
    let count = points.len().max(1) as f64;
    let middle = points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / count;
    let mut points: Vec<Vec2> = points.iter().map(|p| p.to_vec2() - middle).collect();
    points.resize(ROUND, Vec2::ZERO);
    points
}

/// Distance of a point from a closed ring of straight lines.
fn distance(point: Vec2, ring: &[Vec2]) -> f64 {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let near = sides.map(|(a, b)| {
        let way = *b - *a;
        let share = ((point - *a).dot(way) / way.hypot2().max(1e-12)).clamp(0.0, 1.0);
        (point - *a - way * share).hypot()
    });
    near.fold(f64::INFINITY, f64::min)
}

/// Within this an outline counts as the mirror image of another, mm: the width of a cutting line, or
/// for large pieces one part in 500 of its length, which no hand cuts better (common practice).
pub(super) fn tolerance(outline: &Outline) -> f64 {
    (0.002 * outline.perimeter()).max(0.3)
}

/// Whether an outline is its own mirror image.
pub(super) fn is_symmetric(outline: &Outline) -> bool {
    let tolerance = tolerance(outline);
    apart_mirrored(outline, outline, tolerance).is_some_and(|apart| apart <= tolerance)
}

/// A stretch of a curve that bends the same way and no more gently than some radius.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bend {
    /// The smallest radius, mm, and where.
    pub(super) radius: f64,
    pub(super) at: Point,
    /// Length, mm, and how far it turns, degrees.
    pub(super) length: f64,
    pub(super) turn: f64,
    /// Whether the piece is hollow there.
    pub(super) hollow: bool,
}

/// The stretches of `path`, part of a clockwise outline, whose radius is less than `radius`.
pub(super) fn bends(path: &BezPath, radius: f64) -> Vec<Bend> {
    let mut bends: Vec<Bend> = Vec::new();
    let mut open: Option<Bend> = None;
    for segment in path.segments() {
        for (at, bend, length) in curvatures(&segment) {
            let hollow = bend < 0.0;
            let tight = bend.abs() * radius > 1.0;
            let goes_on = open.as_ref().is_some_and(|o| o.hollow == hollow) && tight;
            if !goes_on {
                bends.extend(open.take());
            }
            if !tight {
                continue;
            }
            let turn = (bend.abs() * length).to_degrees();
            let here = 1.0 / bend.abs();
            let last = open.get_or_insert(Bend {
                radius: here,
                at,
                length: 0.0,
                turn: 0.0,
                hollow,
            });
            last.length += length;
            last.turn += turn;
            if here < last.radius {
                (last.radius, last.at) = (here, at);
            }
        }
    }
    bends.extend(open);
    bends
}

/// Points of a segment with their curvature, 1/mm, more than 0 where a clockwise outline bulges, and
/// the length they stand for.
fn curvatures(segment: &PathSeg) -> impl Iterator<Item = (Point, f64, f64)> + use<> {
    let segment = *segment;
    let step = 1.0 / STEPS as f64;
    (0..STEPS).map(move |i| {
        let t = (i as f64 + 0.5) * step;
        let (from, to) = (segment.eval(t - 0.5 * step), segment.eval(t + 0.5 * step));
        let bend = match segment {
            PathSeg::Line(_) => 0.0,
            PathSeg::Quad(quad) => bend(quad.deriv().eval(t), quad.deriv().deriv().eval(t)),
            PathSeg::Cubic(cubic) => bend(cubic.deriv().eval(t), cubic.deriv().deriv().eval(t)),
        };
        let bend = if bend.is_finite() { bend } else { 0.0 };
        (segment.eval(t), bend, from.distance(to))
    })
}

fn bend(first: Point, second: Point) -> f64 {
    let (first, second) = (first.to_vec2(), second.to_vec2());
    first.cross(second) / first.hypot().powi(3).max(1e-12)
}

/// Least distance from a point to a closed path, mm.
pub(super) fn distance_to(path: &BezPath, point: Point) -> f64 {
    use kurbo::ParamCurveNearest;
    let near = path.segments().map(|s| s.nearest(point, 1e-4).distance_sq);
    near.fold(f64::INFINITY, f64::min).sqrt()
}

/// Width and height of the cloth that is cut for a piece.
pub(super) fn cut_extent(piece: &Piece) -> Rect {
    let bounds = piece.cut_line.bounding_box();
    let over = piece.fold.as_ref().and_then(|name| mirror(piece, name));
    over.map_or(bounds, |over| {
        bounds.union(over.transform_rect_bbox(bounds))
    })
}

//! Whether a layout can be cut: true rings, f64, no part of the search is used or trusted. mm.

use super::item::{Item, Placed};
use super::ring;
use kurbo::{Point, Rect};

/// How much spacing may be missing, mm, and how deep rings may lie in each other where no spacing is
/// asked for: what rounding makes of touching rings. Far below what any cutter can follow.
const ROUNDING: f64 = 1e-9;

/// The cloth that pieces must stay on.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// The outline.
    pub outline: Vec<Point>,
    /// What is cut out of it or is damaged.
    pub holes: Vec<Vec<Point>>,
    /// The height of the fold, if the cloth lies folded: there pieces need no spacing.
    pub fold: Option<f64>,
}

impl Cloth {
    /// Endless cloth between y = 0 and y = `width`, from x = 0 on, with the fold at y = 0.
    pub fn strip(width: f64) -> Self {
        let corners = [(0.0, 0.0), (FAR, 0.0), (FAR, width), (0.0, width)];
        Self {
            outline: corners.map(Point::from).to_vec(),
            holes: Vec::new(),
            fold: Some(0.0),
        }
    }
}

impl Cloth {
    /// The cloth's area left of `x`, mm²: outlines are clipped there (Sutherland and Hodgman 1974).
    pub(super) fn area(&self, x: f64) -> f64 {
        let clipped = |points: &[Point]| {
            let mut left = Vec::new();
            for (a, b) in ring::edges(points) {
                if a.x <= x {
                    left.push(a);
                }
                if (a.x <= x) != (b.x <= x) {
                    left.push(a.lerp(b, (x - a.x) / (b.x - a.x)));
                }
            }
            ring::area(&left).abs()
        };
        let holes: f64 = self.holes.iter().map(|hole| clipped(hole)).sum();
        clipped(&self.outline) - holes
    }
}

/// Where endless cloth ends all the same, mm.
const FAR: f64 = 1e9;

/// What is wrong with a layout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// Two of the placed pieces, by their place in the layout, overlap or are too near.
    TooNear(usize, usize),
    /// One of the placed pieces leaves the cloth, lies in a hole, or is too near to the edge.
    Outside(usize),
    /// A piece of the fold does not lie on it.
    OffFold(usize),
}

/// Everything that is wrong with the placed pieces: nothing where none overlap, all keep the
/// `spacing`, and none leaves the cloth. Rounding may eat up to 1e-9 mm.
pub fn faults(items: &[Item], placed: &[Placed], cloth: &Cloth, spacing: f64) -> Vec<Fault> {
    let bodies: Vec<Body> = placed.iter().map(|p| Body::new(p.ring(items))).collect();
    let outline = Body::new(cloth.outline.clone());
    let holes: Vec<Body> = cloth
        .holes
        .iter()
        .map(|ring| Body::new(ring.clone()))
        .collect();
    let mut faults = Vec::new();
    for (index, body) in bodies.iter().enumerate() {
        let folded = items[placed[index].item].fold.zip(cloth.fold);
        if let Some((edge, height)) = folded
            && !lies_on(&body.ring, edge, height)
        {
            faults.push(Fault::OffFold(index));
        }
        let fold = folded.map(|(_, height)| height);
        if !inside(body, &outline, fold, spacing)
            || holes.iter().any(|h| too_near(body, h, spacing))
        {
            faults.push(Fault::Outside(index));
        }
        let nearer = (0..index).filter(|&other| too_near(body, &bodies[other], spacing));
        faults.extend(nearer.map(|other| Fault::TooNear(other, index)));
    }
    faults
}

fn lies_on(points: &[Point], edge: usize, height: f64) -> bool {
    let ends = [
        points[edge % points.len()],
        points[(edge + 1) % points.len()],
    ];
    ends.iter()
        .all(|end| (end.y - height).abs() <= ROUNDING.max(1e-12 * end.x.abs()))
}

/// A ring with its box and the boxes of its edges.
struct Body {
    ring: Vec<Point>,
    bounds: Rect,
}

impl Body {
    fn new(ring: Vec<Point>) -> Self {
        Self {
            bounds: ring::bounds(&ring),
            ring,
        }
    }
}

fn apart(a: &Rect, b: &Rect, by: f64) -> bool {
    a.x0 > b.x1 + by || b.x0 > a.x1 + by || a.y0 > b.y1 + by || b.y0 > a.y1 + by
}

fn too_near(one: &Body, other: &Body, spacing: f64) -> bool {
    if apart(&one.bounds, &other.bounds, spacing) {
        return false;
    }
    overlap(one, other) || (spacing > 0.0 && nearer(one, other, spacing - ROUNDING, |_| false))
}

/// Whether the insides have a point in common, deeper than rounding: some part of one boundary runs
/// inside the other, or both are the same or one within the other.
fn overlap(one: &Body, other: &Body) -> bool {
    enters(one, other) || enters(other, one) || deep(other, inner_point(&one.ring))
}

/// Whether the insides of two rings have a point in common.
#[cfg(test)]
pub(super) fn rings_overlap(one: &[Point], other: &[Point]) -> bool {
    let (one, other) = (Body::new(one.to_vec()), Body::new(other.to_vec()));
    !apart(&one.bounds, &other.bounds, 0.0) && overlap(&one, &other)
}

fn enters(one: &Body, other: &Body) -> bool {
    ring::edges(&one.ring).any(|edge| {
        let bounds = Rect::from_points(edge.0, edge.1);
        !apart(&bounds, &other.bounds, 0.0)
            && parts(edge, &other.ring).any(|middle| deep(other, middle))
    })
}

/// The middles of the parts into which the ring's edges cut the edge.
fn parts(edge: (Point, Point), ring: &[Point]) -> impl Iterator<Item = Point> + use<> {
    let along = edge.1 - edge.0;
    let mut cuts = vec![0.0, 1.0];
    for (a, b) in ring::edges(ring) {
        let across = b - a;
        let turn = along.cross(across);
        let t = (a - edge.0).cross(across) / turn;
        if turn != 0.0 && (0.0..=1.0).contains(&t) {
            cuts.push(t);
        }
        let length = along.hypot2();
        let ends = [a, b].map(|end| (end - edge.0).dot(along) / length);
        cuts.extend(ends.into_iter().filter(|t| (0.0..=1.0).contains(t)));
    }
    cuts.sort_by(f64::total_cmp);
    let middles: Vec<f64> = cuts
        .windows(2)
        .map(|pair| (pair[0] + pair[1]) / 2.0)
        .collect();
    middles.into_iter().map(move |t| edge.0 + along * t)
}

fn deep(body: &Body, point: Point) -> bool {
    body.bounds.contains(point)
        && ring::contains(&body.ring, point)
        && ring::distance(&body.ring, point) > ROUNDING
}

/// A point well within the ring: the middle of the widest part of a level line through it.
fn inner_point(points: &[Point]) -> Point {
    let bounds = ring::bounds(points);
    let level = |i: usize| bounds.y0 + bounds.height() * (i as f64 + 0.618) / 8.0;
    let widest = |y: f64| {
        let crossing = |(a, b): (Point, Point)| {
            ((a.y > y) != (b.y > y)).then(|| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
        };
        let mut xs: Vec<f64> = ring::edges(points).filter_map(crossing).collect();
        xs.sort_by(f64::total_cmp);
        let spans = xs.chunks_exact(2).map(|pair| (pair[1] - pair[0], pair[0]));
        let span = spans.max_by(|a, b| a.0.total_cmp(&b.0))?;
        Some((span.0, Point::new(span.1 + span.0 / 2.0, y)))
    };
    let best = (0..8)
        .filter_map(|i| widest(level(i)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or(bounds.center(), |(_, point)| point)
}

/// Whether an edge of one ring comes nearer than `reach` to an edge of the other that is not left
/// out.
fn nearer(one: &Body, other: &Body, reach: f64, left_out: impl Fn((Point, Point)) -> bool) -> bool {
    ring::edges(&other.ring)
        .filter(|&edge| !left_out(edge))
        .any(|(c, d)| {
            let bounds = Rect::from_points(c, d);
            !apart(&bounds, &one.bounds, reach)
                && ring::edges(&one.ring).any(|(a, b)| {
                    let near = |p, (q, r)| ring::distance_to_edge(p, q, r) < reach;
                    let ends =
                        near(a, (c, d)) || near(b, (c, d)) || near(c, (a, b)) || near(d, (a, b));
                    !apart(&Rect::from_points(a, b), &bounds, reach)
                        && (ends || ring::meet((a, b), (c, d)))
                })
        })
}

/// Whether the body lies on the cloth, with the spacing to all edges but the fold.
fn inside(body: &Body, outline: &Body, fold: Option<f64>, spacing: f64) -> bool {
    let out = |point: Point| {
        !ring::contains(&outline.ring, point) && ring::distance(&outline.ring, point) > ROUNDING
    };
    let on_cloth = |edge: (Point, Point)| !out(edge.0) && !parts(edge, &outline.ring).any(out);
    let on_fold = |edge: (Point, Point)| fold.is_some_and(|y| edge.0.y == y && edge.1.y == y);
    ring::edges(&body.ring).all(on_cloth)
        && !(spacing > 0.0 && nearer(body, outline, spacing - ROUNDING, on_fold))
}

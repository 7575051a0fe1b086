//! The edges of the flat pieces as curves: few cubics, of true length, and running smoothly from
//! piece to piece through the side seams. Millimetres, y upwards.

use super::flat::FlatPatch;
use super::patch::UpperEdge;
use crate::geometry::bezier_fit::{Chain, FitRule};
use kurbo::{BezPath, CubicBez, Point, Vec2};

/// Most segments of an edge.
const MOST: usize = 8;

/// Corners are made true to this, degrees, in at most so many rounds: making a curve as long as it
/// should be turns its ends a little.
const TRUE: f64 = 0.05;
const ROUNDS: usize = 5;

/// The edges of a flat piece, in the order of `UpperEdge::around`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PieceEdges {
    pub(super) chains: [(UpperEdge, Chain); 4],
    points: [Vec<Point>; 4],
    /// The end tangents with which the chains were fitted, before they were made as long as they
    /// should be, which turns their ends a little.
    fitted: [[Vec2; 2]; 4],
    lengths: [f64; 4],
    /// Whether the piece is its own mirror image about the upright axis.
    pub(super) mirrored: bool,
}

impl PieceEdges {
    /// Curves along the edges of `piece`, within a share of the foot's length of them. If
    /// `mirrored`, the piece is made its own mirror image about the upright axis.
    pub(super) fn new(piece: &FlatPatch, length: f64, mirrored: bool) -> Option<Self> {
        let around = UpperEdge::around(piece.patch.piece);
        let mut points = around.map(|edge| piece.edge_points(edge));
        if mirrored {
            mirror_points(&mut points);
        }
        let lengths = around.map(|edge| piece.true_length(edge));
        let tolerance = (0.0016 * length).max(0.06);
        let mut chains = Vec::new();
        let mut fitted = [[Vec2::ZERO; 2]; 4];
        for (index, edge) in around.into_iter().enumerate() {
            let fewest = if index % 2 == 0 { 2 } else { 1 };
            let rule = FitRule {
                tolerance,
                fewest,
                most: MOST,
                tangents: [None, None],
            };
            let chain = Chain::fit(&points[index], rule)?;
            fitted[index] = [chain.start_tangent(), chain.end_tangent()];
            chains.push((edge, chain.with_length(lengths[index])));
        }
        let mut edges = Self {
            chains: chains.try_into().ok()?,
            points,
            fitted,
            lengths,
            mirrored,
        };
        edges.mirror();
        Some(edges)
    }

    /// The angle inside the piece, in degrees, at the end of the edge with this number.
    pub(super) fn corner(&self, number: usize) -> f64 {
        let before = self.chains[number % 4].1.end_tangent();
        let after = self.chains[(number + 1) % 4].1.start_tangent();
        let turn = before.cross(after).atan2(before.dot(after));
        // Edges run clockwise, so a corner turns to the right.
        180.0 + turn.to_degrees()
    }

    /// Fits sole edge (number 0) or topline (number 2) again with its end tangents turned by these
    /// angles, degrees counter-clockwise.
    fn turn_ends(&mut self, number: usize, turns: [f64; 2]) -> Option<()> {
        let fitted = self.fitted[number];
        let tangents = [turned(fitted[0], turns[0]), turned(fitted[1], turns[1])];
        self.fitted[number] = tangents;
        let chain = &self.chains[number].1;
        let chain = chain.with_tangents(&self.points[number], tangents)?;
        self.chains[number].1 = chain.with_length(self.lengths[number]);
        Some(())
    }

    /// Makes a mirrored piece exactly its own mirror image.
    fn mirror(&mut self) {
        if !self.mirrored {
            return;
        }
        for number in [0, 2] {
            let image = image_of(&self.chains[number].1);
            mean_of(&mut self.chains[number].1, &image);
        }
        let image = image_of(&self.chains[3].1);
        mean_of(&mut self.chains[1].1, &image);
        self.chains[3].1 = image_of(&self.chains[1].1);
    }

    /// Greatest distance from a point of the flat mesh's edge to the curve, mm.
    pub(super) fn worst_fit(&self) -> f64 {
        self.chains.iter().map(|(_, c)| c.error).fold(0.0, f64::max)
    }
}

/// What the corners of both pieces make together, degrees: at the sole inner and outer, at the topline
/// inner and outer. Corners by the number of the edge that ends there: of the toe piece 0 sole-outer,
/// 1 outer-top, 2 top-inner, 3 inner-sole; of the heel piece 0 sole-inner, 1 inner-top, 2 top-outer,
/// 3 outer-sole.
pub(super) fn corners_together(toe: &PieceEdges, heel: &PieceEdges) -> [f64; 4] {
    [
        toe.corner(3) + heel.corner(0),
        toe.corner(0) + heel.corner(3),
        toe.corner(2) + heel.corner(1),
        toe.corner(1) + heel.corner(2),
    ]
}

/// Turns the ends of soles and toplines so that toe piece and heel piece run on smoothly through the
/// side seams: where their corners make more or less than 180° together, each gives half.
pub(super) fn true_corners(toe: &mut PieceEdges, heel: &mut PieceEdges) -> Option<()> {
    for _ in 0..ROUNDS {
        let excess = corners_together(toe, heel).map(|angle| angle - 180.0);
        if excess.iter().all(|e| e.abs() < TRUE) {
            break;
        }
        let (sole, top) = ([excess[0], excess[1]], [excess[2], excess[3]]);
        for (number, [inner, outer], toe_begins_inner) in [(0, sole, true), (2, top, false)] {
            let heel_share = if heel.mirrored {
                [0.25 * (inner + outer); 2]
            } else {
                [0.5 * inner, 0.5 * outer]
            };
            let toe_share = [inner - heel_share[0], outer - heel_share[1]];
            // A start turned clockwise and an end turned counter-clockwise make a corner narrower.
            let ends = |[inner, outer]: [f64; 2], begins_inner: bool| {
                let (first, last) = if begins_inner {
                    (inner, outer)
                } else {
                    (outer, inner)
                };
                [-first, last]
            };
            toe.turn_ends(number, ends(toe_share, toe_begins_inner))?;
            heel.turn_ends(number, ends(heel_share, !toe_begins_inner))?;
        }
        heel.mirror();
    }
    Some(())
}

fn turned(v: Vec2, degrees: f64) -> Vec2 {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    Vec2::new(cosine * v.x - sine * v.y, sine * v.x + cosine * v.y)
}

fn flipped(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// The mirror image of a chain, run backwards.
fn image_of(chain: &Chain) -> Chain {
    let segments = chain.segments.iter().rev();
    let segments =
        segments.map(|s| CubicBez::new(flipped(s.p3), flipped(s.p2), flipped(s.p1), flipped(s.p0)));
    Chain {
        segments: segments.collect(),
        ..chain.clone()
    }
}

fn mean_of(chain: &mut Chain, other: &Chain) {
    if chain.segments.len() != other.segments.len() {
        return;
    }
    for (s, o) in chain.segments.iter_mut().zip(&other.segments) {
        *s = CubicBez::new(
            s.p0.midpoint(o.p0),
            s.p1.midpoint(o.p1),
            s.p2.midpoint(o.p2),
            s.p3.midpoint(o.p3),
        );
    }
}

/// Makes the points of a piece's edges their own mirror image, as far as both halves have as many.
fn mirror_points(points: &mut [Vec<Point>; 4]) {
    let image = |edge: &[Point]| -> Vec<Point> { edge.iter().rev().map(|p| flipped(*p)).collect() };
    let mean = |edge: &mut Vec<Point>, other: &[Point]| {
        for (p, o) in edge.iter_mut().zip(other) {
            *p = p.midpoint(*o);
        }
    };
    for number in [0, 2] {
        let other = image(&points[number]);
        mean(&mut points[number], &other);
    }
    let other = image(&points[3]);
    if other.len() == points[1].len() {
        mean(&mut points[1], &other);
        points[3] = image(&points[1]);
    }
}

/// The chain on the page, y downwards.
pub(super) fn on_page(chain: &Chain) -> BezPath {
    kurbo::Affine::FLIP_Y * chain.path()
}

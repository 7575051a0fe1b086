//! One thickness of cloth as it lies in a figure: a piece with the side that is up, or a part of one
//! that is folded over. Its geometry is in mm of the piece, placed on the group's by `onto`; widths of
//! lines and sizes of signs are mm on paper.

use super::board::{Board, round};
use super::half::Axis;
use super::notch_seen::{LEAST_ALLOWANCE, NotchSeen, notch_drawn, seen};
use crate::design::LineKind;
use crate::figure::small::NUMBER;
use crate::figure::tint::Tint;
use crate::geometry::{Corner, Edge, curve, cut_line, unfolded_ring};
use crate::piece::{Mark, MarkKind, Notch, Piece};
use crate::plates::ink::{PLACING, STITCHING, Stroke, THIN, path_of, stroke};
use crate::plates::lettering::{self, Face};
use kurbo::{Affine, BezPath, Circle, Point, Shape};

/// Cut edge of what lies on top, and of what lies below.
pub(super) const EDGE: Stroke = round(0.7);
pub(super) const EDGE_BELOW: Stroke = round(0.55);
/// A seam line that is not sewn in this step.
const SEAM: Stroke = Stroke {
    width: 0.25,
    dash: Some([0.25, 0.9]),
    round: true,
};
/// An edge that another piece hides.
pub(super) const HIDDEN: Stroke = stroke(0.2, Some([2.4, 0.8]));
/// An edge that was cut off: unbroken, for dashes are stitches.
const OLD_EDGE: Stroke = round(0.18);
/// A fold.
pub(super) const FOLD: Stroke = stroke(0.35, Some([3.4, 1.0]));
/// An edge that is joined to another.
pub(super) const JOINED: Stroke = round(1.3);
/// White between it and the cut edge.
const BESIDE_JOINED: f64 = 0.35;
/// White under a fold that runs along an edge.
const BARE: f64 = 1.2;

/// How near an outline that is turned in keeps to its edges, mm.
const NEAR: f64 = 0.01;
/// The edge of a narrow strip takes no more than this share of it.
const EDGE_SHARE: f64 = 0.25;
/// Least radius of a circle that stands for a button or a hole, on paper.
const LEAST_RADIUS: f64 = 0.6;

/// One thickness of cloth.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ply {
    /// The whole piece; names of edges are looked up in it.
    pub(super) piece: Piece,
    /// From the piece's axes to the group's; turns it over where the other side is up.
    pub(super) onto: Affine,
    /// Tint of the side that is up.
    pub(super) tint: Tint,
    /// What is seen of the cloth, in the piece's axes.
    pub(super) surface: BezPath,
    /// Seam line, marks and notches, in the piece's axes.
    pub(super) seam_line: BezPath,
    pub(super) marks: Vec<(BezPath, Stroke)>,
    /// Circles: middle and diameter.
    pub(super) rounds: Vec<(Point, f64)>,
    pub(super) notches: Vec<NotchSeen>,
    /// Where it was parted from the rest of its piece: it lies left of each, in the piece's axes.
    pub(super) parted: Vec<Axis>,
    /// Where it is folded, in the piece's axes.
    pub(super) folds: Vec<BezPath>,
    /// Edges that are joined to another.
    pub(super) joined: Vec<BezPath>,
    /// An old cut edge beyond the surface.
    pub(super) cut_off: Option<BezPath>,
    /// Whether something lies on it.
    pub(super) below: bool,
    /// Whether its marks are seen though its wrong side is up.
    pub(super) marked: bool,
}

impl Ply {
    /// A piece as it is cut: one that is drawn as a half, to be cut on the fold, is opened.
    pub(super) fn opened(piece: &Piece, tint: Tint) -> Self {
        let Some((whole, axis)) = opened(piece) else {
            return Self::drawn(piece, tint);
        };
        let mut ply = Self::drawn(&whole, tint);
        let mirror = axis.mirror();
        let off_fold = |point: Point| axis.left_of(point).abs() > 1e-3;
        let others: Vec<_> = ply.marks.iter().map(|(p, s)| (mirror * p, *s)).collect();
        ply.marks.extend(others);
        let others = ply.rounds.iter().filter(|(at, _)| off_fold(*at));
        let others: Vec<_> = others.map(|(at, d)| (mirror * *at, *d)).collect();
        ply.rounds.extend(others);
        ply
    }

    /// A piece as it is drawn on its plate.
    pub(super) fn drawn(piece: &Piece, tint: Tint) -> Self {
        let fold = piece
            .fold
            .as_deref()
            .and_then(|name| piece.outline.edge(name));
        let folds = fold.map(|edge| edge.curve.clone()).into_iter().collect();
        let mut marks = Vec::new();
        let mut rounds = Vec::new();
        for mark in &piece.marks {
            match mark_drawn(&mark.kind) {
                Drawn::Line(path, stroke) => marks.push((path, stroke)),
                Drawn::Round(at, diameter) => rounds.push((at, diameter)),
            }
        }
        Self {
            onto: Affine::IDENTITY,
            tint,
            surface: piece.cut_line.clone(),
            seam_line: piece.outline.path(),
            marks,
            rounds,
            notches: piece.notches.iter().map(seen).collect(),
            parted: Vec::new(),
            folds,
            joined: Vec::new(),
            cut_off: None,
            below: false,
            marked: false,
            piece: piece.clone(),
        }
    }

    /// The piece with its allowances turned in, as it is when it is sewn and turned.
    pub(super) fn finished(self) -> Self {
        Self {
            surface: self.seam_line.clone(),
            seam_line: BezPath::new(),
            notches: Vec::new(),
            ..self
        }
    }

    /// The same with the allowances of some edges turned in, the others as they were cut; as it was if no
    /// such outline can be drawn.
    pub(super) fn turned_in(mut self, edges: &[Edge]) -> Self {
        let turned = |name: &str| edges.iter().any(|edge| edge.name == name);
        let outline = &self.piece.outline;
        let own = outline.edges().iter().zip(&self.piece.allowances);
        let left = own.map(|(edge, own)| if turned(&edge.name) { 0.0 } else { *own });
        let left: Vec<f64> = left.collect();
        let corners = vec![Corner::Square; left.len()];
        let Ok(surface) = cut_line(outline, &left, &corners, NEAR) else {
            return self;
        };
        let mut seam_line = BezPath::new();
        for edge in outline.edges().iter().filter(|edge| !turned(&edge.name)) {
            seam_line.extend(&edge.curve);
        }
        self.notches.retain(|notch| !turned(&notch.edge));
        Self {
            surface,
            seam_line,
            ..self
        }
    }

    /// What of a path along the whole piece lies on this part of it, in the piece's axes.
    pub(super) fn own(&self, path: BezPath) -> BezPath {
        let lines = self.parted.iter();
        lines.fold(path, |path, line| line.open_left(&path))
    }

    /// The same placed by a further motion.
    pub(super) fn moved(mut self, by: Affine) -> Self {
        self.onto = by * self.onto;
        self
    }

    /// The cut edge of what is seen, in the group's axes.
    pub(super) fn outline(&self) -> BezPath {
        let mut all = self.onto * &self.surface;
        if let Some(old) = &self.cut_off {
            all.extend((self.onto * old).elements().iter().copied());
        }
        all
    }

    /// Draws it; `paper` leads from the group's axes to the paper, and `whole` says whether marks and
    /// notches are drawn.
    pub(super) fn draw(&self, board: &mut Board, paper: Affine) {
        let onto = paper * self.onto;
        let scale = onto.determinant().abs().sqrt();
        let surface = onto * &self.surface;
        if let Some(old) = &self.cut_off {
            board.white(onto * old);
            board.line(onto * old, OLD_EDGE);
        }
        board.cloth(surface.clone(), self.tint);
        let widest = self.piece.allowances.iter().copied().fold(0.0, f64::max);
        if widest * scale >= LEAST_ALLOWANCE {
            board.line(onto * &self.seam_line, SEAM);
        }
        // marks are chalked on the right side unless the figure says so
        let marked = self.tint != Tint::Wrong || self.marked;
        for (path, stroke) in self.marks.iter().filter(|_| marked) {
            board.line(onto * path, *stroke);
        }
        for (at, diameter) in self.rounds.iter().filter(|_| marked) {
            let radius = (diameter * scale / 2.0).max(LEAST_RADIUS);
            board.line(Circle::new(onto * *at, radius).to_path(1e-3), THIN);
        }
        board.line(surface.clone(), self.edge(scale));
        for fold in &self.folds {
            board.white_line(&within(&(onto * fold)), BARE);
            board.line(onto * fold, FOLD);
        }
        for edge in &self.joined {
            board.line(onto * edge, self.finer(joined(widest * scale), scale));
        }
        for notch in &self.notches {
            notch_drawn(board, notch, onto, &surface);
        }
    }

    /// The line of its cut edge.
    fn edge(&self, scale: f64) -> Stroke {
        self.finer(if self.below { EDGE_BELOW } else { EDGE }, scale)
    }

    /// A line round it, finer where it is a strip that the line would fill.
    fn finer(&self, usual: Stroke, scale: f64) -> Stroke {
        // of a strip, twice its area to its perimeter is its width
        let across = 2.0 * self.surface.area().abs() / self.surface.perimeter(1e-3).max(1e-9);
        let width = EDGE_SHARE * across * scale;
        round(usual.width.min(width.max(THIN.width)))
    }
}

/// The line along a joined edge: so fine that there is white between it and the cut edge, an allowance away on
/// paper, or both would be one black band. Without an allowance it is the cut edge itself.
fn joined(allowance: f64) -> Stroke {
    let beside = 2.0 * (allowance - EDGE.width / 2.0 - BESIDE_JOINED);
    let least = EDGE_BELOW.width;
    match allowance > 0.0 {
        true => round(beside.clamp(least, JOINED.width)),
        false => JOINED,
    }
}

/// A fold line without its ends, so that what is bared under it does not part the outline there.
fn within(fold: &BezPath) -> BezPath {
    let whole = curve::length(fold, 1e-3);
    curve::part(fold, BARE / 2.0, whole - BARE / 2.0, 1e-3)
}

enum Drawn {
    Line(BezPath, Stroke),
    Round(Point, f64),
}

fn mark_drawn(kind: &MarkKind) -> Drawn {
    match kind {
        MarkKind::Hole { at, diameter }
        | MarkKind::Eyelet { at, diameter }
        | MarkKind::Button { at, diameter } => Drawn::Round(*at, *diameter),
        MarkKind::Buttonhole { from, to } => {
            Drawn::Line(path_of(&[*from, *to]), stroke(0.45, None))
        }
        MarkKind::Line { kind, path } => {
            let style = match kind {
                LineKind::Placement => PLACING,
                LineKind::Stitching => STITCHING,
                LineKind::Fold => FOLD,
            };
            Drawn::Line(path.clone(), style)
        }
    }
}

/// The middle of a mark and its outline, in the piece's axes.
pub(super) fn mark_spot(mark: &Mark) -> Option<Point> {
    match mark_drawn(&mark.kind) {
        Drawn::Round(at, _) => Some(at),
        Drawn::Line(path, _) => {
            let length = curve::length(&path, 1e-3);
            let station = curve::station(&path, length / 2.0, 1e-3)?;
            Some(station.point)
        }
    }
}

/// The whole piece of which this one is the half on the fold; `None` if it is drawn whole.
fn opened(piece: &Piece) -> Option<(Piece, Axis)> {
    let name = piece.fold.as_deref()?;
    let fold = piece.outline.edge(name)?;
    let axis = Axis::through(fold.start(), fold.end())?;
    let outline = piece.outline.unfolded(name).ok()?;
    let allowance = |edge: &str| {
        let own = edge.strip_suffix(" mirrored").unwrap_or(edge);
        let index = piece.outline.edges().iter().position(|e| e.name == own);
        index.and_then(|i| piece.allowances.get(i)).copied()
    };
    let allowances = outline
        .edges()
        .iter()
        .map(|edge| allowance(&edge.name).unwrap_or(0.0))
        .collect();
    let cut_line = unfolded_ring(&piece.cut_line, fold.start(), fold.end())?;
    let mirror = axis.mirror();
    let mirrored = |notch: &Notch| {
        let edge = format!("{} mirrored", notch.edge);
        let known = outline.edge(&edge).is_some();
        let point = mirror * notch.point;
        Notch {
            edge: if known { edge } else { notch.edge.clone() },
            point,
            outward: (mirror * (notch.point + notch.outward)) - point,
            ..notch.clone()
        }
    };
    let off_fold = |notch: &&Notch| axis.left_of(notch.point).abs() > 1e-3;
    let others: Vec<Notch> = piece
        .notches
        .iter()
        .filter(off_fold)
        .map(mirrored)
        .collect();
    let notches = piece.notches.iter().cloned().chain(others).collect();
    let whole = Piece {
        outline,
        allowances,
        cut_line,
        notches,
        fold: None,
        ..piece.clone()
    };
    Some((whole, axis))
}

/// The number of a piece and its middle.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Numbered {
    pub(super) number: usize,
    pub(super) at: Point,
}

/// The outlines of a number, its middle at `at`.
pub(super) fn numeral(words: &str, at: Point, points: f64) -> BezPath {
    let path = lettering::outlines(words, Face::Bold, points);
    let bounds = path.bounding_box();
    Affine::translate(at - bounds.center()) * path
}

/// Type size of the numbers of pieces, points.
pub(super) const NUMBERS: f64 = NUMBER;

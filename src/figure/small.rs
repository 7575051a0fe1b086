//! One piece drawn small: surface, cut line, seam line, fold, marks, notches. Line widths are those of
//! figures and do not shrink with the piece. Millimetres on paper.

use super::tint::{self, Tint};
use crate::design::LineKind;
use crate::piece::{MarkKind, Notch, Piece};
use crate::plates::ink::{PLACING, STITCHING, Stroke, THIN, path_of};
use crate::plates::lettering::{self, Face};
use crate::plates::svg::Svg;
use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape, Vec2};

/// Outer edge of a piece.
pub const OUTER: Stroke = Stroke {
    width: 0.4,
    dash: None,
    round: false,
};
/// Seam line.
const SEAM: Stroke = Stroke {
    width: 0.2,
    dash: Some([1.1, 0.75]),
    round: false,
};
/// Fold.
const FOLD: Stroke = Stroke {
    width: 0.3,
    dash: Some([3.4, 1.0]),
    round: false,
};
const BARE: Stroke = Stroke {
    width: 0.9,
    dash: None,
    round: false,
};
/// Seams are left out where the allowance would be narrower than this on paper.
const LEAST_ALLOWANCE: f64 = 0.7;
/// Depth and half base of a notch's triangle.
const NOTCH: (f64, f64) = (1.2, 0.65);
/// Least radius of a circle that stands for a button or a hole.
const LEAST_RADIUS: f64 = 0.6;
/// Type size of piece numbers, points.
pub const NUMBER: f64 = 9.0;

/// How pieces are drawn small.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Manner {
    /// Which side is seen.
    pub tint: Tint,
    /// Whether the seam line is drawn where there is room for it.
    pub seam_lines: bool,
    /// Whether notches are drawn.
    pub notches: bool,
}

/// Room of a piece at `scale`, with its line.
pub fn size(piece: &Piece, scale: f64) -> Vec2 {
    let bounds = piece.cut_line.bounding_box();
    Vec2::new(bounds.width(), bounds.height()) * scale + Vec2::splat(OUTER.width * 2.0)
}

/// From the piece's axes to paper, its room's upper left at `at`.
pub fn placed(piece: &Piece, scale: f64, at: Point) -> Affine {
    let bounds = piece.cut_line.bounding_box();
    Affine::translate(at.to_vec2() + Vec2::splat(OUTER.width))
        * Affine::scale(scale)
        * Affine::translate(-bounds.origin().to_vec2())
}

/// Draws `piece`; `id` must be unique in the drawing.
pub fn draw(svg: &mut Svg, piece: &Piece, onto: Affine, manner: Manner, id: &str) {
    let cut = onto * &piece.cut_line;
    tint::paint(svg, &cut, manner.tint, id);
    svg.stroke(None, &cut, OUTER);
    let scale = onto.determinant().abs().sqrt();
    let widest = piece.allowances.iter().copied().fold(0.0, f64::max);
    if manner.seam_lines && widest * scale >= LEAST_ALLOWANCE {
        svg.stroke(None, &(onto * piece.outline.path()), SEAM);
    }
    if let Some(edge) = piece.fold.as_deref().and_then(|f| piece.outline.edge(f)) {
        let line = path_of(&[onto * edge.start(), onto * edge.end()]);
        svg.white(&line, BARE);
        svg.stroke(None, &line, FOLD);
    }
    if manner.seam_lines {
        for mark in &piece.marks {
            draw_mark(svg, &mark.kind, onto, scale);
        }
    }
    if manner.notches {
        for notch in &piece.notches {
            svg.fill(&triangle(notch, onto, scale));
        }
    }
}

/// A mark inside a piece, in the line style it has on plates; circles never smaller than can be
/// seen.
fn draw_mark(svg: &mut Svg, kind: &MarkKind, onto: Affine, scale: f64) {
    let mut circle = |at: Point, diameter: f64| {
        let radius = (diameter * scale / 2.0).max(LEAST_RADIUS);
        svg.stroke(None, &Circle::new(onto * at, radius).to_path(1e-3), THIN);
    };
    match kind {
        MarkKind::Hole { at, diameter }
        | MarkKind::Eyelet { at, diameter }
        | MarkKind::Button { at, diameter } => circle(*at, *diameter),
        MarkKind::Buttonhole { from, to } => {
            svg.stroke(None, &path_of(&[onto * *from, onto * *to]), OUTER);
        }
        MarkKind::Line { kind, path } => {
            let style = match kind {
                LineKind::Placement => PLACING,
                LineKind::Stitching => STITCHING,
                LineKind::Fold => FOLD,
            };
            svg.stroke(None, &(onto * path), style);
        }
    }
}

fn triangle(notch: &Notch, onto: Affine, scale: f64) -> BezPath {
    let base = onto * (notch.point + notch.outward * notch.allowance);
    let outward = notch.outward;
    let along = Vec2::new(-outward.y, outward.x) * NOTCH.1;
    let depth = NOTCH.0.min((0.8 * notch.allowance * scale).max(0.5));
    let mut path = path_of(&[base - along, base + along, base - outward * depth]);
    path.close_path();
    path
}

/// The outlines of words under a piece, their middle at `at`; they stand on one line whatever their letters.
pub fn caption(words: &str, at: Point) -> BezPath {
    let path = lettering::outlines(words, Face::Bold, NUMBER);
    let bounds: Rect = path.bounding_box();
    let figures = lettering::outlines("1", Face::Bold, NUMBER).bounding_box();
    let middle = Point::new(bounds.center().x, figures.center().y);
    Affine::translate(at - middle) * path
}

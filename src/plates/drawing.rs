//! One piece as it is drawn on a plate: its lines at true scale, in mm, in the axes of its own
//! drawing (origin at the upper left of all its ink). Line widths and dashes are the house style's.
//! It draws lines only; words are set by the plate.

use super::field::flat;
use super::mark;
use super::notch;
use super::svg::Svg;
use super::words;
use crate::piece::Piece;
use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect, Shape, Vec2};

/// A way of drawing a line: width in mm, dash and gap in mm, round ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width.
    pub width: f64,
    /// Dash and gap; none is solid.
    pub dash: Option<[f64; 2]>,
    /// Round ends (for dots).
    pub round: bool,
}

const fn stroke(width: f64, dash: Option<[f64; 2]>) -> Stroke {
    Stroke {
        width,
        dash,
        round: false,
    }
}

/// Cut line.
pub const CUT: Stroke = stroke(0.5, None);
/// Cut line of a piece less than 8 mm across.
pub const CUT_FINE: Stroke = stroke(0.35, None);
/// Seam line.
pub const SEAM: Stroke = stroke(0.25, Some([2.4, 1.2]));
/// Seam line where the allowance is under 4 mm.
pub const SEAM_FINE: Stroke = stroke(0.25, Some([1.5, 0.8]));
/// Fold.
pub const FOLD: Stroke = stroke(0.3, Some([7.0, 1.6]));
/// Where something is placed.
pub const PLACING: Stroke = stroke(0.25, Some([0.9, 0.9]));
/// Stitching that shows: round dots.
pub const STITCHING: Stroke = Stroke {
    width: 0.3,
    dash: Some([0.01, 1.1]),
    round: true,
};
/// Grain line, ticks, marks.
pub const THIN: Stroke = stroke(0.25, None);
/// White under a fold that runs along the cut line.
const BARE: Stroke = stroke(0.9, None);

/// Flattening tolerance for clearances, mm: well under the 2 mm that labels keep from lines.
const FLAT: f64 = 0.05;

/// Pieces less than this across get ticks for notches and no grain line, mm.
const SMALL: f64 = 12.0;
/// Pieces less than this across get a fine cut line, mm.
const TINY: f64 = 8.0;

/// What is drawn of a piece, in the piece's own axes or in a drawing's.
#[derive(Debug, Clone, Default)]
pub struct Ink {
    /// Stroked paths, in drawing order after cut and seam line.
    pub strokes: Vec<(BezPath, Stroke)>,
    /// Filled shapes.
    pub fills: Vec<BezPath>,
}

/// A drawn piece.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Width of the drawing, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// From the piece's axes to the drawing's.
    pub placed: Affine,
    /// Cut line, one closed subpath.
    pub cut: BezPath,
    /// Seam line where it differs from the cut line: one closed subpath from a corner on.
    pub seam: Option<BezPath>,
    /// Edge on the fold.
    pub fold: Option<Line>,
    /// The grain line as drawn.
    pub grain: Option<Line>,
    /// Less than 12 mm in one direction: the label always stands beside.
    pub small: bool,
    /// In words, for those who do not see it.
    pub alt: String,
    /// Cut line, flattened, closed.
    pub ring: Vec<Point>,
    /// Cut and seam line as straight lines.
    pub edges: Vec<Line>,
    /// Everything else as straight lines.
    pub inner: Vec<Line>,
    cut_stroke: Stroke,
    seam_stroke: Stroke,
    under: Vec<(BezPath, Stroke)>,
    ink: Ink,
}

impl Drawing {
    /// Draws `piece` of the size called `size_title`, turned clockwise by `quarters` quarter turns.
    pub fn of(piece: &Piece, size_title: &str, quarters: u8) -> Self {
        let box_ = piece.cut_line.bounding_box();
        let across = box_.width().min(box_.height());
        let small = across < SMALL;
        let cut_stroke = if across < TINY { CUT_FINE } else { CUT };
        let finest = piece
            .allowances
            .iter()
            .copied()
            .filter(|a| *a > 0.01)
            .fold(9.0, f64::min);
        let seam_stroke = if finest < 4.0 { SEAM_FINE } else { SEAM };
        let mut ink = notch::ink(piece, small);
        ink.append(mark::ink(&piece.marks));
        let grain = piece.grain.filter(|_| !small).map(|[a, b]| Line::new(a, b));
        if let Some(line) = grain {
            ink.append(grain_ink(line));
        }
        let fold = fold_line(piece);
        let mut under = Vec::new();
        if let Some(line) = fold {
            under.push((bare(line), BARE));
            ink.append(fold_ink(line));
        }
        let seam = seam_line(piece);
        let turn = quarter_turn(quarters);
        let bounds = turn.transform_rect_bbox(ink_bounds(piece, cut_stroke, &ink));
        let placed = Affine::translate(-bounds.origin().to_vec2()) * turn;
        let mut drawing = Self {
            // rounded up to whole micrometres, so that width, height and view box agree to the digit
            width: (bounds.width() * 1e3).ceil() / 1e3,
            height: (bounds.height() * 1e3).ceil() / 1e3,
            placed,
            cut: placed * &piece.cut_line,
            seam: seam.map(|s| placed * s),
            fold: fold.map(|l| placed * l),
            grain: grain.map(|l| placed * l),
            small,
            alt: alt(piece, size_title, grain.is_some()),
            ring: Vec::new(),
            edges: Vec::new(),
            inner: Vec::new(),
            cut_stroke,
            seam_stroke,
            under: under.into_iter().map(|(p, s)| (placed * p, s)).collect(),
            ink: ink.transformed(placed),
        };
        drawing.flatten();
        drawing
    }

    fn flatten(&mut self) {
        let cut = flat(&self.cut, FLAT);
        self.ring = cut.iter().map(|l| l.p0).collect();
        self.edges = cut;
        if let Some(seam) = &self.seam {
            self.edges.extend(flat(seam, FLAT));
        }
        self.inner = self.ink.lines();
    }

    /// All lines of the drawing, as straight lines.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.edges.iter().chain(&self.inner)
    }

    /// The whole drawing.
    pub fn bounds(&self) -> Rect {
        Rect::new(0.0, 0.0, self.width, self.height)
    }

    /// The drawing as SVG, one unit a millimetre, coordinates to a millionth.
    pub fn svg(&self) -> Vec<u8> {
        let mut svg = Svg::new(self.width, self.height);
        svg.stroke(Some("cut"), &self.cut, self.cut_stroke);
        if let Some(seam) = &self.seam {
            svg.stroke(Some("seam"), seam, self.seam_stroke);
        }
        for (path, stroke) in &self.under {
            svg.white(path, *stroke);
        }
        for (path, stroke) in &self.ink.strokes {
            svg.stroke(None, path, *stroke);
        }
        for fill in &self.ink.fills {
            svg.fill(fill);
        }
        svg.finish()
    }
}

impl Ink {
    /// Adds another's.
    pub fn append(&mut self, mut other: Self) {
        self.strokes.append(&mut other.strokes);
        self.fills.append(&mut other.fills);
    }

    fn transformed(self, by: Affine) -> Self {
        Self {
            strokes: self.strokes.into_iter().map(|(p, s)| (by * p, s)).collect(),
            fills: self.fills.into_iter().map(|p| by * p).collect(),
        }
    }

    fn paths(&self) -> impl Iterator<Item = (&BezPath, f64)> {
        let strokes = self.strokes.iter().map(|(p, s)| (p, s.width / 2.0));
        strokes.chain(self.fills.iter().map(|p| (p, 0.0)))
    }

    fn lines(&self) -> Vec<Line> {
        self.paths().flat_map(|(p, _)| flat(p, FLAT)).collect()
    }
}

/// A turn by whole quarters, exact.
pub fn quarter_turn(quarters: u8) -> Affine {
    match quarters % 4 {
        0 => Affine::IDENTITY,
        1 => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        2 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
        _ => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
    }
}

fn ink_bounds(piece: &Piece, cut: Stroke, ink: &Ink) -> Rect {
    // a mitred corner of the stroke reaches further than half its width; twice the width covers
    // corners down to 29 degrees, at which SVG cuts the mitre off
    let cut_box = piece.cut_line.bounding_box().inflate(cut.width, cut.width);
    ink.paths().fold(cut_box, |all, (path, half)| {
        all.union(path.bounding_box().inflate(half, half))
    })
}

/// The seam line from its sharpest corner on, so that its dashes start there; `None` where it is
/// the cut line itself.
fn seam_line(piece: &Piece) -> Option<BezPath> {
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
fn fold_line(piece: &Piece) -> Option<Line> {
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

fn bare(line: Line) -> BezPath {
    let along = line.p1 - line.p0;
    let spare = along * (0.25 / along.hypot().max(1.0));
    path_of(&[line.p0 + spare, line.p1 - spare])
}

/// The fold's dashes, with a hook of 2.2 mm into the piece at both ends.
fn fold_ink(line: Line) -> Ink {
    let along = (line.p1 - line.p0).normalize();
    // rings run clockwise on the page: the piece lies to the right of its edge
    let inward = Vec2::new(-along.y, along.x) * 2.2;
    Ink {
        strokes: vec![
            (path_of(&[line.p0, line.p1]), FOLD),
            (path_of(&[line.p0, line.p0 + inward]), stroke(0.3, None)),
            (path_of(&[line.p1, line.p1 + inward]), stroke(0.3, None)),
        ],
        fills: Vec::new(),
    }
}

fn grain_ink(line: Line) -> Ink {
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

/// An open path through points.
pub fn path_of(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path
}

/// `Toe piece, size Large: cut line, seam line, 3 notches. 86 by 60 mm.`
fn alt(piece: &Piece, size_title: &str, grain: bool) -> String {
    let mut parts = vec!["cut line".to_string()];
    if piece.allowances.iter().any(|a| *a >= 1e-6) {
        parts.push("seam line".to_string());
    }
    if piece.fold.is_some() {
        parts.push("fold".to_string());
    }
    if grain {
        parts.push("grain line".to_string());
    }
    if !piece.notches.is_empty() {
        parts.push(words::counted(piece.notches.len(), "notch", "notches"));
    }
    parts.extend(mark::counted(&piece.marks));
    let bounds = piece.cut_line.bounding_box();
    let (width, height) = (bounds.width(), bounds.height());
    let size = if size_title.is_empty() {
        String::new()
    } else {
        format!(", {}", words::size_inside(size_title))
    };
    format!(
        "{}{size}: {}. {width:.0} by {height:.0} mm.",
        piece.title,
        parts.join(", ")
    )
}

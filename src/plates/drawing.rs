//! One piece as it is drawn on a plate: its lines at true scale, in mm, in the axes of its own
//! drawing (origin at the upper left of all its ink). Line widths and dashes are the house style's.
//! It draws lines only; words are set by the plate.

use super::field::flat;
use super::ink::{FLAT, Ink};
use super::mark;
use super::nested::Nest;
use super::piece_ink::{fold_line, grain_ink};
use super::size_lines::{DrawnPart, SizeLines};
use super::svg::Svg;
use crate::geometry::ring::contains;
use crate::language::Places;
use kurbo::{Affine, BezPath, Line, Point, Rect, Shape, Vec2};

/// Pieces less than this across get ticks for notches and no grain line, mm.
const SMALL: f64 = 12.0;

/// A drawn piece, in one size or in several over each other.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Width of the drawing, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// From the axes of the common point, or of the piece that stands alone, to the drawing's.
    pub placed: Affine,
    /// The lines of each size.
    pub sizes: Vec<SizeLines>,
    /// What all sizes have in common, with its words.
    pub shared: Ink,
    shared_told: Vec<String>,
    /// Which marks are drawn once for all sizes, by their index.
    pub shared_marks: Vec<bool>,
    /// Edge on the fold, of the smallest size.
    pub fold: Option<Line>,
    /// Less than 12 mm in one direction: the label always stands beside.
    pub small: bool,
    /// In words, for those who do not see it.
    pub alt: String,
    /// The same of what is drawn once for all sizes.
    alt_shared: String,
    /// Cut and seam lines as straight lines.
    pub edges: Vec<Line>,
    /// Everything else as straight lines.
    pub inner: Vec<Line>,
}

impl Drawing {
    /// Draws the sizes of a piece on their common point, turned clockwise by `quarters` quarter
    /// turns.
    pub fn of(nest: &Nest<'_>, quarters: u8) -> Self {
        let nested = nest.is_nested();
        let shared_marks = nest.shared_marks();
        let mut sizes = nest.lines(&shared_marks);
        let small = nest.across() < SMALL;
        let smallest = nest.smallest();
        let (piece, by) = (smallest.piece, nest.onto_common(smallest));
        let mut shared = Ink::default();
        let mut shared_told = Vec::new();
        let grain = piece.grain.filter(|_| !small).map(|[a, b]| Line::new(a, b));
        if let Some(line) = grain {
            shared.append(grain_ink(line + by));
            shared_told.push(nest.words.get("plates.grain line").to_string());
        }
        if nested {
            let marks = piece.marks.iter().zip(&shared_marks);
            let marks: Vec<_> = marks.filter(|m| *m.1).map(|m| m.0.clone()).collect();
            shared.append(mark::ink(&marks, &[&piece.cut_line]).transformed(Affine::translate(by)));
            shared_told.extend(mark::counted(&marks, &nest.words));
        } else if let Some(only) = sizes.first_mut() {
            // drawn with the piece itself
            only.ink.append(std::mem::take(&mut shared));
            only.told[1].append(&mut shared_told);
        }
        let turn = quarter_turn(quarters);
        let ink = sizes.iter().map(SizeLines::bounds).chain(shared.bounds());
        let ink = ink.reduce(|all, r| all.union(r)).unwrap_or_default();
        let bounds = turn.transform_rect_bbox(ink);
        let placed = Affine::translate(-bounds.origin().to_vec2()) * turn;
        let fold = fold_line(piece).map(|l| l + by);
        let mut drawing = Self {
            // rounded up to whole micrometres, so that width, height and view box agree to the digit
            width: (bounds.width() * 1e3).ceil() / 1e3,
            height: (bounds.height() * 1e3).ceil() / 1e3,
            placed,
            sizes: sizes.into_iter().map(|s| s.transformed(placed)).collect(),
            shared: shared.transformed(placed),
            shared_told,
            shared_marks,
            fold: fold.map(|l| placed * l),
            small,
            alt: String::new(),
            alt_shared: String::new(),
            edges: Vec::new(),
            inner: Vec::new(),
        };
        drawing.flatten();
        drawing.alt = drawing.told(nest);
        let parts = drawing.shared_told.join(", ");
        let places: Places<'_> = &[("piece", &drawing.alt), ("parts", &parts)];
        drawing.alt_shared = nest.words.say("plates.drawn for all", places);
        drawing
    }

    fn flatten(&mut self) {
        for size in &mut self.sizes {
            let cut = flat(&size.cut, FLAT);
            size.ring = cut.iter().map(|l| l.p0).collect();
            self.edges.extend(cut);
            if let Some(seam) = &size.seam {
                let seam = flat(seam, FLAT);
                size.seam_ring = seam.iter().map(|l| l.p0).collect();
                self.edges.extend(seam);
            }
            self.inner.extend(size.notches.lines());
            self.inner.extend(size.ink.lines());
        }
        self.inner.extend(self.shared.lines());
    }

    /// All of it in words: `Toe piece, size Large: cut line, 3 notches, seam line. 86 by 60 mm.`
    fn told(&self, nest: &Nest<'_>) -> String {
        let one = |s: &SizeLines| s.said(&s.told.concat());
        match self.sizes.as_slice() {
            [only] => one(only),
            _ => {
                let places: Places<'_> =
                    &[("piece", &nest.piece().title), ("sizes", &nest.words())];
                nest.words.say("plates.drawn over", places)
            }
        }
    }

    /// Whether `point` lies within every size.
    pub fn is_inside(&self, point: Point) -> bool {
        let mut rings = self.sizes.iter();
        rings.all(|s| contains(&s.ring, point))
    }

    /// Whether `point` lies within the seam lines of every size, on what the finished thing shows.
    pub fn is_within_seams(&self, point: Point) -> bool {
        let within = |s: &SizeLines| s.seam_ring.is_empty() || contains(&s.seam_ring, point);
        self.is_inside(point) && self.sizes.iter().all(within)
    }

    /// The cut line of the largest size.
    pub fn cut(&self) -> BezPath {
        let area = |s: &SizeLines| s.cut.bounding_box().area();
        let all = self.sizes.iter().rev();
        let largest = all.max_by(|a, b| area(a).total_cmp(&area(b)));
        largest.map(|s| s.cut.clone()).unwrap_or_default()
    }

    /// The cut line of each size, moved, as straight lines.
    pub fn rings(&self, by: Vec2) -> Vec<Vec<Point>> {
        let moved = |size: &SizeLines| size.ring.iter().map(|point| *point + by).collect();
        self.sizes.iter().map(moved).collect()
    }

    /// Box of the cut lines of all sizes.
    pub fn cut_box(&self) -> Rect {
        let boxes = self.sizes.iter().map(|s| s.cut.bounding_box());
        boxes.reduce(|all, one| all.union(one)).unwrap_or_default()
    }

    /// Cut line of the smallest size, flattened, closed.
    pub fn core(&self) -> &[Point] {
        let area = |s: &SizeLines| s.cut.bounding_box().area();
        let smallest = self.sizes.iter().min_by(|a, b| area(a).total_cmp(&area(b)));
        smallest.map_or(&[], |s| &s.ring)
    }

    /// All lines of the drawing, as straight lines.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.edges.iter().chain(&self.inner)
    }

    /// The whole drawing.
    pub fn bounds(&self) -> Rect {
        Rect::new(0.0, 0.0, self.width, self.height)
    }

    /// The drawing's parts in drawing order, each of the same size, one unit a millimetre,
    /// coordinates to a millionth.
    pub fn parts(&self) -> Vec<DrawnPart> {
        let nested = self.sizes.len() > 1;
        let of = |s: &SizeLines| s.parts(self.width, self.height, nested);
        let mut parts: Vec<DrawnPart> = self.sizes.iter().flat_map(of).collect();
        if !self.shared.is_empty() {
            let mut svg = Svg::new(self.width, self.height);
            self.shared.draw(&mut svg);
            parts.push(DrawnPart {
                size: None,
                allowance: false,
                suffix: "-all".to_string(),
                alt: self.alt_shared.clone(),
                svg: svg.finish(),
            });
        }
        parts
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

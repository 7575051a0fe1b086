//! What is worked on the plies of a group: rows of stitches, threads on which an edge is drawn up, strips
//! that are laid on. Millimetres in the group's axes; what keeps its size on paper says so.

use super::arrow::straight;
use super::board::{Board, round};
use super::ply::{EDGE_BELOW, Ply};
use super::row_ends::to_cut_edge;
use super::stitch::{self, Look};
use crate::design::Stitch;
use crate::geometry::probe::is_inside;
use crate::geometry::{Edge, Outline, curve};
use crate::plates::ink::{Stroke, stroke};
use kurbo::{Affine, BezPath, Point, Vec2};
use std::cell::RefCell;
use std::rc::Rc;

/// A row is drawn no nearer to an edge than this, mm on paper: half the edge, half the row, and white.
const LEAST_CLEAR: f64 = 1.0;

/// In a strip narrower than this on paper a row would fill it, and is left to a larger drawing.
const LEAST_STRIP: f64 = 1.6;

/// Where a row enters what is sewn round is found to this, mm.
const STEP: f64 = 0.1;

/// A line of stitches, in the group's axes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) path: BezPath,
    pub(super) look: Look,
    /// The edge inside which it runs.
    inside: Option<Box<Inside>>,
    /// Depth of the strip in which it lies.
    strip: Option<f64>,
}

/// The outline of a piece moved inwards: rows along several of its edges ask for the same again and again, so
/// that each distance is computed once.
#[derive(Debug, Clone, Default)]
pub(super) struct Insets(Rc<RefCell<Vec<Inset>>>);

/// A distance, mm, and the outline so far inside, if there is one.
type Inset = (f64, Option<Rc<Outline>>);

impl Insets {
    /// The outline `by` mm inside that of the piece for which this is kept.
    pub(super) fn inside(&self, outline: &Outline, by: f64) -> Option<Rc<Outline>> {
        let mut known = self.0.borrow_mut();
        if let Some((_, found)) = known.iter().find(|(at, _)| *at == by) {
            return found.clone();
        }
        let made = outline.inset(by).ok().map(Rc::new);
        known.push((by, made.clone()));
        made
    }
}

impl PartialEq for Insets {
    /// What was computed already tells no two rows apart.
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// The edge of a row, in the axes of its ply.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Inside {
    /// The part of the piece on which it runs.
    part: Ply,
    insets: Insets,
    edge: String,
    /// From the edge's seam line to the row, and from the edge of the cloth.
    by: f64,
    clear: f64,
    /// At which ends it goes on to the edge of the cloth.
    led_on: [bool; 2],
    /// What it leaves out.
    without: Vec<BezPath>,
}

impl Row {
    pub(super) fn new(path: BezPath, look: Look) -> Self {
        Self {
            path,
            look,
            inside: None,
            strip: None,
        }
    }

    /// A row in a strip `depth` mm deep.
    pub(super) fn in_strip(path: BezPath, look: Look, depth: f64) -> Self {
        Self {
            strip: Some(depth),
            ..Self::new(path, look)
        }
    }

    /// Its course at a scale, in the group's axes: as far from the edge as it takes to be seen beside it.
    /// `None` if it finds no room and is `seen_larger` elsewhere.
    pub(super) fn at(&self, scale: f64, seen_larger: bool) -> Option<BezPath> {
        if seen_larger && self.strip.is_some_and(|depth| depth * scale < LEAST_STRIP) {
            return None;
        }
        let moved = self
            .inside
            .as_ref()
            .and_then(|inside| inside.clear_at(scale));
        Some(moved.unwrap_or_else(|| self.path.clone()))
    }
}

impl Inside {
    /// `by` mm inside the edge; `insets` are those of the piece.
    pub(super) fn new(
        (ply, insets): (&Ply, &Insets),
        edge: &Edge,
        by: f64,
        without: &[BezPath],
    ) -> Self {
        let outline = &ply.piece.outline;
        let index = outline.edges().iter().position(|e| e.name == edge.name);
        let allowance = index.and_then(|i| ply.piece.allowances.get(i).copied());
        // turned in, the seam line is the edge of the cloth
        let turned = edge_is_bare(ply, edge);
        Self {
            part: ply.clone(),
            insets: insets.clone(),
            edge: edge.name.clone(),
            by,
            clear: by + allowance.filter(|_| !turned).unwrap_or(0.0),
            led_on: [false; 2],
            without: without.to_vec(),
        }
    }

    /// The same, going on to the edge of the cloth at some ends.
    pub(super) fn led_on(self, led_on: [bool; 2]) -> Self {
        Self { led_on, ..self }
    }

    /// The row along `line`, its course at true scale, in the axes of the ply.
    pub(super) fn row(self, line: BezPath, look: Look) -> Row {
        let path = self.seen(line);
        Row {
            inside: Some(Box::new(self)),
            ..Row::new(path, look)
        }
    }

    /// What is seen of it, in the axes of the group.
    fn seen(&self, line: BezPath) -> BezPath {
        let line = to_cut_edge(self.part.own(line), &self.part.surface, self.led_on);
        self.part.onto * leaving(line, &self.without)
    }

    /// The row moved inwards; `None` if it is clear of the edge or can be moved nowhere.
    fn clear_at(&self, scale: f64) -> Option<BezPath> {
        let short = LEAST_CLEAR / scale - self.clear;
        if short <= 0.0 {
            return None;
        }
        let outline = &self.part.piece.outline;
        let inset = self.insets.inside(outline, self.by + short)?;
        Some(self.seen(inset.edge(&self.edge)?.curve.clone()))
    }
}

/// A row `by` mm inside an edge; `None` where it has no room.
#[cfg(test)]
pub(super) fn inside_edge(ply: &Ply, edge: &Edge, by: f64, look: Look) -> Option<Row> {
    let line = ply.piece.outline.inset(by).ok()?;
    let line = line.edge(&edge.name)?.curve.clone();
    let insets = Insets::default();
    Some(Inside::new((ply, &insets), edge, by, &[]).row(line, look))
}

/// Whether the cloth that is seen ends at the seam line of an edge.
fn edge_is_bare(ply: &Ply, edge: &Edge) -> bool {
    let own = ply.own(edge.curve.clone());
    let middle = curve::length(&own, 1e-4) / 2.0;
    let Some(station) = curve::station(&own, middle, 1e-4) else {
        return false;
    };
    let outward = Vec2::new(station.tangent.y, -station.tangent.x);
    !is_inside(&ply.surface, station.point + outward * STEP)
}

/// A row without what lies within closed paths.
pub(super) fn leaving(row: BezPath, without: &[BezPath]) -> BezPath {
    if without.is_empty() {
        return row;
    }
    let length = curve::length(&row, 1e-4);
    let count = (length / STEP).ceil().clamp(1.0, 1e5) as usize;
    let place = |i: usize| length * i as f64 / count as f64;
    let bare = |i: usize| {
        let station = curve::station(&row, place(i), 1e-4);
        station.is_some_and(|s| without.iter().any(|path| is_inside(path, s.point)))
    };
    let mut kept = BezPath::new();
    let mut from = None;
    for i in 0..=count + 1 {
        match (i > count || bare(i), from) {
            (false, None) => from = Some(i),
            (true, Some(first)) => {
                kept.extend(curve::part(&row, place(first), place(i - 1), 1e-4));
                from = None;
            }
            _ => {}
        }
    }
    kept
}

/// One thread, in the group's axes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Thread {
    /// From end to end, as if there were no notches.
    pub(super) line: BezPath,
    /// How far each end keeps from there, on paper.
    pub(super) short: [f64; 2],
    /// How it hangs out at each end.
    pub(super) tails: [Vec2; 2],
}

impl Thread {
    /// Its stitches on paper, and the straight ends that hang out.
    pub(super) fn on_paper(&self, paper: Affine) -> (BezPath, Vec<BezPath>) {
        let line = paper * &self.line;
        let length = curve::length(&line, 1e-3);
        let [start, end] = self.short.map(|short| short.min(0.4 * length));
        let stitches = curve::part(&line, start, length - end, 1e-3);
        let ends = [start, length - end].into_iter().zip(self.tails);
        let tails = ends.filter_map(|(at, way)| {
            let from = curve::station(&line, at, 1e-3)?.point;
            let way = paper * way.to_point() - paper * Point::ZERO;
            Some(straight(from, from + way))
        });
        let tails = tails.collect();
        (stitches, tails)
    }

    pub(super) fn draw(&self, board: &mut Board, paper: Affine) {
        let (stitches, tails) = self.on_paper(paper);
        for tail in tails {
            board.line(tail, round(0.35));
        }
        stitch::draw(board, &stitches, Look::Seam(Stitch::Running));
    }
}

/// The edges of elastic that cloth hides.
pub(super) const HIDDEN_ELASTIC: Stroke = stroke(0.3, Some([0.9, 0.7]));

/// A strip in the axes of its group.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LaidStrip {
    /// What it takes up: closed.
    pub(super) surface: BezPath,
    /// Its edge as it is drawn: open at the far end where it goes on.
    pub(super) edge: BezPath,
    /// Whether cloth hides it.
    pub(super) hidden: bool,
}

impl LaidStrip {
    pub(super) fn draw(&self, board: &mut Board, paper: Affine) {
        let edge = paper * &self.edge;
        if self.hidden {
            board.line(edge, HIDDEN_ELASTIC);
        } else {
            board.white(paper * &self.surface);
            board.line(edge, EDGE_BELOW);
        }
    }
}

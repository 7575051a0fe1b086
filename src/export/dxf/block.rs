//! One piece as a block: its lines on the layers of ASTM D6673, and the texts that say what it is.
//! Millimetres, in the piece's own axes. A piece kept as a half stays one, with the line on which it is
//! mirrored.

use super::super::form::Form;
use super::super::lines::{fold_line, seam_lines};
use super::flat::{Row, rows};
use super::tags::Tags;
use crate::design::{Design, LineKind};
use crate::piece::{MarkKind, Notch};
use crate::plates::{notch, words};
use kurbo::{BezPath, Rect, Shape};

/// Layers of ASTM D6673-10, section on layers.
pub(super) mod layer {
    /// The boundary of a piece, and system text.
    pub const BOUNDARY: u32 = 1;
    /// Points at which a line turns.
    pub const TURN: u32 = 2;
    /// Points of curves.
    pub const CURVE: u32 = 3;
    /// Notches.
    pub const NOTCH: u32 = 4;
    /// The line on which a half is mirrored.
    pub const MIRROR: u32 = 6;
    /// The grain line.
    pub const GRAIN: u32 = 7;
    /// Lines inside that are not cut.
    pub const INTERNAL: u32 = 8;
    /// What is cut out inside.
    pub const CUT_OUT: u32 = 11;
    /// Drill holes.
    pub const DRILL: u32 = 13;
    /// Lines that are sewn.
    pub const SEW: u32 = 14;
    /// Notes.
    pub const NOTE: u32 = 15;
    /// All that are used.
    pub const ALL: [u32; 11] = [
        BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, CUT_OUT, DRILL, SEW, NOTE,
    ];
}

/// Height of letters, mm, and from one line to the next.
pub(super) const LETTERS: f64 = 2.5;
pub(super) const LEADING: f64 = 4.0;

/// Height of the letters on the smallest pieces, mm.
const LEAST_LETTERS: f64 = 0.8;

/// A piece in one form and one size.
pub(super) struct PieceBlock<'a> {
    /// Name of the block.
    pub name: String,
    /// The piece.
    pub form: Form<'a>,
    /// Key of the size.
    pub size: &'a str,
    /// Title of the size.
    pub size_title: &'a str,
}

impl PieceBlock<'_> {
    /// The line that is cut.
    pub fn boundary(&self) -> BezPath {
        match self.form.without_allowance {
            true => self.form.piece.outline.path(),
            false => self.form.piece.cut_line.clone(),
        }
    }

    /// Box of the boundary.
    pub fn bounds(&self) -> Rect {
        self.boundary().bounding_box()
    }

    /// Writes the block.
    pub fn write(&self, design: &Design, tags: &mut Tags) {
        tags.block(layer::BOUNDARY, &self.name, |tags| {
            for row in rows(&self.boundary()) {
                with_points(&row, layer::BOUNDARY, tags);
            }
            self.inner_lines(tags);
            self.notches(tags);
            self.texts(design, tags);
        });
    }

    fn inner_lines(&self, tags: &mut Tags) {
        let piece = self.form.piece;
        if let Some(fold) = fold_line(piece) {
            tags.line(layer::MIRROR, fold);
        }
        if let Some(grain) = piece.grain {
            tags.line(layer::GRAIN, grain);
        }
        if !self.form.without_allowance {
            for line in seam_lines(piece) {
                plain(&line, layer::SEW, tags);
            }
        }
        for mark in &piece.marks {
            match &mark.kind {
                MarkKind::Hole { at, diameter } => {
                    tags.spot(layer::DRILL, *at);
                    tags.circle(layer::CUT_OUT, *at, *diameter);
                }
                MarkKind::Eyelet { at, diameter } => tags.circle(layer::CUT_OUT, *at, *diameter),
                MarkKind::Button { at, diameter } => tags.circle(layer::INTERNAL, *at, *diameter),
                MarkKind::Buttonhole { from, to } => tags.line(layer::INTERNAL, [*from, *to]),
                MarkKind::Line { kind, path } => {
                    let layer = match kind {
                        LineKind::Stitching => layer::SEW,
                        LineKind::Placement | LineKind::Fold => layer::INTERNAL,
                    };
                    plain(path, layer, tags);
                }
            }
        }
    }

    /// Where notches stand on the boundary.
    fn notches(&self, tags: &mut Tags) {
        let boundary = self.boundary();
        for own in &self.form.piece.notches {
            let bare = Notch {
                allowance: 0.0,
                ..own.clone()
            };
            let notch = if self.form.without_allowance {
                &bare
            } else {
                own
            };
            for middle in notch::middles(notch, &boundary) {
                tags.spot(layer::NOTCH, middle);
            }
        }
    }

    /// What the piece is, below each other in its middle, in letters that suit its width: for programs, then for
    /// people.
    fn texts(&self, design: &Design, tags: &mut Tags) {
        let piece = self.form.piece;
        let mut system = vec![
            format!("Piece Name: {}", piece.title),
            format!("Size: {}", self.size),
        ];
        let mut notes = vec![design.words.size(self.size_title)];
        let cloth = |key: &str| {
            let known = design.cloth.iter().find(|cloth| cloth.key == key);
            known.map_or_else(|| key.to_string(), |cloth| cloth.name.clone())
        };
        for cut in &self.form.cuts {
            system.push(format!("Quantity: {}", cut.count));
            system.push(format!("Material: {}", cloth(&cut.material)));
            let on_fold = piece.fold.is_some();
            notes.push(words::cut(
                cut,
                &cloth(&cut.material),
                on_fold,
                &design.words,
            ));
        }
        notes.extend(piece.note.clone());
        let longest = system.iter().chain(&notes).map(|line| line.chars().count());
        let bounds = self.bounds();
        let letters = bounds.width() / longest.max().unwrap_or(1) as f64;
        let letters = letters.clamp(LEAST_LETTERS, LETTERS);
        let leading = letters * LEADING / LETTERS;
        let high = leading * (system.len() + notes.len()) as f64;
        let middle = bounds.center();
        let mut at = middle - (bounds.width() * 0.35, high / 2.0);
        let system = system.into_iter().map(|words| (layer::BOUNDARY, words));
        let notes = notes.into_iter().map(|words| (layer::NOTE, words));
        for (layer, words) in system.chain(notes) {
            tags.words(layer, at, letters, &words);
            at.y += leading;
        }
    }
}

/// A line with the points at which it turns and those of its curves.
fn with_points(row: &Row, layer: u32, tags: &mut Tags) {
    tags.polyline(layer, &row.points, row.closed);
    for (point, turns) in row.points.iter().zip(&row.turns) {
        let layer = if *turns { layer::TURN } else { layer::CURVE };
        tags.spot(layer, *point);
    }
}

fn plain(path: &BezPath, layer: u32, tags: &mut Tags) {
    for row in rows(path) {
        tags.polyline(layer, &row.points, row.closed);
    }
}

//! The lines of a piece in one size, in mm in the axes of its drawing, and the parts of the drawing
//! that stand on different layers of the finished PDF. Sizes drawn over each other are told apart by
//! dots between their dashes: none for the first, one for the second, and so on.

use super::ink::{CUT, CUT_FINE, Ink, SEAM, SEAM_FINE, Stroke};
use super::svg::Svg;
use crate::language::phrase;
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// Dash of a nested size's cut line, and of one on a piece less than 40 mm across, mm.
const DASH: f64 = 9.0;
const DASH_SHORT: f64 = 5.0;
/// Pieces less than this across get the short dash, mm.
const NARROW: f64 = 40.0;
/// From the end of a dash to the first dot, from dot to dot, and from the last dot to the next dash, mm.
const GAP: f64 = 1.25;
/// Dash and gap of a nested size's seam line, and where the allowance is under 4 mm.
const SEAM_DASH: [f64; 2] = [2.4, 0.9];
const SEAM_DASH_FINE: [f64; 2] = [1.5, 0.7];
/// What is drawn of a dot: a dash that is hardly any, with round ends.
const DOT: f64 = 0.01;

/// How a nested size's cut lines are dashed on one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dashes {
    /// Length of a dash, mm.
    pub dash: f64,
    /// Dots after each dash.
    pub dots: usize,
}

impl Dashes {
    /// Of size `index`, from 0, of a piece that is `across` mm across in its narrowest size.
    pub fn new(index: usize, across: f64) -> Self {
        let dash = if across < NARROW { DASH_SHORT } else { DASH };
        Self { dash, dots: index }
    }

    /// Lengths drawn and left out in turn, mm: the dash, then each dot, all followed by a gap.
    pub fn pattern(self) -> Vec<f64> {
        pattern([self.dash, GAP], self.dots)
    }

    /// Length of a sample that shows all dots between two half dashes, mm.
    pub fn sample(self) -> f64 {
        self.dash + GAP * (self.dots as f64 + 1.0)
    }
}

/// How the lines of one of several sizes drawn over each other are told apart.
#[derive(Debug, Clone, PartialEq)]
pub struct NestedLook {
    /// Titles of the size: of both feet, where each has its own.
    pub titles: Vec<String>,
    /// Dots between two dashes.
    pub dots: usize,
    /// Lengths of the cut line that are drawn and left out in turn, mm.
    pub cut: Vec<f64>,
    /// The same of the seam line.
    pub seam: Vec<f64>,
}

impl NestedLook {
    /// Of the size at `index` of those drawn over each other: long dashes if any piece has them.
    pub fn new(title: &str, index: usize, across: f64, narrow: bool) -> Self {
        Self {
            titles: vec![title.to_string()],
            dots: index,
            cut: Dashes::new(index, across).pattern(),
            seam: pattern(seam_dash(narrow), index),
        }
    }
}

fn seam_dash(narrow: bool) -> [f64; 2] {
    if narrow { SEAM_DASH_FINE } else { SEAM_DASH }
}

fn pattern([dash, gap]: [f64; 2], dots: usize) -> Vec<f64> {
    let mut lengths = vec![dash, gap];
    for _ in 0..dots {
        lengths.extend([DOT, gap - DOT]);
    }
    lengths
}

/// The lines of one size.
#[derive(Debug, Clone)]
pub struct SizeLines {
    /// Index of the size among those of the design.
    pub size: usize,
    /// Moves the piece onto the common point; nothing if it stands alone.
    pub by: Vec2,
    /// Cut line, one closed subpath.
    pub cut: BezPath,
    /// Cut line, flattened, closed.
    pub ring: Vec<Point>,
    /// Seam line where it differs from the cut line: one closed subpath from a corner on.
    pub seam: Option<BezPath>,
    /// Seam line, flattened, closed; empty where it is the cut line.
    pub seam_ring: Vec<Point>,
    /// Notches and centre marks.
    pub notches: Ink,
    /// White that bares the paper under the fold.
    pub under: Vec<(BezPath, Stroke)>,
    /// Fold, marks and, if the piece stands alone, grain line.
    pub ink: Ink,
    /// Whether the cut line is a finer one.
    pub fine: bool,
    /// Whether the seam line has shorter dashes.
    pub narrow: bool,
    /// Dashes, if several sizes are drawn over each other.
    pub dashes: Option<Dashes>,
    /// What is said of the cut line's part, and of the rest.
    pub told: [Vec<String>; 2],
    /// What tells of a part of it, with a place for that; for those who do not see it.
    pub sentence: String,
}

/// A part of a drawing that is an image of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnPart {
    /// Index of the size it belongs to; none if it belongs to all.
    pub size: Option<usize>,
    /// Whether it is what the allowance adds: the cut line or its notches.
    pub allowance: bool,
    /// What tells its file from those of the other parts.
    pub suffix: String,
    /// In words, for those who do not see it.
    pub alt: String,
    /// The drawing.
    pub svg: Vec<u8>,
}

impl SizeLines {
    /// Room of all its ink. A mitred corner of the stroke reaches further than half its width;
    /// twice the width covers corners down to 29 degrees, at which SVG cuts the mitre off.
    pub fn bounds(&self) -> Rect {
        let width = self.cut_stroke().width;
        let cut = self.cut.bounding_box().inflate(width, width);
        let ink = self.notches.bounds().into_iter().chain(self.ink.bounds());
        ink.fold(cut, |all, r| all.union(r))
    }

    /// The lines moved or turned.
    pub fn transformed(self, by: Affine) -> Self {
        Self {
            cut: by * self.cut,
            seam: self.seam.map(|s| by * s),
            notches: self.notches.transformed(by),
            under: self.under.into_iter().map(|(p, s)| (by * p, s)).collect(),
            ink: self.ink.transformed(by),
            ..self
        }
    }

    /// `Toe piece, size Large: cut line, 3 notches. 86 by 60 mm.`
    pub fn said(&self, told: &[String]) -> String {
        phrase::filled(&self.sentence, &[("parts", &told.join(", "))])
    }

    /// The size's parts from the lowest to the uppermost, in a drawing of `width` by `height` mm:
    /// one where there is no allowance to be taken away; else cut line and rest, and the notches
    /// last where white under a fold must lie between.
    pub fn parts(&self, width: f64, height: f64, nested: bool) -> Vec<DrawnPart> {
        let part = |allowance: bool, what: &str, told: &[String], svg: Svg| DrawnPart {
            size: Some(self.size),
            allowance,
            suffix: if nested {
                format!("-{}{what}", self.size + 1)
            } else {
                what.to_string()
            },
            alt: self.said(told),
            svg: svg.finish(),
        };
        let [outer, inner] = &self.told;
        let start = || Svg::new(width, height);
        let mut svg = start();
        self.draw_cut(&mut svg);
        if self.seam.is_none() {
            self.draw_rest(&mut svg);
            self.notches.draw(&mut svg);
            return vec![part(false, "", &[&outer[..], &inner[..]].concat(), svg)];
        }
        let notches_last = !self.under.is_empty() && !self.notches.is_empty();
        let first = if notches_last {
            &outer[..1]
        } else {
            self.notches.draw(&mut svg);
            &outer[..]
        };
        let mut parts = vec![part(true, "-cut", first, svg)];
        let mut svg = start();
        self.draw_seam(&mut svg);
        self.draw_rest(&mut svg);
        parts.push(part(false, "-seam", inner, svg));
        if notches_last {
            let mut svg = start();
            self.notches.draw(&mut svg);
            parts.push(part(true, "-notches", &outer[1..], svg));
        }
        parts
    }

    fn draw_seam(&self, svg: &mut Svg) {
        let Some(seam) = &self.seam else { return };
        let look = self.seam_stroke();
        let Some(dashes) = self.dashes else {
            svg.stroke(Some("seam"), seam, look);
            return;
        };
        let lengths = pattern(seam_dash(self.narrow), dashes.dots);
        svg.dashed(Some("seam"), seam, look.width, &lengths);
    }

    fn draw_cut(&self, svg: &mut Svg) {
        let look = self.cut_stroke();
        match self.dashes {
            None => svg.stroke(Some("cut"), &self.cut, look),
            Some(dashes) => svg.dashed(Some("cut"), &self.cut, look.width, &dashes.pattern()),
        }
    }

    fn draw_rest(&self, svg: &mut Svg) {
        for (path, stroke) in &self.under {
            svg.white(path, *stroke);
        }
        self.ink.draw(svg);
    }

    fn cut_stroke(&self) -> Stroke {
        if self.fine { CUT_FINE } else { CUT }
    }

    fn seam_stroke(&self) -> Stroke {
        if self.narrow { SEAM_FINE } else { SEAM }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pattern_is_a_dash_and_a_dot_for_each_size_before() {
        // house style: dash 9, then n - 1 dots, each followed by 1.25; 5 on narrow pieces
        for (across, dash) in [(40.0, 9.0), (39.9, 5.0)] {
            for index in 0..8 {
                let dashes = Dashes::new(index, across);
                let lengths = dashes.pattern();
                assert_eq!(lengths.len(), 2 * (index + 1));
                let sum: f64 = lengths.iter().sum();
                assert!((sum - (dash + 1.25 * (index as f64 + 1.0))).abs() < 1e-9);
                assert!((sum - dashes.sample()).abs() < 1e-9);
                assert_eq!(lengths[0], dash);
            }
        }
    }
}

//! The cut line of one piece as an SVG at true scale: what a laser or blade cutter follows. One
//! millimetre of the drawing is one of the piece; no seam line, no words.

use crate::edition::path_text::{path_text, rounded, rounded_path};
use crate::geometry::unfolded_ring;
use crate::piece::{MarkKind, Piece};
use kurbo::{Point, Shape};
use std::fmt::Write;

/// Width of the hairline, mm: 0.1 pt, which cutters take for a line to follow (common practice).
const HAIRLINE: f64 = 0.1 * 25.4 / 72.0;

/// White round the piece, mm, so that no viewer cuts off half of the line.
const BORDER: f64 = 1.0;

/// The text of `cut/<size>/<piece>.svg`: the cut line and the holes inside it (drill holes and
/// eyelets), red, in one group called `cut`, with coordinates in mm to four decimals.
///
/// A piece kept as a half, to be cut on the fold, is drawn whole.
pub fn cut_file(piece: &Piece, size: &str) -> String {
    let whole = piece
        .fold
        .as_ref()
        .and_then(|name| piece.outline.edge(name))
        .and_then(|edge| {
            let (from, to) = (edge.start(), edge.end());
            Some((unfolded_ring(&piece.cut_line, from, to)?, from, to))
        });
    let mut holes = holes(piece);
    let line = match whole {
        None => rounded_path(&piece.cut_line),
        Some((line, from, to)) => {
            let there = holes.clone();
            holes.extend(there.into_iter().filter_map(|hole| hole.mirrored(from, to)));
            rounded_path(&line)
        }
    };
    let bounds = line.bounding_box().inflate(BORDER, BORDER);
    let (x, y) = (rounded(bounds.x0), rounded(bounds.y0));
    let (width, height) = (rounded(bounds.width()), rounded(bounds.height()));
    let title = escaped(&format!("{}, size {size}", piece.title));
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"{x} {y} {width} {height}\">\n<title>{title}</title>\n\
         <g id=\"cut\" fill=\"none\" stroke=\"#ff0000\" stroke-width=\"{}\">\n\
         <path id=\"outline\" d=\"{}\"/>\n",
        rounded(HAIRLINE),
        path_text(&line)
    );
    for hole in holes {
        writeln!(
            text,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            rounded(hole.at.x),
            rounded(hole.at.y),
            rounded(hole.diameter / 2.0)
        )
        .expect("writing to a String never fails");
    }
    text.push_str("</g>\n</svg>\n");
    text
}

/// A round hole, mm.
#[derive(Debug, Clone, Copy)]
struct RoundHole {
    at: Point,
    diameter: f64,
}

impl RoundHole {
    /// Its image beyond the fold; a hole on the fold has none.
    fn mirrored(self, from: Point, to: Point) -> Option<Self> {
        let at = kurbo::Affine::reflect(from, to - from) * self.at;
        (at.distance(self.at) > 1e-3).then_some(Self { at, ..self })
    }
}

fn holes(piece: &Piece) -> Vec<RoundHole> {
    let marks = piece.marks.iter();
    marks
        .filter_map(|mark| match mark.kind {
            MarkKind::Hole { at, diameter } | MarkKind::Eyelet { at, diameter } => {
                Some(RoundHole { at, diameter })
            }
            _ => None,
        })
        .collect()
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[cfg(test)]
mod tests;

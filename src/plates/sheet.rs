//! What stands on one page, before it is typeset: pieces, labels, test squares and furniture, in
//! mm in the axes of the live area; and its form as data for the template, in mm from the upper
//! left corner of the page.

use super::label::Label;
use super::lettering::TextLine;
use super::size_lines::Dashes;
use super::square::Square;
use super::tile::HalfJoin;
use crate::design::Paper;
use kurbo::{Line, Point, Rect, Size, Vec2};
use serde_json::{Value, json};

/// A piece on a page, in one size or in several over each other.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPiece {
    /// Keys of its sizes.
    pub sizes: Vec<String>,
    /// Key of the piece.
    pub piece: String,
    /// Its drawing in parts, the lowest first; all lie at the same place.
    pub parts: Vec<PlacedPart>,
    /// Names of nested sizes beside their lines.
    pub names: Vec<Label>,
    /// Where the drawing lies, and how large it is.
    pub place: Rect,
    /// Box of its cut lines in all its sizes.
    pub cut: Rect,
    /// The cut line of each size, as straight lines.
    pub rings: Vec<Vec<Point>>,
}

/// A part of a piece's drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPart {
    /// Its drawing among the files.
    pub file: String,
    /// In words.
    pub alt: String,
    /// The layers it is on, the outermost first: indices into [`super::PlateSet::layers`].
    pub layers: Vec<usize>,
}

/// The head of a band of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Left end of its head.
    pub x: f64,
    /// Top.
    pub y: f64,
    /// Width of its head.
    pub width: f64,
    /// The size.
    pub title: String,
    /// What else is said of it.
    pub words: String,
}

/// A paragraph of running words.
#[derive(Debug, Clone, PartialEq)]
pub struct Paragraph {
    /// Its room.
    pub room: Rect,
    /// The words.
    pub text: String,
    /// Type size in points.
    pub points: f64,
    /// Italic and grey: said by the way.
    pub aside: bool,
}

/// The small map of a piece spread over sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct PageMap {
    /// Upper left corner.
    pub at: Point,
    /// Room of each printed sheet relative to `at`, its letter, and whether it is this one.
    pub cells: Vec<(Rect, String, bool)>,
    /// The piece's outline among the files, and its room relative to `at`.
    pub outline: (String, Rect),
    /// In words.
    pub alt: String,
}

/// What a sheet of a spread piece carries besides.
#[derive(Debug, Clone, PartialEq)]
pub struct Furniture {
    /// The frame, from the origin of the live area.
    pub frame: Size,
    /// Lines on which neighbours are laid.
    pub lay_on: Vec<Line>,
    /// Halves of join marks.
    pub joins: Vec<HalfJoin>,
    /// Ticks every 5 cm of the whole, with the centimetres where they are printed.
    pub ticks: Vec<(Line, Option<(Point, String)>)>,
    /// The map, if a place was found.
    pub map: Option<PageMap>,
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Number of the plate, from 1.
    pub plate: usize,
    /// Letter of the sheet, if the plate has several.
    pub letter: Option<String>,
    /// What is on it, at the right of the head.
    pub about: String,
    /// Band heads.
    pub bands: Vec<Band>,
    /// Pieces.
    pub pieces: Vec<PlacedPiece>,
    /// Labels.
    pub labels: Vec<Label>,
    /// Words beside marks.
    pub captions: Vec<TextLine>,
    /// Test squares; on a large sheet a second pair in the opposite corner.
    pub squares: Vec<Square>,
    /// Running words.
    pub paragraphs: Vec<Paragraph>,
    /// Only on sheets of a spread piece.
    pub furniture: Option<Furniture>,
}

/// Millimetres to a ten-thousandth, so that the data do not carry the noise of sums.
fn mm(value: f64) -> f64 {
    let rounded = (value * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn point(p: Point) -> Value {
    json!([mm(p.x), mm(p.y)])
}

fn line(l: Line) -> Value {
    json!([mm(l.p0.x), mm(l.p0.y), mm(l.p1.x), mm(l.p1.y)])
}

fn rect(r: Rect) -> Value {
    json!({"x": mm(r.x0), "y": mm(r.y0), "w": mm(r.width()), "h": mm(r.height())})
}

fn text_line(t: &TextLine, by: Vec2) -> Value {
    json!({
        "text": t.text, "x": mm(t.at.x + by.x), "y": mm(t.at.y + by.y), "w": mm(t.width),
        "centred": t.centred, "size": mm(t.points), "face": t.face.name(), "soft": t.soft,
        "turn": mm(t.turn), "layer": t.size,
    })
}

fn label(l: &Label, by: Vec2) -> Value {
    let lines: Vec<Value> = l.lines.iter().map(|t| text_line(t, by)).collect();
    let rules: Vec<Value> = l.rules.iter().map(|r| line(*r + by)).collect();
    let sample = |(sample, dashes): &(Line, Dashes)| json!({"line": line(*sample + by), "dash": dashes.pattern(), "phase": dashes.dash / 2.0});
    let samples: Vec<Value> = l.samples.iter().map(sample).collect();
    json!({
        "lines": lines, "rules": rules, "dot": l.dot.map(|d| point(d + by)),
        "samples": samples, "layer": l.size,
    })
}

impl Sheet {
    /// Lower edge of the lowest piece or label, mm.
    pub fn lowest(&self) -> f64 {
        let pieces = self.pieces.iter().map(|p| p.place.y1);
        let labels = self.labels.iter().map(|l| l.bounds().y1);
        pieces.chain(labels).fold(0.0, f64::max)
    }

    /// The data of the page for the template; it is one of `of` plates. Edition and name of the
    /// paper are printed in the foot.
    pub fn data(&self, paper: &Paper, (edition, name): (&str, &str), of: usize) -> Value {
        let live = paper.live();
        let by = live.origin().to_vec2();
        let captions: Vec<Value> = self.captions.iter().map(|c| text_line(c, by)).collect();
        let labels: Vec<Value> = self.labels.iter().map(|l| label(l, by)).collect();
        json!({
            "number": self.plate,
            "sheet": self.letter,
            "about": self.about,
            "page": {"w": paper.width, "h": paper.height},
            "live": rect(live),
            "large": paper.is_large(),
            "of": of,
            "head": mm(paper.head()),
            "foot": {"y": mm(paper.foot()), "edition": edition, "paper": name},
            "bands": self.bands.iter().map(|b| band(b, by)).collect::<Vec<_>>(),
            "pieces": self.pieces.iter().map(|p| piece(p, by)).collect::<Vec<_>>(),
            "labels": labels,
            "captions": captions,
            "squares": self.squares.iter().map(|s| square(s, by)).collect::<Vec<_>>(),
            "paragraphs": self.paragraphs.iter().map(|p| paragraph(p, by)).collect::<Vec<_>>(),
            "tile": self.furniture.as_ref().map(|f| furniture(f, by)),
        })
    }
}

fn band(b: &Band, by: Vec2) -> Value {
    json!({"x": mm(b.x + by.x), "y": mm(b.y + by.y), "w": mm(b.width), "title": b.title, "words": b.words})
}

fn piece(p: &PlacedPiece, by: Vec2) -> Value {
    let part = |p: &PlacedPart| json!({"file": p.file, "alt": p.alt, "layers": p.layers});
    json!({
        "sizes": p.sizes,
        "piece": p.piece,
        "at": rect(p.place + by),
        "parts": p.parts.iter().map(part).collect::<Vec<_>>(),
        "names": p.names.iter().map(|n| label(n, by)).collect::<Vec<_>>(),
    })
}

fn square(s: &Square, by: Vec2) -> Value {
    let name = if (s.side - 50.0).abs() < 1e-9 {
        "5 cm"
    } else {
        "2 in"
    };
    let at = s.at + by;
    json!({"x": mm(at.x), "y": mm(at.y), "side": s.side, "name": name, "in_piece": s.in_piece})
}

fn paragraph(p: &Paragraph, by: Vec2) -> Value {
    json!({"at": rect(p.room + by), "text": p.text, "size": p.points, "aside": p.aside})
}

fn furniture(f: &Furniture, by: Vec2) -> Value {
    let joins: Vec<Value> = f
        .joins
        .iter()
        .map(|j| {
            json!({"at": point(j.at + by), "into": [mm(j.into.x), mm(j.into.y)],
                   "number": j.number})
        })
        .collect();
    let ticks: Vec<Value> = f
        .ticks
        .iter()
        .map(|(tick, words)| {
            let words = words
                .as_ref()
                .map(|(at, text)| json!({"at": point(*at + by), "text": text}));
            json!({"line": line(*tick + by), "words": words})
        })
        .collect();
    json!({
        "frame": rect(Rect::from_origin_size(Point::ZERO, f.frame) + by),
        "lay_on": f.lay_on.iter().map(|l| line(*l + by)).collect::<Vec<_>>(),
        "joins": joins,
        "ticks": ticks,
        "map": f.map.as_ref().map(|m| page_map(m, by)),
    })
}

fn page_map(m: &PageMap, by: Vec2) -> Value {
    let by = by + m.at.to_vec2();
    let cells: Vec<Value> = m
        .cells
        .iter()
        .map(|(r, letter, here)| json!({"at": rect(*r + by), "letter": letter, "here": here}))
        .collect();
    json!({
        "cells": cells,
        "file": m.outline.0,
        "at": rect(m.outline.1 + by),
        "alt": m.alt,
    })
}

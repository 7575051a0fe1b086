//! Checks of figure blocks: read, drawn from pieces drafted for the purpose, and refused.

mod hems;
mod keys;
mod numbers;
mod rows;
mod strips;

use super::{FigureRequest, read};
use crate::booklet::fixture;
use crate::design::{self, Design};
use crate::diagnostic::{Diagnostics, Place};
use crate::draft::{self, Values};
use crate::figure::flat::{self, FlatFigure};
use crate::folder::DesignFolder;
use crate::piece::{self, SizedPieces};

/// A sail of two halves and a band on the fold.
const YAML: &str = "\
title: Kite sail
edition: 1.0.0
about: A sail for trying figures on.
makes: one sail
paper: [a4]
measures: {seam: 6 mm, edge stitch: 2 mm}
sizes: {one: {title: One size}}
cloth:
  outer: {name: linen, kind: woven, thickness: 0.4 mm, width: 112 cm}
  lining: {name: cotton lawn, kind: woven, thickness: 0.2 mm, width: 112 cm}
thread: {stitch: backstitch}
trims: {elastic: {width: 6 mm, length: 40 mm}, bead: {width: 4 mm}}
pieces:
  left half:
    outline:
      start: [0 mm, 0 mm]
      edges:
        - {name: top, to: [60 mm, 0 mm]}
        - {name: middle, to: [60 mm, 90 mm]}
        - {name: slope, to: [0 mm, 0 mm]}
    allowance: seam
    notches: [{edge: middle, at: 30 %, name: knot, carry: yes}]
    lines:
      - {kind: fold, through: [[40 mm, 0 mm], [40 mm, 60 mm]], words: crease}
    cut: {outer: 1, lining: 1}
  right half:
    outline:
      start: [0 mm, 0 mm]
      edges:
        - {name: top, to: [60 mm, 0 mm]}
        - {name: slope, to: [0 mm, 90 mm]}
        - {name: middle, to: [0 mm, 0 mm]}
    allowance: seam
    cut: {outer: 1}
  disc:
    ellipse: {width: 57.3 mm, height: 57.3 mm}
    allowance: seam
    cut: {outer: 1}
  band:
    rectangle: {width: 180 mm, height: 30 mm}
    allowance: seam
    cut: {outer: 1}
seams:
  middle: {join: left half.middle, to: right half.middle}
  rim: {join: band.bottom, to: disc.rim, easing: 0 % to 2 %}
";

/// The pieces that the guide's figures speak of, each with four edges round a field of 80 by 60 mm,
/// called from the top clockwise.
const GUIDE_PIECES: [(&str, [&str; 4], &str); 10] = [
    ("cover", ["top", "right", "bottom", "left"], ""),
    ("leaves", ["top", "right", "bottom", "left"], ""),
    ("apron", ["top", "right", "bottom", "left"], "pocket"),
    ("pocket", ["top", "right", "bottom", "left"], ""),
    (
        "toe",
        ["topline", "inner side", "sole edge", "outer side"],
        "slit",
    ),
    (
        "heel",
        ["topline", "outer side", "sole edge", "inner side"],
        "",
    ),
    ("strap", ["top", "right", "bottom", "left"], "fold"),
    ("flap", ["top", "right side", "front", "left side"], ""),
    ("skirt", ["top", "right", "bottom", "left"], ""),
    ("panel", ["top", "right side", "bottom", "left side"], ""),
];

fn guide_yaml() -> String {
    let head = YAML.split("pieces:").next().unwrap();
    let mut yaml = format!("{head}pieces:\n");
    for (key, [top, right, bottom, left], line) in GUIDE_PIECES {
        yaml += &format!(
            "  {key}:\n    outline:\n      start: [0 mm, 0 mm]\n      edges:\n        \
             - {{name: {top}, to: [80 mm, 0 mm]}}\n        - {{name: {right}, to: [80 mm, 60 mm]}}\n        \
             - {{name: {bottom}, to: [0 mm, 60 mm]}}\n        - {{name: {left}, to: [0 mm, 0 mm]}}\n    \
             allowance: seam\n    cut: {{outer: 1 pair, lining: 1 pair}}\n    notches:\n      \
             - {{edge: {top}, at: 20 %, name: left quarter}}\n      \
             - {{edge: {top}, at: 50 %, name: centre front}}\n      \
             - {{edge: {top}, at: 80 %, name: right quarter}}\n"
        );
        let at = |x: u32| format!("through: [[{x} mm, 0 mm], [{x} mm, 60 mm]]");
        if !line.is_empty() {
            let (fold, place) = (at(40), at(60));
            yaml += &format!(
                "    lines: [{{kind: fold, {fold}, words: {line}}}, \
                 {{kind: placement, {place}, words: elastic to here}}]\n"
            );
        }
    }
    yaml + "seams:\n  inner side: {join: toe.inner side, to: heel.inner side}\n"
}

struct Made {
    design: Design,
    sized: SizedPieces,
    values: Values,
}

fn made(yaml: &str) -> Made {
    let folder = DesignFolder::from_memory("kite-sail", [("design.yaml", yaml.to_string())]);
    let mut said = Diagnostics::default();
    let design = design::read(&folder, &mut said).unwrap();
    let draft = draft::draft(&design, &design.sizes[0], None, &mut said);
    let sized = piece::finish(&design, &design.sizes[0], &draft, &mut said);
    assert!(!said.has_errors(), "{:?}", said.sorted());
    Made {
        design,
        sized,
        values: draft.values,
    }
}

/// The request of a block whose first line is line 1, and what was said: line, column, words.
fn request(text: &str, design: &Design) -> (Option<FigureRequest>, Diagnostics) {
    let mut said = Diagnostics::default();
    let place = fixture::place();
    let at = |line: usize, column: usize| Place {
        line,
        column,
        ..place.clone()
    };
    let request = read(text, 3, design, (&place, &at), &mut said);
    (request, said)
}

fn drawn(text: &str) -> (Option<FlatFigure>, Vec<(usize, usize, String)>) {
    drawn_from(&made(YAML), text)
}

fn drawn_from(made: &Made, text: &str) -> (Option<FlatFigure>, Vec<(usize, usize, String)>) {
    let (request, mut said) = request(text, &made.design);
    let figure = request.and_then(|request| {
        let from = (&made.sized, &made.values);
        flat::draw(
            &request.flat?,
            &made.design,
            from,
            (request.wide, 1.0),
            &mut said,
        )
    });
    let told = said.iter().map(|d| {
        let place = d.place.as_ref().unwrap();
        (
            place.line,
            place.column,
            format!("{} {}", d.message, d.remedy),
        )
    });
    (figure, told.collect())
}

fn figure(text: &str) -> FlatFigure {
    let (figure, said) = drawn(text);
    assert!(said.is_empty(), "{text}: {said:?}");
    figure.unwrap()
}

#[test]
fn pieces_size_and_words_are_read() {
    let text = "name: both\npieces: [toe, heel]\nsize: large\ncaption: Both.\n";
    let (figure, said) = request(text, &fixture::design());
    let figure = figure.unwrap();
    assert_eq!(said.iter().count(), 0);
    assert_eq!(figure.pieces, ["toe", "heel"]);
    assert_eq!(figure.size.as_deref(), Some("large"));
    assert_eq!(figure.caption.as_deref(), Some("Both."));
    let plain = figure.plain_alt(&fixture::design());
    assert_eq!(plain, "Toe piece and Heel piece, drawn flat.");
    assert_eq!(figure.path(), "figures/3.svg");
}

/// Blocks with one mistake each: its line, and words that name it.
const MISTAKES: &[(&str, usize, &str)] = &[
    (
        "pieces: [left half, rigt half]",
        1,
        "The nearest is ‘right half’.",
    ),
    ("pieces: band\nsize: on", 2, "The nearest is ‘one’."),
    ("caption: A\npeices: band", 2, "no key ‘peices’"),
    ("seam: midle", 1, "The nearest is ‘middle’."),
    (
        "pieces: band\nstitching:\n  - {edges: [botom]}",
        3,
        "The nearest is ‘bottom’.",
    ),
    (
        "pieces: band\nstitching: {stitch: zig zag}",
        2,
        "The nearest is ‘zigzag’.",
    ),
    (
        "pieces: left half\nletters:\n  A: {notch: knob}",
        3,
        "The nearest is ‘knot’.",
    ),
    (
        "pieces: left half\ndetail: {mark: creases}",
        2,
        "The nearest is ‘crease’.",
    ),
    (
        "pieces: left half\ndetail: {corner: [top, top]}",
        2,
        "do not meet",
    ),
    (
        "pieces: left half\ndetail: {edge: top, times: 90}",
        2,
        "from 1.5 to 6",
    ),
    (
        "pieces: band\ntrim: {to: 9 mm, edges: [top]}",
        2,
        "cannot be trimmed to 9.0 mm",
    ),
    (
        "pieces: band\ntrim: {edges: [top]}",
        2,
        "not said what is trimmed",
    ),
    (
        "pieces: band\nopening: {edge: top, length: 1 m}",
        2,
        "does not fit",
    ),
    (
        "pieces: band\nstitching: {inside: 40 mm}",
        2,
        "fits so far inside",
    ),
    ("pieces: band\nstitching: {inside: hem}", 2, "hem"),
    (
        "pieces: left half\nstitching: {round: creese, inside: 2 mm}",
        2,
        "The nearest is ‘crease’.",
    ),
    (
        "pieces: left half\nstitching: {round: crease}",
        2,
        "No row can be drawn round",
    ),
    (
        "pieces: [{piece: band, finished: [tap]}]",
        1,
        "The nearest is ‘top’.",
    ),
    (
        "fold:\n  piece: left half\n  along: creese",
        3,
        "The nearest is ‘crease’.",
    ),
    (
        "fold:\n  piece: band",
        2,
        "not said where the piece is folded",
    ),
    ("hem: {piece: band, edge: side}", 1, "no edge ‘side’"),
    ("pieces: [{piece: band, side: left}]", 1, "right, wrong"),
    (
        "pieces: [{piece: band, cloth: lining}]",
        1,
        "is not cut from ‘lining’",
    ),
    ("pieces: band\nseam: middle", 2, "Write a block for each."),
    (
        "gather: {edge: bottom, between: [a]}\npieces: band",
        1,
        "between two notches",
    ),
    (
        "seam: rim\nlaid: together",
        1,
        "cannot lie on each other flat",
    ),
    (
        "pieces: band\nletters: {A: {piece: disc, edge: rim}}",
        2,
        "not in this figure",
    ),
    ("pieces: band\npieces: band", 2, "stands twice"),
];

#[test]
fn each_mistake_is_told_at_its_own_line() {
    for (text, line, words) in MISTAKES {
        let (_, said) = drawn(text);
        let found = said
            .iter()
            .any(|(at, _, told)| at == line && told.contains(words));
        assert!(found, "{text}: {said:?}");
    }
}

#[test]
fn what_is_no_block_is_told() {
    for (text, words) in [
        ("just words", "holds no keys"),
        ("", "holds no keys"),
        ("caption: A", "names no piece"),
        ("pieces: []", "names no piece"),
    ] {
        let (figure, said) = drawn(text);
        assert!(figure.is_none());
        assert!(said.iter().any(|s| s.2.contains(words)), "{text}: {said:?}");
    }
    let (figure, said) = drawn("pieces: [");
    assert!(figure.is_none() && !said.is_empty());
}

#[test]
fn every_figure_keeps_to_its_room_and_is_no_pattern() {
    for text in [
        "pieces: [left half, right half, disc, band]",
        "pieces: left half\nlaid: together",
        "pieces: left half\nlaid: together\nstitching: {}\nturn through: {edge: top, length: 20 mm}",
        "seam: middle",
        "seam: middle\nlaid: together\nwide: yes",
        "fold: {piece: left half, along: crease}",
        "fold: {piece: band, lay: left, on: right, show: after}",
        "hem: {piece: band, edge: top, elastic: yes}",
        "hem: {piece: disc, edge: rim, stitch: zigzag}",
        "pieces: left half\ntrim: {to: 2 mm}\ndetail: {corner: [top, middle]}",
        "pieces: left half\nstitching:\n  - {round: crease, inside: 2 mm}\n  - {edges: [top], inside: 2 mm}\n\
         detail: {mark: crease}",
        "pieces: [{piece: band, finished: [top, left]}]\nstitching: {edges: [top], inside: 2 mm}",
        "gather: {edge: bottom}\npieces: band\nletters: {A: {edge: top}, B: {edge: bottom}}",
    ] {
        let drawn = figure(text).figure;
        let room = if text.contains("wide") { 118.0 } else { 62.0 };
        assert!(drawn.width <= room + 1e-6, "{text}: {}", drawn.width);
        assert!(drawn.height <= 80.0, "{text}: {}", drawn.height);
        assert!(drawn.scale < 0.7, "{text}: {}", drawn.scale);
        let svg = String::from_utf8(drawn.svg).unwrap();
        roxmltree::Document::parse(&svg).unwrap();
        assert!(!svg.contains("<text"), "figures need no fonts");
        assert!(drawn.alt.chars().count() <= 250, "{}", drawn.alt);
        assert_eq!(figure(text).figure.svg, svg.into_bytes());
    }
}

#[test]
fn a_figure_says_what_it_shows() {
    let sewn = figure("seam: middle\nlaid: together").figure.alt;
    assert_eq!(
        sewn,
        "Left half on Right half, right sides together, sewn along middle and middle; wrong side \
         hatched."
    );
    let text = "pieces: band\ntrim: {to: seam / 2}\nletters: {A: {edge: top, says: the fold}}";
    let trimmed = figure(text);
    assert_eq!(
        trimmed.after,
        ["Trimmed to 3 mm (1⁄8 in).", "A:\u{a0}the fold."]
    );
    assert!(trimmed.figure.alt.contains("A the fold"));
    let lined = figure("pieces: [{piece: left half, cloth: lining}]").figure;
    assert_eq!(lined.alt, "Left half, drawn flat; lining dotted.");
}

#[test]
fn the_figures_of_the_guide_are_drawn() {
    const GUIDE: &str = include_str!("../../../designs/README.md");
    let made = made(&guide_yaml());
    let mut count = 0;
    for block in GUIDE.split("\n```figure\n").skip(1) {
        let text = block.split("\n```").next().unwrap();
        // these need a foot, which the design of this test has not
        if text.contains("shoe:") || text.contains("making:") {
            continue;
        }
        count += 1;
        let (figure, said) = drawn_from(&made, text);
        assert!(figure.is_some() && said.is_empty(), "{text}: {said:?}");
    }
    assert!(count > 10, "{count} figures were found");
}

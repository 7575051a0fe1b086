//! Checks of whole plate sets made from invented pieces.

use super::caption;
use super::drawing::Drawing;
use super::field::{self, clipped, is_clear};
use super::fixtures::{board, job, piece, pouch, shoe, size, small_shoes};
use super::label::CLEAR;
use super::nested::Nest;
use super::{PlateSet, Sheet, plan};
use crate::design::LineKind;
use crate::geometry::ring::contains;
use crate::language::Words;
use crate::piece::{Mark, MarkKind, SizedPieces};
use kurbo::{Affine, BezPath, Line, Point, Rect, Size};

fn planned(sizes: &[SizedPieces], paper: &str) -> PlateSet {
    plan(sizes, &job(paper)).expect("the fixtures fit")
}

/// Path data of every line and filling of a placed piece: with its `id`, if it has one.
fn paths_of(set: &PlateSet, sheet: &Sheet, index: usize) -> Vec<(Option<String>, BezPath)> {
    let placed = &sheet.pieces[index];
    let by = Affine::translate(placed.place.origin().to_vec2());
    let mut paths = Vec::new();
    for part in &placed.parts {
        let text = String::from_utf8(set.files()[&part.file].clone()).expect("text");
        let tree = roxmltree::Document::parse(&text).expect("SVG");
        let drawn = tree
            .descendants()
            .filter(|n| n.attribute("stroke") != Some("#ffffff"));
        paths.extend(drawn.filter_map(|n| {
            let path = BezPath::from_svg(n.attribute("d")?).expect("path data");
            Some((n.attribute("id").map(str::to_string), by * path))
        }));
    }
    paths
}

/// Every line of a placed piece, as straight lines.
fn lines_of(set: &PlateSet, sheet: &Sheet, index: usize) -> Vec<Line> {
    let paths = paths_of(set, sheet, index).into_iter();
    paths
        .flat_map(|(_, path)| field::flat(&path, 0.02))
        .collect()
}

pub(super) fn ring_of(set: &PlateSet, sheet: &Sheet, index: usize) -> Vec<Line> {
    let paths = paths_of(set, sheet, index);
    let cut = paths.iter().find(|p| p.0.as_deref() == Some("cut"));
    field::flat(&cut.expect("a cut line").1, 0.02)
}

/// All lines that a label or a square must keep clear of.
fn all_lines(set: &PlateSet, sheet: &Sheet) -> Vec<Line> {
    let mut lines: Vec<Line> = (0..sheet.pieces.len())
        .flat_map(|i| lines_of(set, sheet, i))
        .collect();
    if let Some(tile) = &sheet.furniture {
        lines.extend(&tile.lay_on);
    }
    lines
}

fn frame(set: &PlateSet, sheet: &Sheet) -> Size {
    sheet
        .furniture
        .as_ref()
        .map_or(set.paper.live().size(), |t| t.frame)
}

fn every_set() -> Vec<PlateSet> {
    let mut sets = Vec::new();
    for paper in ["a4", "letter", "a3", "legal", "tabloid"] {
        sets.push(planned(&shoe(), paper));
        sets.push(planned(&pouch(), paper));
        sets.push(planned(&small_shoes(), paper));
    }
    sets
}

#[test]
fn every_piece_of_every_size_is_on_some_plate() {
    for sizes in [shoe(), pouch()] {
        let set = planned(&sizes, "a4");
        for size in &sizes {
            for piece in &size.pieces {
                assert!(
                    !set.where_is(&size.size, &piece.key).is_empty(),
                    "{}",
                    piece.key
                );
            }
        }
        let pieces = set.sheets.iter().flat_map(|s| &s.pieces);
        for part in pieces.flat_map(|p| &p.parts) {
            assert!(set.files().contains_key(&part.file));
        }
    }
}

#[test]
fn a_piece_that_fits_is_never_split() {
    let set = planned(&pouch(), "a4");
    assert_eq!(set.where_is("one", "base").len(), 1);
    for sheet in set.sheets.iter().filter(|s| s.letter.is_some()) {
        assert!(
            sheet
                .pieces
                .iter()
                .all(|p| p.piece == "panel" || p.piece == "strap")
        );
    }
}

#[test]
fn pieces_of_different_sizes_keep_to_their_bands() {
    let set = planned(&small_shoes(), "a4");
    assert_eq!(set.page_count(), 1, "both sizes fit whole on one plate");
    let sheet = &set.sheets[0];
    let edge = sheet.bands[1].y;
    for piece in &sheet.pieces {
        let above = piece.place.y1 < edge;
        assert_eq!(above, piece.sizes == ["small"], "{}", piece.piece);
    }
}

#[test]
fn cut_lines_of_different_pieces_keep_apart() {
    for set in every_set() {
        for sheet in &set.sheets {
            let rings: Vec<Vec<Line>> = (0..sheet.pieces.len())
                .map(|i| ring_of(&set, sheet, i))
                .collect();
            for (i, a) in rings.iter().enumerate() {
                for b in &rings[..i] {
                    let nearest = a
                        .iter()
                        .flat_map(|l| b.iter().map(move |m| field::distance(l.p0, *m)))
                        .fold(f64::INFINITY, f64::min);
                    assert!(nearest >= 4.0, "{nearest} mm on plate {}", sheet.plate);
                }
            }
        }
    }
}

#[test]
fn both_squares_stand_on_every_page_clear_of_all_lines() {
    for set in every_set() {
        for sheet in &set.sheets {
            // 5 cm, and 2 in at 25.4 mm
            let sides: Vec<f64> = sheet.squares.iter().map(|s| s.side).collect();
            assert_eq!(sides, [50.0, 50.8]);
            let lines = all_lines(&set, sheet);
            let live = set.paper.live().size();
            for square in &sheet.squares {
                let room = square.bounds();
                assert!(room.x0 >= -0.2 && room.y0 >= 0.0);
                assert!(room.x1 <= live.width + 0.2 && room.y1 <= live.height + 0.2);
                let own = shown(&lines, frame(&set, sheet));
                assert!(
                    is_clear(&own, room, 1.8),
                    "{room:?} on plate {}",
                    sheet.plate
                );
                for label in &sheet.labels {
                    assert!(label.words.intersect(room).is_zero_area());
                }
            }
            let [a, b] = sheet.squares[..] else {
                panic!("two squares");
            };
            assert!(
                a.bounds()
                    .inflate(1.9, 1.9)
                    .intersect(b.bounds())
                    .is_zero_area()
            );
        }
    }
}

/// The lines as far as the frame shows them.
fn shown(lines: &[Line], frame: Size) -> Vec<Line> {
    let frame = Rect::from_origin_size(Point::ZERO, frame);
    lines.iter().filter_map(|l| clipped(*l, frame)).collect()
}

#[test]
fn a_square_inside_a_piece_says_so() {
    for set in every_set() {
        for sheet in &set.sheets {
            for square in &sheet.squares {
                let middle = square.bounds().center();
                let inside = (0..sheet.pieces.len()).any(|i| {
                    let ring: Vec<Point> = ring_of(&set, sheet, i).iter().map(|l| l.p0).collect();
                    contains(&ring, middle)
                });
                let in_frame = middle.y < frame(&set, sheet).height;
                assert_eq!(square.in_piece, inside && in_frame);
            }
        }
    }
}

#[test]
fn labels_are_clear_of_every_line_and_inside_the_live_area() {
    for set in every_set() {
        for sheet in &set.sheets {
            let mut lines = all_lines(&set, sheet);
            let ticks = sheet.furniture.iter().flat_map(|tile| &tile.ticks);
            lines.extend(ticks.map(|(tick, _)| *tick));
            let live = set.paper.live().size();
            for label in &sheet.labels {
                let room = label.words;
                assert!(room.x0 >= -0.01 && room.y0 >= -0.01, "{room:?}");
                assert!(room.x1 <= live.width + 0.01 && room.y1 <= live.height + 0.01);
                assert!(
                    is_clear(&lines, room, CLEAR - 0.05),
                    "{:?}",
                    label.lines[1].text
                );
                for other in sheet.labels.iter().filter(|l| *l != label) {
                    assert!(other.words.intersect(room).is_zero_area());
                }
            }
            for line in &sheet.captions {
                assert!(line.points >= 7.2);
                assert!(line.turn != 0.0 || is_clear(&lines, caption::bounds(line), 0.3));
            }
        }
    }
}

#[test]
fn words_of_a_short_placing_line_stand_to_neither_side_of_it() {
    // in line with it, across below its end, or in the label
    for (deep, words) in [(40.0, 1), (12.0, 1), (8.0, 0)] {
        let rest = format!("M60 0 L60 {deep} L0 {deep} L0 0");
        let edges = [("top", "M0 0 L60 0"), ("rest", rest.as_str())];
        let mut band = piece(1, "band", "Band", &edges, 0.0);
        band.marks.push(Mark {
            kind: MarkKind::Line {
                kind: LineKind::Placement,
                path: BezPath::from_svg("M20 0 L20 6").expect("path data"),
            },
            words: Some("strap".into()),
        });
        let nest = Nest::alone(&band, "One", 0, &Words::default());
        let drawing = Drawing::of(&nest, 0);
        let captions = caption::captions(&nest, &drawing, &[]);
        assert_eq!(captions.lines.len(), words, "{deep}");
        assert_eq!(captions.left_over.len(), 1 - words, "{deep}");
        let end = drawing.placed * Point::new(20.0, 6.0);
        for room in captions.lines.iter().map(caption::bounds) {
            assert!((room.center().x - end.x).abs() < 0.5, "{room:?} {end:?}");
            assert!(room.y0 > end.y, "{room:?} {end:?}");
        }
    }
}

#[test]
fn every_piece_has_its_label() {
    for set in every_set() {
        assert_eq!(set.notes.iter().count(), 0, "{:?}", set.notes);
        let labels: usize = set.sheets.iter().map(|s| s.labels.len()).sum();
        let mut pieces: Vec<(&str, &str)> = Vec::new();
        for p in set.sheets.iter().flat_map(|s| &s.pieces) {
            if !pieces.contains(&(&p.sizes[0], &p.piece)) {
                pieces.push((&p.sizes[0], &p.piece));
            }
        }
        assert_eq!(labels, pieces.len());
    }
}

#[test]
fn a_heel_piece_eight_millimetres_high_is_labelled_beside() {
    let set = planned(&shoe(), "a4");
    let sheet = &set.sheets[0];
    let heel = sheet
        .pieces
        .iter()
        .position(|p| p.sizes == ["small"] && p.piece == "heel");
    let heel = heel.expect("it is there");
    assert!(sheet.pieces[heel].place.height() < 9.5);
    let label = &sheet.labels[heel];
    let dot = label.dot.expect("a leader");
    let ring: Vec<Point> = ring_of(&set, sheet, heel).iter().map(|l| l.p0).collect();
    assert!(contains(&ring, dot));
    for rule in &label.rules {
        assert!(
            rule.p0.x == rule.p1.x || rule.p0.y == rule.p1.y,
            "straight down or across"
        );
    }
}

#[test]
fn spread_sheets_join_to_the_whole() {
    let set = planned(&pouch(), "a4");
    let sheets: Vec<&Sheet> = set
        .sheets
        .iter()
        .filter(|s| s.pieces[0].piece == "panel")
        .collect();
    // 340 x 420 mm on frames of 180 x 240 with 10 mm overlap: ceil(330/170) x ceil(410/230)
    assert_eq!(sheets.len(), 4);
    let letters: Vec<_> = sheets
        .iter()
        .map(|s| s.letter.clone().unwrap_or_default())
        .collect();
    assert_eq!(letters, ["a", "b", "c", "d"]);
    let origins: Vec<Point> = sheets.iter().map(|s| s.pieces[0].place.origin()).collect();
    assert!((origins[0].x - origins[1].x - 170.0).abs() < 1e-9);
    assert!((origins[0].y - origins[2].y - 230.0).abs() < 1e-9);
    let mut numbers: Vec<usize> = sheets
        .iter()
        .flat_map(|s| {
            s.furniture
                .as_ref()
                .expect("a sheet of a spread piece")
                .joins
                .iter()
        })
        .map(|j| j.number)
        .collect();
    numbers.sort_unstable();
    assert_eq!(numbers, [1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8]);
}

#[test]
fn a_piece_of_absurd_size_is_refused() {
    let sizes = [size(
        "one",
        "One size",
        "",
        vec![board(1, "sail", 4000.0, 4000.0)],
    )];
    let errors = plan(&sizes, &job("a4")).expect_err("too many sheets");
    assert_eq!(
        errors.iter().next().map(|d| d.code),
        Some("piece-too-large")
    );
}

#[test]
fn the_same_pieces_give_the_same_bytes() {
    let (a, b) = (planned(&pouch(), "letter"), planned(&pouch(), "letter"));
    assert_eq!(a.data().to_string(), b.data().to_string());
    assert_eq!(a.files(), b.files());
}

#[test]
fn drawings_keep_every_coordinate_of_the_cut_line() {
    let sizes = shoe();
    let set = planned(&sizes, "a4");
    let sheet = &set.sheets[0];
    for (i, placed) in sheet.pieces.iter().enumerate() {
        let size = sizes
            .iter()
            .find(|s| placed.sizes == [s.size.as_str()])
            .expect("a size");
        let piece = size
            .pieces
            .iter()
            .find(|p| p.key == placed.piece)
            .expect("a piece");
        let area = |lines: &[Line]| -> f64 {
            lines
                .iter()
                .map(|l| l.p0.to_vec2().cross(l.p1.to_vec2()))
                .sum::<f64>()
                / 2.0
        };
        let intended = area(&field::flat(&piece.cut_line, 0.02));
        assert!((area(&ring_of(&set, sheet, i)) - intended).abs() < 1e-2);
    }
}

//! Where words and marks are meant to stand on a plate, in mm of its live area: told from the pieces
//! beside them, so that the proof finds what was moved against its piece.

use crate::piece::SizedPieces;
use crate::plates::{Furniture, Label, PageMap, Sheet, TextLine};
use crate::proof::{IntendedMark, IntendedWordsAt};
use kurbo::{Line, Point, Rect};

/// Words on plates are measured to this, mm; what is set in a cell of the map may stand anywhere in it.
const WITHIN: f64 = 1.0;

/// From the middle of a join mark to its number, along the half and down to the baseline, mm.
const JOIN_NUMBER: [f64; 2] = [2.35, 1.0];

/// Cells of a map that are smaller than this, mm, have no letters.
const LETTERED_FROM: f64 = 4.5;

/// All words that have their place.
pub(super) fn words(sheet: &Sheet, sizes: &[SizedPieces]) -> Vec<IntendedWordsAt> {
    if sheet.pieces.is_empty() {
        return Vec::new();
    }
    let mut all = Vec::new();
    for (of, label) in labels(sheet) {
        let what = label_of(sheet, of, sizes);
        all.extend(label.lines.iter().map(|line| line_at(line, of, &what)));
    }
    let captions = sheet.captions.iter();
    all.extend(captions.map(|line| line_at(line, 0, "a mark")));
    if let Some(furniture) = &sheet.furniture {
        all.extend(furniture_words(furniture));
    }
    all
}

/// All strokes that have their place.
pub(super) fn marks(sheet: &Sheet) -> Vec<IntendedMark> {
    if sheet.pieces.is_empty() {
        return Vec::new();
    }
    let mut all = Vec::new();
    for (of, label) in labels(sheet) {
        let mut of_label = |line: &Line, what: &str| all.push(mark(box_of(*line), of, what));
        label
            .rules
            .iter()
            .for_each(|line| of_label(line, "the line of a label"));
        let samples = label.samples.iter();
        samples.for_each(|(line, _)| of_label(line, "the sample of a size’s line"));
    }
    if let Some(furniture) = &sheet.furniture {
        all.extend(furniture_marks(furniture));
    }
    all
}

/// The labels of a plate and the names of sizes, each with the index of its piece.
fn labels(sheet: &Sheet) -> impl Iterator<Item = (usize, &Label)> {
    let last = sheet.pieces.len().saturating_sub(1);
    let own = sheet.labels.iter().enumerate();
    let own = own.map(move |(index, label)| (index.min(last), label));
    let pieces = sheet.pieces.iter().enumerate();
    let names = pieces.flat_map(|(index, piece)| piece.names.iter().map(move |name| (index, name)));
    own.chain(names)
}

fn label_of(sheet: &Sheet, of: usize, sizes: &[SizedPieces]) -> String {
    let key = &sheet.pieces[of].piece;
    let mut all = sizes.iter().flat_map(|size| &size.pieces);
    let title = all
        .find(|piece| piece.key == *key)
        .map(|piece| &piece.title);
    format!("the label of {}", title.unwrap_or(key))
}

fn line_at(line: &TextLine, of: usize, what: &str) -> IntendedWordsAt {
    IntendedWordsAt {
        words: line.text.clone(),
        at: line.at,
        centred: line.centred,
        within: WITHIN,
        of,
        what: what.to_string(),
    }
}

fn centred(words: String, at: Point, within: f64, what: &str) -> IntendedWordsAt {
    IntendedWordsAt {
        words,
        at,
        centred: true,
        within,
        of: 0,
        what: what.to_string(),
    }
}

fn furniture_words(furniture: &Furniture) -> Vec<IntendedWordsAt> {
    let [along, down] = JOIN_NUMBER;
    let mut all = Vec::new();
    for join in &furniture.joins {
        let at = join.at + join.into * along + kurbo::Vec2::new(0.0, down);
        all.push(centred(join.number.to_string(), at, WITHIN, "a join mark"));
    }
    let figures = furniture
        .ticks
        .iter()
        .filter_map(|(_, words)| words.as_ref());
    all.extend(figures.map(|(at, text)| centred(text.clone(), *at, WITHIN, "a tick")));
    let small = |(cell, ..): &(Rect, String, bool)| cell.width().min(cell.height()) < LETTERED_FROM;
    let maps = furniture.map.iter();
    for map in maps.filter(|map| !map.cells.iter().any(small)) {
        for (cell, letter, _) in &map.cells {
            let within = cell.width().max(cell.height()) / 2.0;
            let at = cell.center() + map.at.to_vec2();
            all.push(centred(letter.clone(), at, within, "the map of the sheets"));
        }
    }
    all
}

fn furniture_marks(furniture: &Furniture) -> Vec<IntendedMark> {
    let frame = Rect::from_origin_size(Point::ZERO, furniture.frame);
    let mut all = vec![mark(frame, 0, "the frame of the sheet")];
    let lay_on = furniture.lay_on.iter();
    all.extend(lay_on.map(|line| mark(box_of(*line), 0, "the line to lay the next sheet on")));
    let ticks = furniture.ticks.iter();
    all.extend(ticks.map(|(line, _)| mark(box_of(*line), 0, "a tick")));
    let cells = |map: &PageMap| {
        let by = map.at.to_vec2();
        let cells = map.cells.iter();
        let cell = |(cell, _, here): &(Rect, String, bool)| IntendedMark {
            tinted: Some(*here),
            ..mark(*cell + by, 0, "a cell of the map of the sheets")
        };
        cells.map(cell).collect::<Vec<_>>()
    };
    all.extend(furniture.map.iter().flat_map(cells));
    all
}

fn mark(bounds: Rect, of: usize, what: &str) -> IntendedMark {
    IntendedMark {
        bounds,
        tinted: None,
        of,
        what: what.to_string(),
    }
}

fn box_of(line: Line) -> Rect {
    Rect::from_points(line.p0, line.p1)
}

//! Old against new, drawn: the old seam line dashed in grey, the new one solid, an arrow where the
//! outline moved most, pointing the way it moved. One user unit is one millimetre of the piece; line
//! widths are millimetres on paper.

use super::compare::{Comparison, Kind, PieceChange};
use super::displacement::{Displacement, course, seam_line};
use super::record::{Content, PieceRecord};
use crate::geometry::curve;
use crate::plates::svg::{INK, number, path_data};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// Grey of old outlines.
const GREY: &str = "#57534d";
/// Colour of the arrow.
const MADDER: &str = "#8e2a1e";
/// Length of the arrow on paper, mm, and its distance from the outline.
const ARROW: f64 = 5.0;
const CLEAR: f64 = 0.8;

/// A piece drawn in both editions.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlaid {
    /// The elements of the drawing, without the file around them.
    pub elements: String,
    /// Their room, mm on paper.
    pub room: Rect,
    /// In words.
    pub title: String,
}

/// The piece of `change` in both editions, at `scale`: 1 is true size. `None` if neither has it.
pub fn overlaid(
    (old, new): (&Content, &Content),
    change: &PieceChange,
    scale: f64,
) -> Option<Overlaid> {
    let find = |content: &'_ Content| -> Option<PieceRecord> {
        let size = content.sizes.iter().find(|size| size.size == change.size)?;
        size.pieces
            .iter()
            .find(|piece| piece.piece == change.piece)
            .cloned()
    };
    let before = find(old).filter(|_| change.kind != Kind::Added);
    let after = find(new).filter(|_| change.kind != Kind::Removed);
    let laid = change.moved.as_ref().map_or(Vec2::ZERO, |moved| moved.laid);
    let to_paper = Affine::scale(scale);
    let before = before.map(|piece| to_paper * (Affine::translate(laid) * seam_line(&piece)));
    let after_line = after.as_ref().map(|piece| to_paper * seam_line(piece));
    let lines = before.iter().chain(&after_line);
    let mut room = lines.map(Shape::bounding_box).reduce(|a, b| a.union(b))?;
    let mut elements = String::new();
    if let Some(path) = &before {
        elements.push_str(&line(path, GREY, "0.3", " stroke-dasharray=\"1.4 0.9\""));
    }
    if let Some(path) = &after_line {
        elements.push_str(&line(path, INK, "0.45", ""));
    }
    if let (Some(moved), Some(piece)) = (&change.moved, &after) {
        let (text, tip) = arrow(moved, &outward(piece, moved), scale);
        elements.push_str(&text);
        room = room.union(tip);
    }
    Some(Overlaid {
        elements,
        room: room.inset(0.4),
        title: change.title.clone(),
    })
}

fn line(path: &BezPath, colour: &str, width: &str, more: &str) -> String {
    let data = path_data(path);
    format!(
        "<path d=\"{data}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\"{more}/>\n"
    )
}

/// The outward normal of the new outline where it moved most.
fn outward(piece: &PieceRecord, moved: &Displacement) -> Vec2 {
    let middle = seam_line(piece).bounding_box().center();
    let edge = piece.edges.iter().find(|edge| edge.edge == moved.edge);
    let along = edge.map(course).unwrap_or_default();
    let whole = curve::length(&along, 1e-4);
    let station = curve::station(&along, moved.share * whole, 1e-4);
    let away = moved.to - middle;
    match station.map(|station| station.tangent) {
        // at a corner neither edge's normal is better: away from the middle is
        Some(t) if (0.02..0.98).contains(&moved.share) => Vec2::new(t.y, -t.x),
        _ if away.hypot() > 1e-9 => away / away.hypot(),
        _ => Vec2::new(0.0, -1.0),
    }
}

/// An arrow outside the outline that points the way it moved, and its room.
fn arrow(moved: &Displacement, outward: &Vec2, scale: f64) -> (String, Rect) {
    let went = moved.to - moved.from;
    let out = went.dot(*outward) >= 0.0;
    let outer = if out { moved.to } else { moved.from };
    let near = (outer.to_vec2() * scale).to_point() + *outward * CLEAR;
    let far = near + *outward * ARROW;
    let (tail, tip) = if out { (near, far) } else { (far, near) };
    let along = (tip - tail) / ARROW;
    let across = Vec2::new(-along.y, along.x);
    let neck = tip - along * 2.4;
    let corners = [tip, neck + across * 0.9, neck - across * 0.9];
    let at = |p: Point| format!("{} {}", number(p.x), number(p.y));
    let text = format!(
        "<path d=\"M{}L{}\" stroke=\"{MADDER}\" stroke-width=\"0.35\"/>\n\
         <path d=\"M{}L{}L{}Z\" fill=\"{MADDER}\"/>\n",
        at(tail),
        at(neck),
        at(corners[0]),
        at(corners[1]),
        at(corners[2])
    );
    let room = Rect::from_points(tail, tip).inset(1.2);
    (text, room)
}

/// A drawing by itself: its upper left corner is that of the room.
pub fn drawing(one: &Overlaid) -> Vec<u8> {
    let (w, h) = (number(one.room.width()), number(one.room.height()));
    let (x, y) = (number(-one.room.x0), number(-one.room.y0));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\">\n<g transform=\"translate({x} {y})\">\n{}</g>\n</svg>\n",
        one.elements
    )
    .into_bytes()
}

/// Within so many bytes of its beginning a sheet says what it is.
pub const HEAD: u64 = 1000;

/// By which a sheet is known again as one that was drawn here.
const DRAWN: &str = "<!-- old against new, drawn by pressfoot -->";

/// Whether a file holds a sheet that was drawn here, and may be drawn anew.
pub fn is_drawn(text: &str) -> bool {
    text.starts_with("<svg ") && text.lines().nth(1) == Some(DRAWN)
}

/// Width of the sheet on which all pieces are drawn, mm, and the gap between them.
const SHEET: f64 = 420.0;
const GAP: f64 = 10.0;

/// Size of the words below each piece, mm, how wide a letter is at most, and the height of two lines.
const TYPE: f64 = 3.2;
const LETTER: f64 = 0.62 * TYPE;
const LINES: f64 = 10.0;

/// All pieces that moved, came or went, at true size in rows on one drawing, each with its title, its size
/// and how far it moved. `None` if there is none.
pub fn sheet((old, new): (&Content, &Content), comparison: &Comparison) -> Option<Vec<u8>> {
    let (mut x, mut y, mut high, mut wide) = (GAP, GAP, 0.0_f64, 0.0_f64);
    let mut body = String::new();
    for change in comparison.pieces.iter().filter(|change| change.is_shown()) {
        let Some(one) = overlaid((old, new), change, 1.0) else {
            continue;
        };
        let lines = change.in_words();
        let letters = lines
            .iter()
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        let width = one.room.width().max(letters as f64 * LETTER);
        if x > GAP && x + width > SHEET {
            (x, y, high) = (GAP, y + high + GAP, 0.0);
        }
        let at = Point::new(x, y);
        body.push_str(&with_words(&one, &lines, at));
        wide = wide.max(x + width + GAP);
        x += width + GAP;
        high = high.max(one.room.height() + LINES);
    }
    let (w, h) = (number(wide), number(y + high + GAP));
    (!body.is_empty()).then(|| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\">\n{DRAWN}\n<rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n\
             {body}</svg>\n"
        )
        .into_bytes()
    })
}

/// A drawing whose upper left corner is `at`, with two lines of words below it.
fn with_words(one: &Overlaid, lines: &[String; 2], at: Point) -> String {
    let (dx, dy) = (number(at.x - one.room.x0), number(at.y - one.room.y0));
    let elements = &one.elements;
    let mut text = format!("<g transform=\"translate({dx} {dy})\">\n{elements}</g>\n");
    for (line, down) in lines.iter().zip([5.0, 9.2]) {
        let (x, y) = (number(at.x), number(at.y + one.room.height() + down));
        let words = escaped(line);
        text.push_str(&format!(
            "<text x=\"{x}\" y=\"{y}\" font-family=\"sans-serif\" font-size=\"{TYPE}\" \
             fill=\"{INK}\">{words}</text>\n"
        ));
    }
    text
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

impl PieceChange {
    /// Whether its change can be drawn.
    pub fn is_shown(&self) -> bool {
        self.kind != Kind::Changed || self.moved.is_some()
    }

    /// `2 Toe piece, Large` and `up to 1.00 mm, sole edge`.
    fn in_words(&self) -> [String; 2] {
        let what = match &self.moved {
            Some(moved) => format!("up to {:.2} mm, {}", moved.mm, moved.edge),
            None => self.kind.word().to_string(),
        };
        [
            format!("{} {}, {}", self.number, self.title, self.size_title),
            what,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edition::compare;
    use crate::edition::displacement::tests::board;
    use crate::edition::file::tests::record;

    #[test]
    fn a_sheet_is_known_again_and_another_drawing_is_not() {
        let old = record().content;
        let mut new = old.clone();
        new.sizes[0].pieces[0] = board(&[(0.0, 0.0), (90.0, 0.0), (80.0, 40.0), (0.0, 40.0)]);
        let drawn = sheet((&old, &new), &compare(&old, &new)).unwrap();
        let text = String::from_utf8(drawn).unwrap();
        assert!(is_drawn(&text) && roxmltree::Document::parse(&text).is_ok());
        assert!(!is_drawn(
            "<svg xmlns=\"http://www.w3.org/2000/svg\">\n<path/>\n</svg>\n"
        ));
        assert!(!is_drawn(&format!("notes\n{DRAWN}\n")) && !is_drawn(""));
    }
}

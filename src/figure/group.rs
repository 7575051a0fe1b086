//! Several pieces of one size drawn side by side at one scale. Millimetres on paper.

use super::small::{self, Manner};
use super::tint::Tint;
use super::{Figure, scale_words};
use crate::language::Words;
use crate::piece::Piece;
use crate::plates::svg::Svg;
use kurbo::{Point, Vec2};

/// Space between pieces, and between rows.
const GAP: f64 = 6.0;
/// Room of a number under its piece.
const NUMBER_ROOM: f64 = 5.0;

/// How pieces are shown together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Room across, mm.
    pub width: f64,
    /// Room down, mm.
    pub height: f64,
    /// Which side is seen.
    pub tint: Tint,
    /// Whether seam lines are drawn.
    pub seam_lines: bool,
    /// Whether each piece has its number under it.
    pub numbers: bool,
}

impl Look {
    /// Right sides up, with seam lines and numbers, in this room.
    pub fn within(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            tint: Tint::Right,
            seam_lines: true,
            numbers: true,
        }
    }
}

/// One row: indices of its pieces, its width and height.
type Row = (Vec<usize>, Vec2);

/// `pieces` in rows, in their order, at the largest scale in whole percent, at most 100, at which
/// all fit the room of `look` (at least 3).
pub fn pieces(pieces: &[&Piece], look: &Look, words: &Words) -> Figure {
    let scale = largest_scale(|scale| {
        let rows = rows(pieces, look, scale);
        let size = extent(&rows);
        size.x <= look.width && size.y <= look.height
    });
    let rows = rows(pieces, look, scale);
    let size = extent(&rows);
    let mut svg = Svg::new(size.x, size.y);
    let manner = Manner {
        tint: look.tint,
        seam_lines: look.seam_lines,
        notches: true,
    };
    let mut top = 0.0;
    for (row, room) in &rows {
        // rows are centred, and pieces stand on a common foot line
        let mut x = (size.x - room.x) / 2.0;
        let number_room = if look.numbers { NUMBER_ROOM } else { 0.0 };
        for index in row {
            let piece = pieces[*index];
            let own = small::size(piece, scale);
            let at = Point::new(x, top + room.y - number_room - own.y);
            let id = format!("p{index}");
            small::draw(
                &mut svg,
                piece,
                small::placed(piece, scale, at),
                manner,
                &id,
            );
            if look.numbers {
                let middle = Point::new(x + own.x / 2.0, top + room.y - NUMBER_ROOM / 2.0);
                svg.fill(&small::numeral(piece.number, middle));
            }
            x += own.x + GAP;
        }
        top += room.y + GAP;
    }
    Figure {
        svg: svg.finish(),
        width: size.x,
        height: size.y,
        alt: alt(pieces, look.tint, scale, words),
        scale,
    }
}

/// The largest scale in whole percent that `fits`; 3 % if none does.
pub fn largest_scale(fits: impl Fn(f64) -> bool) -> f64 {
    let percent = (3..=100).rev().find(|p| fits(f64::from(*p) / 100.0));
    f64::from(percent.unwrap_or(3)) / 100.0
}

fn rows(pieces: &[&Piece], look: &Look, scale: f64) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    let number_room = if look.numbers { NUMBER_ROOM } else { 0.0 };
    for (index, piece) in pieces.iter().enumerate() {
        let own = small::size(piece, scale) + Vec2::new(0.0, number_room);
        match rows.last_mut() {
            Some((row, room)) if room.x + GAP + own.x <= look.width => {
                row.push(index);
                *room = Vec2::new(room.x + GAP + own.x, room.y.max(own.y));
            }
            _ => rows.push((vec![index], own)),
        }
    }
    rows
}

fn extent(rows: &[Row]) -> Vec2 {
    let width = rows.iter().map(|r| r.1.x).fold(0.0, f64::max);
    let height: f64 = rows.iter().map(|r| r.1.y).sum();
    let gaps = rows.len().saturating_sub(1) as f64 * GAP;
    Vec2::new(width.max(1.0), (height + gaps).max(1.0))
}

fn alt(pieces: &[&Piece], tint: Tint, scale: f64, words: &Words) -> String {
    let names: Vec<String> = pieces
        .iter()
        .map(|p| format!("{} {}", p.number, p.title))
        .collect();
    let key = match tint {
        Tint::Right => "figures.pieces",
        Tint::Wrong => "figures.pieces wrong",
        Tint::Lining => "figures.pieces lining",
        Tint::Stiffener => "figures.pieces stiffener",
    };
    let (names, scale) = (words.joined(&names), scale_words(scale, words));
    words.say(key, &[("pieces", &names), ("scale", &scale)])
}

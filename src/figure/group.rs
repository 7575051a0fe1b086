//! Several pieces of one size drawn side by side at one scale. Millimetres on paper.

use super::small::{self, Manner};
use super::tint::Tint;
use super::{Figure, scale_words};
use crate::language::Words;
use crate::piece::Piece;
use crate::plates::svg::Svg;
use kurbo::{Point, Shape, Vec2};

/// Space between pieces, and between rows.
const GAP: f64 = 6.0;
/// Room of a number, or of number and name, under its piece.
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
    /// What stands under each piece.
    pub under: Under,
}

/// What stands under a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Under {
    /// Nothing.
    Nothing,
    /// Its number.
    Number,
    /// Number and name.
    Name,
}

impl Look {
    /// Right sides up, with seam lines and names, in this room.
    pub fn within(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            tint: Tint::Right,
            seam_lines: true,
            under: Under::Name,
        }
    }
}

impl Under {
    fn words(self, piece: &Piece) -> Option<String> {
        match self {
            Self::Nothing => None,
            Self::Number => Some(piece.number.to_string()),
            Self::Name => Some(format!("{} {}", piece.number, piece.title)),
        }
    }

    fn room(self) -> f64 {
        match self {
            Self::Nothing => 0.0,
            Self::Number | Self::Name => NUMBER_ROOM,
        }
    }
}

/// Room of a piece with what stands under it.
fn field(piece: &Piece, look: &Look, scale: f64) -> Vec2 {
    let own = small::size(piece, scale);
    let words = look.under.words(piece);
    let wide = words.map_or(0.0, |words| {
        small::caption(&words, Point::ZERO).bounding_box().width()
    });
    Vec2::new(own.x.max(wide), own.y + look.under.room())
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
        for index in row {
            let piece = pieces[*index];
            let own = small::size(piece, scale);
            let field = field(piece, look, scale);
            let at = Point::new(
                x + (field.x - own.x) / 2.0,
                top + room.y - look.under.room() - own.y,
            );
            let id = format!("p{index}");
            small::draw(
                &mut svg,
                piece,
                small::placed(piece, scale, at),
                manner,
                &id,
            );
            let middle = Point::new(x + field.x / 2.0, top + room.y - NUMBER_ROOM / 2.0);
            if let Some(words) = look.under.words(piece) {
                svg.fill(&small::caption(&words, middle));
            }
            x += field.x + GAP;
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
    for (index, piece) in pieces.iter().enumerate() {
        let own = field(piece, look, scale);
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

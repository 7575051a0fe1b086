//! The pieces one by one at a common scale, for the key. Millimetres on paper.

use super::group::largest_scale;
use super::small::{self, Manner};
use super::tint::Tint;
use super::{Figure, scale_words};
use crate::language::Words;
use crate::piece::Piece;
use crate::plates::svg::Svg;
use kurbo::Point;

/// One figure per piece, all at the largest scale in whole percent at which each fits a room of
/// `width` by `height` mm. Outlines only, as the key shows them; the number is set beneath by the
/// page.
pub fn key(pieces: &[&Piece], width: f64, height: f64, words: &Words) -> Vec<Figure> {
    let scale = largest_scale(|scale| {
        pieces.iter().all(|p| {
            let size = small::size(p, scale);
            size.x <= width && size.y <= height
        })
    });
    pieces.iter().map(|p| one(p, scale, words)).collect()
}

fn one(piece: &Piece, scale: f64, words: &Words) -> Figure {
    let size = small::size(piece, scale);
    let mut svg = Svg::new(size.x, size.y);
    let manner = Manner {
        tint: Tint::Right,
        seam_lines: false,
        notches: false,
    };
    small::draw(
        &mut svg,
        piece,
        small::placed(piece, scale, Point::ZERO),
        manner,
        "p",
    );
    Figure {
        svg: svg.finish(),
        width: size.x,
        height: size.y,
        alt: words.say(
            "figures.outline",
            &[
                ("number", &piece.number),
                ("piece", &piece.title),
                ("scale", &scale_words(scale, words)),
            ],
        ),
        scale,
    }
}

//! Number and name of a piece in its drawing.

use super::{Drawn, rounded};
use crate::geometry::ring::crossings;
use crate::materials::LayPiece;
use crate::plates::field::{flat, is_clear};
use crate::plates::lettering::{self, Face};
use kurbo::{Affine, BezPath, Circle, Line, ParamCurveNearest, Point, Rect, Shape};

/// Sizes that are tried for number and name, and for the number alone, points.
const WITH_NAME: [f64; 3] = [8.0, 7.0, 6.2];
const ALONE: [f64; 4] = [9.0, 8.0, 7.0, 6.2];

/// A number keeps this clear of the cut line, mm; with its name it looks squeezed unless it keeps more.
const CLEAR: f64 = 0.6;
const CLEAR_NAME: f64 = 1.1;

/// Letters keep this clear of a grain line and a fold, mm: nearer, a numeral is read as a part of the arrow.
const CLEAR_INNER: f64 = 1.0;

/// Width of the white round letters, half of it beyond them.
const HALO: f64 = 0.9;

/// Places are tried on a grid of so many steps each way.
const STEPS: usize = 24;

/// A place is as good as the widest of a narrow piece from this share of its distance from the cut line.
const AS_WIDE: f64 = 0.9;

/// A label, ready to be drawn.
pub(super) struct Label {
    /// White below the letters, which goes over tints and hatching and below the cut lines.
    pub(super) ground: BezPath,
    /// The letters.
    pub(super) letters: BezPath,
}

/// Number and name, or the number alone, where they stand clear of the cut line, and of grain line
/// and fold if they can; `larger` than usual by this factor. `None` if no point of a grid is inside.
pub(super) fn of(shown: &Drawn, piece: &LayPiece, larger: f64) -> Option<Label> {
    let path = &shown.path;
    let cut = flat(path, 0.02);
    let ring: Vec<Point> = cut.iter().map(|line| line.p0).collect();
    let inner: Vec<Line> = shown.grain.into_iter().chain(shown.fold).collect();
    let number = piece.number.to_string();
    let whole = format!("{number} {}", piece.title);
    let named = WITH_NAME
        .iter()
        .map(|size| (whole.as_str(), *size * larger));
    let alone = ALONE.iter().map(|size| (number.as_str(), *size * larger));
    let tries: Vec<(&str, f64)> = named.chain(alone).collect();
    // beside the lines with white between, then without, then on them
    let ways: [(&[Line], f64); 3] = [(&inner, CLEAR_INNER), (&inner, CLEAR), (&[], CLEAR)];
    let apart = if inner.is_empty() { 1 } else { ways.len() };
    let ways = ways.into_iter().take(apart);
    let places = grid(&ring, path.bounding_box());
    for ((words, size), inner) in ways.flat_map(|way| tries.iter().map(move |words| (words, way))) {
        let text = lettering::outlines(words, Face::Bold, *size);
        let room = text.bounding_box();
        let clear = if *words == number { CLEAR } else { CLEAR_NAME };
        if let Some(at) = place(&places, [(&cut, clear), inner], room) {
            let text = rounded(&(Affine::translate(at - room.center()) * text));
            // white round the letters keeps them clear of the hatching; round at corners too, or it would
            // reach out of them through the cut line
            let round = kurbo::Stroke::new(HALO).with_join(kurbo::Join::Round);
            let halo = kurbo::stroke(&text, &round, &kurbo::StrokeOpts::default(), 0.02);
            return Some(Label {
                ground: rounded(&halo),
                letters: text,
            });
        }
    }
    on_disc((&places, &cut), path.bounding_box(), (&number, larger))
}

/// The middle of a place for a box of this size: the first at which it is so far clear of all lines.
fn place(places: &[Point], lines: [(&[Line], f64); 2], room: Rect) -> Option<Point> {
    let size = room.size();
    let fits = |at: &&Point| {
        let taken = Rect::from_center_size(**at, size);
        let mut lines = lines.iter();
        lines.all(|(lines, clear)| is_clear(*lines, taken, *clear))
    };
    places.iter().find(fits).copied()
}

/// The points inside the ring of its box's middle and a grid over the box, from near to far, so that few of
/// them are tried.
fn grid(ring: &[Point], bounds: Rect) -> Vec<Point> {
    let middle = bounds.center();
    let share = |i: usize| (i as f64 + 0.5) / STEPS as f64;
    let inside = |row: Vec<f64>, y: f64| {
        let crossed = crossings(ring, y);
        let holds = move |x: &f64| crossed.iter().filter(|c| *x < **c).count() % 2 == 1;
        let row = row.into_iter().filter(holds);
        row.map(|x| Point::new(x, y)).collect::<Vec<Point>>()
    };
    let columns: Vec<f64> = (0..STEPS)
        .map(|i| bounds.x0 + share(i) * bounds.width())
        .collect();
    let rows = (0..STEPS).map(|i| bounds.y0 + share(i) * bounds.height());
    let mut grid: Vec<Point> = rows.flat_map(|y| inside(columns.clone(), y)).collect();
    grid.sort_by(|a, b| {
        a.distance_squared(middle)
            .total_cmp(&b.distance_squared(middle))
    });
    grid.splice(0..0, inside(vec![middle.x], middle.y));
    grid
}

/// The number on a white disc, which covers a piece too small for it in part: where the piece is widest, as
/// near to its middle as can be.
fn on_disc(
    (places, cut): (&[Point], &[Line]),
    bounds: Rect,
    (number, larger): (&str, f64),
) -> Option<Label> {
    let depth = |p: Point| {
        let near = cut.iter().map(|line| line.nearest(p, 1e-3).distance_sq);
        near.reduce(f64::min).unwrap_or(0.0).sqrt()
    };
    let all: Vec<(Point, f64)> = places.iter().map(|p| (*p, depth(*p))).collect();
    let most = all.iter().map(|(_, depth)| *depth).reduce(f64::max)?;
    let (at, _) = *all.iter().find(|(_, depth)| *depth >= AS_WIDE * most)?;
    let numeral = |larger: f64| lettering::outlines(number, Face::Bold, ALONE[3] * larger);
    let across = |text: &BezPath| {
        text.bounding_box()
            .width()
            .max(text.bounding_box().height())
    };
    let narrow = bounds.width().min(bounds.height());
    // a numeral that hides the whole piece names nothing
    let text = match across(&numeral(larger)) + 1.0 > narrow {
        true => numeral(larger.min(1.0)),
        false => numeral(larger),
    };
    let room = text.bounding_box();
    let disc = Circle::new(at, across(&text) / 2.0 + 0.5);
    Some(Label {
        ground: rounded(&disc.to_path(1e-3)),
        letters: rounded(&(Affine::translate(at - room.center()) * text)),
    })
}

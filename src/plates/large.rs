//! Plates on which the squares cannot stand in their usual place, because a large piece takes it:
//! room for the squares, and for words, is looked for among the lines. Millimetres, in the axes of
//! the live area.

use super::caption;
use super::drawing::Drawing;
use super::field::{Field, Mask, sides};
use super::label::{self, Label};
use super::pack::Free;
use super::plan::{BAND_HEAD, BandDraft, GAP, PlateDraft};
use super::square::{self, Square};
use super::variant::{Item, SCALES, Variant};
use kurbo::{Line, Point, Rect, Size, Vec2};
use std::rc::Rc;

/// A plate for a piece too large to leave the squares their usual place: the squares stand where
/// they are clear of all lines. `None` if they are nowhere.
pub fn large_plate(item: &Item, size: usize, live: Size) -> Option<PlateDraft> {
    let area = Rect::from_origin_size(Point::ZERO, live);
    let mut best: Option<(usize, PlateDraft)> = None;
    for variant in &item.variants {
        let room = variant.bounds.size();
        if room.width > live.width || room.height > live.height {
            continue;
        }
        let head = room.height + BAND_HEAD <= live.height;
        let top = if head { BAND_HEAD } else { 0.0 };
        let corners = [
            Point::new(0.0, top),
            Point::new(live.width - room.width, top),
            Point::new(0.0, live.height - room.height),
        ];
        for at in corners {
            let by = at - variant.bounds.origin();
            let Some((squares, variant)) = squares_beside(variant, by, head, area) else {
                continue;
            };
            let inside = squares.iter().filter(|s| s.in_piece).count()
                + usize::from(variant.label.is_none()) * 4;
            if best.as_ref().is_none_or(|b| inside < b.0) {
                let mut free = Free::new(Rect::new(0.0, top, live.width, live.height), GAP);
                squares.iter().for_each(|s| free.take(s.bounds()));
                let mut draft = PlateDraft {
                    bands: vec![BandDraft {
                        size,
                        left: 0.0,
                        width: live.width,
                        top: head.then_some(0.0),
                        laid: Vec::new(),
                    }],
                    squares,
                    usual: false,
                    free,
                    close: false,
                };
                draft.lay(item.piece, variant, at);
                best = Some((inside, draft));
            }
        }
    }
    best.map(|b| b.1)
}

fn squares_beside(
    variant: &Variant,
    by: Vec2,
    head: bool,
    area: Rect,
) -> Option<([Square; 2], Variant)> {
    let label = variant.label.clone().map(|l| l.moved(by));
    let mut rects: Vec<Rect> = label.iter().map(Label::bounds).collect();
    rects.extend(variant.captions.iter().map(|c| caption::bounds(c) + by));
    rects.extend(variant.names.iter().map(|n| n.bounds() + by));
    if head {
        rects.push(Rect::new(0.0, 0.0, area.x1, BAND_HEAD - 3.0));
    }
    let pieces = [(&variant.drawing, by)];
    let find = |rects: &[Rect]| {
        let (outside, inside) = fields(&pieces, &[], rects, area);
        square::find(&outside, &inside, area).map(|s| (s, outside, inside))
    };
    if let Some((squares, outside, _)) = find(&rects) {
        let mut variant = variant.clone();
        if variant.label.is_none() {
            // no label found a place by a leader: anywhere clear of everything will do
            let mut mask = outside.mask();
            squares.iter().for_each(|s| mask.block_rect(s.bounds()));
            let target = (variant.drawing.bounds() + by).center();
            variant.label =
                label::inside(&variant.words, &mask.seal(), target, &SCALES).map(|l| l.moved(-by));
            if let Some(label) = &variant.label {
                variant.bounds = variant.bounds.union(label.bounds());
            }
        }
        return Some((squares, variant));
    }
    // the label may have taken the squares' only place: squares first, then the label again
    let (squares, _, inside) = find(&rects[label.iter().count()..])?;
    let mut mask = inside.mask();
    squares.iter().for_each(|s| mask.block_rect(s.bounds()));
    let target = (variant.drawing.bounds() + by).center();
    let label = label::inside(&variant.words, &mask.seal(), target, &SCALES)?.moved(-by);
    let mut variant = variant.clone();
    variant.bounds = variant.drawn().union(label.bounds());
    variant.label = Some(label);
    Some((squares, variant))
}

/// Room for words of `size` on a plate: right of the squares where they stand in their usual
/// place, else wherever it is clear, as low and as far left as it comes.
pub fn words_room(plate: &PlateDraft, size: (f64, f64), live: Size) -> Option<Rect> {
    if plate.usual {
        let at = Point::new(plate.squares[1].bounds().x1 + 7.0, plate.squares[1].at.y);
        let width = size.0.min(live.width - at.x);
        return Some(Rect::new(at.x, at.y, at.x + width, live.height));
    }
    let area = Rect::from_origin_size(Point::ZERO, live);
    let laid = || plate.bands.iter().flat_map(|b| &b.laid);
    let pieces: Vec<_> = laid().map(|l| (&l.variant.drawing, l.by)).collect();
    let mut rects: Vec<Rect> = plate.squares.iter().map(Square::bounds).collect();
    for l in laid() {
        let labels = l.variant.label.iter().chain(&l.variant.names);
        rects.extend(labels.map(|label| label.bounds() + l.by));
    }
    if plate.bands.iter().any(|b| b.top.is_some()) {
        rects.push(Rect::new(0.0, 0.0, live.width, BAND_HEAD));
    }
    let (outside, _) = fields(&pieces, &[], &rects, area);
    outside.place(size, 4.0, |r| 2.0 * (live.height - r.y1) + r.x0)
}

/// The fields outside and inside of pieces laid at their places, clear of their lines, of further
/// lines and of rectangles.
pub fn fields(
    pieces: &[(&Rc<Drawing>, Vec2)],
    lines: &[Line],
    rects: &[Rect],
    area: Rect,
) -> (Field, Field) {
    let mut mask = Mask::new(area, 1.0);
    let mut rings: Vec<Vec<Point>> = Vec::new();
    for (drawing, by) in pieces {
        let moved: Vec<Line> = drawing.lines().map(|l| *l + *by).collect();
        mask.block_lines(&moved);
        let moved = |ring: &[Point]| ring.iter().map(|p| *p + *by).collect();
        rings.extend(drawing.sizes.iter().map(|s| moved(&s.ring)));
    }
    mask.block_lines(lines);
    for rect in rects {
        mask.block_rect(*rect);
        mask.block_lines(&sides(*rect));
    }
    let (mut outside, mut inside) = (mask.clone(), mask);
    outside.block_rings(rings.iter().map(|r| &r[..]), true);
    inside.block_rings(rings.iter().map(|r| &r[..]), false);
    (outside.seal(), inside.seal())
}

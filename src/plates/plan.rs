//! Packing the pieces that fit the live area on plates, size by size, each size under its own band
//! head. Millimetres, in the axes of the live area.
//!
//! Pieces are packed as boxes that hold piece and label, by first fit in several orders, of which
//! the one with the fewest plates wins; the order by area is among them.

use super::field::{Field, Mask, sides};
use super::label::{self, Label};
use super::pack::Free;
use super::square::{self, STRIP, Square};
use super::variant::Variant;
use kurbo::{Line, Point, Rect, Size, Vec2};
use std::rc::Rc;

/// Height of a band head with the space under it.
pub const BAND_HEAD: f64 = 12.0;

/// Space between the bands of two sizes on one plate.
const BAND_GAP: f64 = 9.0;

/// Pieces and labels of different pieces keep this far apart.
pub const GAP: f64 = 6.0;

/// A piece to be packed.
#[derive(Debug, Clone)]
pub struct Item {
    /// Index of the piece among the pieces of its size.
    pub piece: usize,
    /// The ways to lay it; not empty.
    pub variants: Vec<Variant>,
}

/// A piece in place: its variant, moved by `by`.
#[derive(Debug, Clone)]
pub struct Laid {
    /// Index of the piece in its size.
    pub piece: usize,
    /// How it lies.
    pub variant: Variant,
    /// Where: from the drawing's axes to those of the live area.
    pub by: Vec2,
}

/// The pieces of one size on a plate.
#[derive(Debug, Clone)]
pub struct BandDraft {
    /// Index of the size.
    pub size: usize,
    /// Top of its head; none if there is no room for a head.
    pub top: Option<f64>,
    /// The pieces.
    pub laid: Vec<Laid>,
}

/// A plate being filled.
#[derive(Debug, Clone)]
pub struct PlateDraft {
    /// Its bands.
    pub bands: Vec<BandDraft>,
    /// Its squares.
    pub squares: [Square; 2],
    /// Whether the squares stand in their usual place, with room for words beside them.
    pub usual: bool,
    free: Free,
}

impl PlateDraft {
    fn strip(size: usize, live: Size, top: f64) -> Self {
        let area = Rect::new(0.0, top + BAND_HEAD, live.width, live.height - STRIP);
        Self {
            bands: vec![BandDraft {
                size,
                top: Some(top),
                laid: Vec::new(),
            }],
            squares: square::usual(live.height),
            usual: true,
            free: Free::new(area, GAP),
        }
    }

    /// Lays `item` where its lower edge stands highest; whether there was room.
    fn add(&mut self, item: &Item) -> bool {
        let mut best: Option<((f64, f64, f64), &Variant, Point)> = None;
        for variant in item.variants.iter().filter(|v| v.label.is_some()) {
            let size = variant.bounds.size();
            if let Some(at) = self.free.find(size.width, size.height) {
                let key = (at.y + size.height, size.area(), at.x);
                if best.as_ref().is_none_or(|b| key < b.0) {
                    best = Some((key, variant, at));
                }
            }
        }
        let Some((_, variant, at)) = best else {
            return false;
        };
        self.lay(item.piece, variant.clone(), at);
        true
    }

    fn lay(&mut self, piece: usize, variant: Variant, at: Point) {
        let by = at - variant.bounds.origin();
        self.free.take(variant.bounds + by);
        if let Some(band) = self.bands.last_mut() {
            band.laid.push(Laid { piece, variant, by });
        }
    }

    /// Lower edge of the lowest piece or label.
    pub fn used(&self) -> f64 {
        let laid = self.bands.iter().flat_map(|b| &b.laid);
        laid.map(|l| (l.variant.bounds + l.by).y1)
            .fold(0.0, f64::max)
    }
}

/// Whether one of the item's variants can stand on a plate with its squares in their usual place.
pub fn fits_strip(item: &Item, live: Size) -> bool {
    item.variants.iter().filter(|v| v.label.is_some()).any(|v| {
        v.bounds.width() <= live.width && v.bounds.height() <= live.height - STRIP - BAND_HEAD
    })
}

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
                        top: head.then_some(0.0),
                        laid: Vec::new(),
                    }],
                    squares,
                    usual: false,
                    free,
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
    rects.extend(
        variant
            .captions
            .iter()
            .map(|c| super::caption::bounds(c) + by),
    );
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
            variant.label = label::inside(&variant.words, &mask.seal(), target, &[1.0, 0.84])
                .map(|l| l.moved(-by));
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
    let label = label::inside(&variant.words, &mask.seal(), target, &[1.0, 0.84])?.moved(-by);
    let mut variant = variant.clone();
    variant.bounds = variant.drawing.bounds().union(label.bounds());
    variant.label = Some(label);
    Some((squares, variant))
}

/// The fields outside and inside of pieces laid at their places, clear of their lines, of further
/// lines and of rectangles.
pub fn fields(
    pieces: &[(&Rc<super::drawing::Drawing>, Vec2)],
    lines: &[Line],
    rects: &[Rect],
    area: Rect,
) -> (Field, Field) {
    let mut mask = Mask::new(area, 1.0);
    let mut rings: Vec<Vec<Point>> = Vec::new();
    for (drawing, by) in pieces {
        let moved: Vec<Line> = drawing.lines().map(|l| *l + *by).collect();
        mask.block_lines(&moved);
        rings.push(drawing.ring.iter().map(|p| *p + *by).collect());
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

/// Packs the items of one size: large ones are on `large` plates already, whose room is used first.
pub fn pack(items: &[Item], size: usize, live: Size, large: &[PlateDraft]) -> Vec<PlateDraft> {
    let mut best: Option<((usize, f64), Vec<PlateDraft>)> = None;
    for order in orders(items) {
        let mut plates = large.to_vec();
        for item in order {
            if plates.iter_mut().any(|p| p.add(item)) {
                continue;
            }
            let mut plate = PlateDraft::strip(size, live, 0.0);
            plate.add(item);
            plates.push(plate);
        }
        let used = plates.last().map_or(0.0, PlateDraft::used);
        let key = (plates.len(), used);
        if best
            .as_ref()
            .is_none_or(|b| key.0 < b.0.0 || key.0 == b.0.0 && key.1 < b.0.1 - 1.0)
        {
            best = Some((key, plates));
        }
    }
    best.map_or_else(|| large.to_vec(), |b| b.1)
}

/// Adds a whole further size below the bands of `plate`; whether there was room for all of it.
pub fn share(plate: &PlateDraft, items: &[Item], size: usize, live: Size) -> Option<PlateDraft> {
    let top = plate.used() + BAND_GAP;
    if !plate.usual || top + BAND_HEAD >= live.height - STRIP {
        return None;
    }
    let mut best: Option<(f64, PlateDraft)> = None;
    for order in orders(items) {
        let mut band = PlateDraft::strip(size, live, top);
        if order.into_iter().all(|item| band.add(item)) {
            let used = band.used();
            if best.as_ref().is_none_or(|b| used < b.0 - 1.0) {
                best = Some((used, band));
            }
        }
    }
    let (_, mut band) = best?;
    let mut shared = plate.clone();
    shared.bands.append(&mut band.bands);
    Some(shared)
}

/// The items as given, by area, by height, by width and by their longer side, largest first.
fn orders(items: &[Item]) -> Vec<Vec<&Item>> {
    let given: Vec<&Item> = items.iter().collect();
    let measures: [fn(&Size) -> f64; 4] = [
        |s| s.area(),
        |s| s.height,
        |s| s.width,
        |s| s.width.max(s.height),
    ];
    let mut all = vec![given.clone()];
    for measure in measures {
        let mut order = given.clone();
        let of = |i: &Item| {
            i.variants
                .first()
                .map_or(0.0, |v| measure(&v.bounds.size()))
        };
        order.sort_by(|a, b| of(b).total_cmp(&of(a)).then(a.piece.cmp(&b.piece)));
        all.push(order);
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::piece::SizedPieces;
    use crate::plates::fixtures::{board, job, size};
    use crate::plates::{PlateSet, plan};
    use kurbo::Size;

    fn planned(sizes: &[SizedPieces], paper: &str) -> PlateSet {
        plan(sizes, &job(paper)).expect("the boards fit")
    }

    #[test]
    fn a_page_is_not_wasted() {
        // eight boards of 80 x 40 mm: 2 columns of 3 rows within 180 x 171 mm, with their labels inside
        let boards = (1..=8)
            .map(|i| board(i, &format!("b{i}"), 80.0, 40.0))
            .collect();
        let set = planned(&[size("one", "One size", "", boards)], "a4");
        assert_eq!(set.page_count(), 2);
        assert!(set.sheets[0].paragraphs[1].text.contains("on plate 2"));
    }

    /// Pages that a plain first fit by area needs: boxes in order of falling area, on shelves of
    /// pages whose boxes keep 6 mm apart, in a room of `room`.
    fn first_fit_by_area(boxes: &[Size], room: Size) -> usize {
        let mut boxes = boxes.to_vec();
        boxes.sort_by(|a, b| b.area().total_cmp(&a.area()));
        // a page is a list of shelves: (used width, height)
        let mut pages: Vec<Vec<(f64, f64)>> = Vec::new();
        'boxes: for b in boxes {
            for page in &mut pages {
                for shelf in page.iter_mut() {
                    if shelf.1 >= b.height && shelf.0 + 6.0 + b.width <= room.width {
                        shelf.0 += 6.0 + b.width;
                        continue 'boxes;
                    }
                }
                let used: f64 = page.iter().map(|s| s.1 + 6.0).sum();
                if used + b.height <= room.height {
                    page.push((b.width, b.height));
                    continue 'boxes;
                }
            }
            pages.push(vec![(b.width, b.height)]);
        }
        pages.len()
    }

    #[test]
    fn packing_needs_no_more_pages_than_a_first_fit_by_area() {
        // measures by a linear congruential generator (Lehmer 1951, as in Park and Miller 1988)
        let mut state = 7_u64;
        let mut next = |low: f64, high: f64| {
            state = state * 16_807 % 2_147_483_647;
            low + (high - low) * (state as f64 / 2_147_483_647.0)
        };
        for round in 0..6 {
            let sides: Vec<Size> = (0..14)
                .map(|_| Size::new(next(45.0, 110.0), next(30.0, 90.0)))
                .collect();
            let boards = sides.iter().enumerate();
            let boards = boards.map(|(i, s)| board(i + 1, &format!("b{i}"), s.width, s.height));
            let set = planned(&[size("one", "One size", "", boards.collect())], "a4");
            // room under the band head and above the squares, and the width of the lines
            let inked: Vec<Size> = sides
                .iter()
                .map(|s| Size::new(s.width + 1.0, s.height + 1.0))
                .collect();
            let fit = first_fit_by_area(&inked, Size::new(180.0, 240.0 - 57.0 - 12.0));
            assert!(
                set.page_count() <= fit,
                "round {round}: {} against {fit}",
                set.page_count()
            );
        }
    }
}

//! Packing the pieces that fit the live area on plates, size by size, each size under its own band
//! head. Millimetres, in the axes of the live area.
//!
//! Pieces are packed as boxes that hold piece and label, by first fit in several orders, of which
//! the one with the fewest plates wins; the order by area is among them.

use super::orders::Orders;
use super::pack::Free;
use super::square::{self, STRIP, Square};
use super::variant::{Item, Variant};
use kurbo::{Point, Rect, Size, Vec2};
use std::collections::BTreeSet;

/// Height of a band head with the space under it.
pub const BAND_HEAD: f64 = 12.0;

/// Space between the bands of two sizes on one plate.
pub(super) const BAND_GAP: f64 = 9.0;

/// Pieces and labels of different pieces keep this far apart.
pub const GAP: f64 = 6.0;

/// How many of a piece's ways to lie are tried: first the few that need least room, then all.
pub(super) const CHOICES: [usize; 2] = [3, usize::MAX];

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
    /// Left end of its head.
    pub left: f64,
    /// Width of its head.
    pub width: f64,
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
    /// What is left of its room.
    pub free: Free,
    /// Whether pieces may stand beside slanting sides of others.
    pub close: bool,
}

impl PlateDraft {
    pub(super) fn strip(size: usize, live: Size, top: f64) -> Self {
        let area = Rect::new(0.0, top + BAND_HEAD, live.width, live.height - STRIP);
        Self {
            bands: vec![BandDraft {
                size,
                left: 0.0,
                width: live.width,
                top: Some(top),
                laid: Vec::new(),
            }],
            squares: square::usual(live.height),
            usual: true,
            free: Free::new(area, GAP),
            close: false,
        }
    }

    /// Lays `item` where its lower edge stands highest, in one of its first `choice` ways; whether
    /// there was room.
    pub(super) fn add(&mut self, item: &Item, choice: usize) -> bool {
        let mut best: Option<((f64, f64, f64), &Variant, Point)> = None;
        for variant in item
            .variants
            .iter()
            .take(choice)
            .filter(|v| v.label.is_some())
        {
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

    /// Lays a piece in this way, the upper left of all its room at `at`.
    pub fn lay(&mut self, piece: usize, variant: Variant, at: Point) {
        let by = at - variant.bounds.origin();
        if self.close {
            let rooms = variant.rooms.iter();
            rooms.for_each(|room| self.free.take(*room + by));
        } else {
            self.free.take(variant.bounds + by);
        }
        if let Some(band) = self.bands.last_mut() {
            band.laid.push(Laid { piece, variant, by });
        }
    }

    /// Lower edge of the lowest piece or label, mm down.
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

/// Packs the items of one size: large ones are on `large` plates already, whose room is used first.
pub fn pack(items: &[Item], size: usize, live: Size, large: &[PlateDraft]) -> Vec<PlateDraft> {
    let mut best: Option<((usize, usize, f64), Vec<PlateDraft>)> = None;
    let orders = Orders::of(items);
    for choice in CHOICES {
        for order in orders.sorted() {
            let plates = packed(order, choice, (size, live), (large, false));
            let used = plates.last().map_or(0.0, PlateDraft::used);
            let key = (plates.len(), mixed(&plates, items), used);
            // among the ways with more settings only a whole plate saved counts
            let saves = |b: (usize, usize, f64)| {
                let same = choice == CHOICES[0] && key.0 == b.0;
                key.0 < b.0 || same && (key.1 < b.1 || key.1 == b.1 && key.2 < b.2 - 1.0)
            };
            if best.as_ref().is_none_or(|b| saves(b.0)) {
                best = Some((key, plates));
            }
        }
    }
    let mut best = best.map_or_else(|| large.to_vec(), |b| b.1);
    let least = least_plates(items, live, large.len());
    for order in orders.shuffled() {
        if best.len() <= least {
            break;
        }
        let plates = packed(order, usize::MAX, (size, live), (large, false));
        if plates.len() < best.len() {
            best = plates;
        }
    }
    // beside slanting sides pieces stand less tidily: only where that saves a plate
    let is_loose = |item: &Item| item.variants.iter().any(|v| v.rooms.len() > 1);
    if best.len() > 1.max(large.len()) && items.iter().any(is_loose) {
        for order in orders.sorted().into_iter().chain(orders.shuffled()) {
            let plates = packed(order, usize::MAX, (size, live), (large, true));
            if plates.len() < best.len() {
                best = plates;
            }
        }
    }
    best
}

/// How many sets of cloths stand on plates beyond one on each.
fn mixed(plates: &[PlateDraft], items: &[Item]) -> usize {
    let group = |laid: &Laid| {
        let item = items.iter().find(|item| item.piece == laid.piece);
        item.map_or(usize::MAX, |item| item.group)
    };
    let beyond = |plate: &PlateDraft| {
        let laid = plate.bands.iter().flat_map(|b| &b.laid);
        let groups: BTreeSet<usize> = laid.map(group).collect();
        groups.len().saturating_sub(1)
    };
    plates.iter().map(beyond).sum()
}

/// First fit of `items` in their order.
pub(super) fn packed(
    items: Vec<&Item>,
    choice: usize,
    (size, live): (usize, Size),
    (large, close): (&[PlateDraft], bool),
) -> Vec<PlateDraft> {
    let mut plates = large.to_vec();
    plates.iter_mut().for_each(|plate| plate.close = close);
    for item in items {
        if plates.iter_mut().any(|p| p.add(item, choice)) {
            continue;
        }
        let mut plate = PlateDraft {
            close,
            ..PlateDraft::strip(size, live, 0.0)
        };
        // a piece none of whose first ways fits gets all of them
        if !plate.add(item, choice) {
            plate.add(item, usize::MAX);
        }
        plates.push(plate);
    }
    plates
}

/// No packing needs fewer plates than this.
fn least_plates(items: &[Item], live: Size, large: usize) -> usize {
    let plate = live.width * (live.height - STRIP - BAND_HEAD);
    let area = |i: &Item| {
        let areas = i.variants.iter().map(|v| v.bounds.area());
        areas.fold(f64::INFINITY, f64::min)
    };
    let whole: f64 = items.iter().map(area).sum();
    let beside_large = plate * large as f64;
    large.max(1) + ((whole - beside_large.max(plate)) / plate).max(0.0).ceil() as usize
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

//! Laying the groups of a large sheet beside each other, in as many columns as make it shortest.
//! Millimetres, in the axes of the live area.

use super::pack::Free;
use super::plan::{self, GAP, PlateDraft};
use super::square::{self, STRIP};
use super::variant::Item;
use kurbo::{Rect, Size, Vec2};

/// Between two columns.
const GUTTER: f64 = 12.0;

/// Between two groups in a column.
const BETWEEN: f64 = 9.0;

/// More columns than this are not tried: band heads would become too short to read.
const MOST: usize = 4;

/// All `groups` on one sheet with the least length, each packed by itself and set in the shortest
/// column so far; `None` if they do not fit one sheet. Groups have an index and their items.
pub fn in_columns(groups: &[(usize, Vec<Item>)], live: Size) -> Option<PlateDraft> {
    let tries = (1..=MOST).filter_map(|columns| laid_in(groups, live, columns));
    let mut best: Option<PlateDraft> = None;
    for draft in tries {
        // a further column must save more than it breaks up
        if best.as_ref().is_none_or(|b| draft.used() < b.used() - 1.0) {
            best = Some(draft);
        }
    }
    best
}

fn laid_in(groups: &[(usize, Vec<Item>)], live: Size, columns: usize) -> Option<PlateDraft> {
    let gutters = GUTTER * (columns - 1) as f64;
    let column = Size::new((live.width - gutters) / columns as f64, live.height);
    let mut filled = vec![0.0_f64; columns];
    let mut whole = PlateDraft {
        bands: Vec::new(),
        squares: square::usual(live.height),
        usual: true,
        free: Free::new(Rect::ZERO, GAP),
        close: false,
    };
    for (index, items) in groups {
        if !items.iter().all(|item| plan::fits_strip(item, column)) {
            return None;
        }
        let packed = plan::pack(items, *index, column, &[]);
        let [own] = packed.as_slice() else {
            return None;
        };
        let shortest = (0..columns).min_by(|a, b| filled[*a].total_cmp(&filled[*b]))?;
        let by = Vec2::new(shortest as f64 * (column.width + GUTTER), filled[shortest]);
        filled[shortest] += own.used() + BETWEEN;
        for mut band in own.bands.iter().cloned() {
            band.left = by.x;
            band.width = column.width;
            band.top = band.top.map(|top| top + by.y);
            band.laid.iter_mut().for_each(|laid| laid.by += by);
            whole.bands.push(band);
        }
    }
    let fits = whole.used() <= live.height - STRIP && !whole.bands.is_empty();
    fits.then_some(whole)
}

#[cfg(test)]
mod tests;

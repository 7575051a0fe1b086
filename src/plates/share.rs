//! Several sizes on one plate, each under its own band head. Millimetres, in the axes of the live area.

use super::orders::Orders;
use super::plan::{BAND_GAP, BAND_HEAD, CHOICES, PlateDraft, packed};
use super::square::STRIP;
use super::variant::Item;
use kurbo::Size;

/// Adds a whole further size below the bands of `plate`; whether there was room for all of it.
pub fn share(plate: &PlateDraft, items: &[Item], size: usize, live: Size) -> Option<PlateDraft> {
    let top = plate.used() + BAND_GAP;
    if !plate.usual || top + BAND_HEAD >= live.height - STRIP {
        return None;
    }
    let mut best: Option<(f64, PlateDraft)> = None;
    let orders = Orders::of(items);
    for choice in CHOICES {
        for order in orders.sorted().into_iter().chain(orders.shuffled()) {
            let mut band = PlateDraft::strip(size, live, top);
            if order.into_iter().all(|item| band.add(item, choice)) {
                let used = band.used();
                if best.as_ref().is_none_or(|b| used < b.0 - 1.0) {
                    best = Some((used, band));
                }
            }
        }
        if best.is_some() {
            break;
        }
    }
    let (_, mut band) = best?;
    let mut shared = plate.clone();
    shared.bands.append(&mut band.bands);
    Some(shared)
}

/// Begins a further size below the bands of `plate` and goes on with it on plates of its own, if those are
/// fewer than `than`.
pub fn share_some(
    plate: &PlateDraft,
    items: &[Item],
    (size, live): (usize, Size),
    than: usize,
) -> Option<(PlateDraft, Vec<PlateDraft>)> {
    let top = plate.used() + BAND_GAP;
    if !plate.usual || top + BAND_HEAD >= live.height - STRIP {
        return None;
    }
    let orders = Orders::of(items);
    for order in orders.sorted().into_iter().chain(orders.shuffled()) {
        let mut band = PlateDraft::strip(size, live, top);
        let mut rest: Vec<&Item> = order;
        rest.retain(|item| !band.add(item, usize::MAX));
        let others = packed(rest, usize::MAX, (size, live), (&[], false));
        if others.len() < than {
            let mut shared = plate.clone();
            shared.bands.append(&mut band.bands);
            shared.free = band.free;
            return Some((shared, others));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use crate::plates::fixtures::{board, job, piece, size};
    use crate::plates::{PlateJob, plan};

    #[test]
    fn the_other_foot_begins_where_the_first_leaves_room() {
        // by hand: of boards 150 mm wide and 70 mm high two stand on a page, 171 mm high below its head;
        // three of each foot are two pages each, or 3 + 3 = 6 on three pages of two
        let boards = || {
            (1..=3)
                .map(|i| board(i, &format!("b{i}"), 150.0, 70.0))
                .collect()
        };
        let sizes = ["left", "right"].map(|foot| size(foot, foot, "", boards()));
        let pages = |pairs: Vec<Vec<usize>>| {
            let job = PlateJob { pairs, ..job("a4") };
            plan(&sizes, &job).expect("they fit").page_count()
        };
        assert_eq!(pages(Vec::new()), 4);
        assert_eq!(pages(vec![vec![0, 1]]), 3);
    }

    #[test]
    fn a_piece_stands_beside_the_slanting_side_of_another_where_that_saves_a_page() {
        // by hand: beside a right triangle of 150 by 120 mm a board of 90 by 55 mm, 6 mm off, finds
        // 180 - 90 - 6 = 84 mm of the triangle above it, which is 120 (1 - 84 / 150) = 53 mm down: 53 + 55
        // are less than the 171 mm of a page; boxes would need 120 + 6 + 55 = 181
        let edges = [
            ("top", "M0 0 L150 0"),
            ("slope", "M150 0 L0 120"),
            ("left", "M0 120 L0 0"),
        ];
        let kerchief = piece(1, "kerchief", "Kerchief", &edges, 0.0);
        let pieces = vec![kerchief, board(2, "pocket", 90.0, 55.0)];
        let set = plan(&[size("one", "One size", "", pieces)], &job("a4")).expect("they fit");
        assert_eq!(set.page_count(), 1);
        let [a, b] = [0, 1].map(|i| set.sheets[0].pieces[i].cut);
        assert!(!a.intersect(b).is_zero_area(), "{a:?} {b:?}");
    }
}

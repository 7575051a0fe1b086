//! How large the layouts are drawn: those of a cloth at one scale, so that they can be compared, in as few rows
//! as they find room in; those of several cloths at one scale, too, where none becomes much smaller for it.
//! Millimetres on paper.

use super::{LayoutSet, words};
use crate::design::Design;
use crate::figure::{self, LayoutRoom};
use crate::materials::{Bought, Laid};

/// Room for a drawing, mm: the column beside the heads, and as much height as lets two or three stand
/// on a page.
const ROOM: [f64; 2] = [118.0, 100.0];

/// Half of that room, in which two stand side by side.
const HALF: [f64; 2] = [56.5, 78.0];

/// Between drawings that stand beside each other, and the narrowest column for a caption, as the template has
/// them.
const BETWEEN: f64 = 5.0;
const LEAST_COLUMN: f64 = 31.0;

/// So much smaller a cloth's drawings may become for fewer rows of them.
const SMALLER_IN_A_ROW: f64 = 0.74;

/// Drawn smaller than this, pieces are too small if they could be twice as large.
const SMALL: f64 = 1.0 / 6.0;

/// Drawn smaller than this, pieces are hard to tell apart.
const SMALLEST: f64 = 1.0 / 8.0;

/// So much smaller a cloth's drawings may become for the scale of another's.
const SMALLER_BESIDE_OTHERS: f64 = 0.6;

/// The room and the scale for each set of layouts.
pub(super) fn for_all(design: &Design, sets: &[LayoutSet<'_>]) -> Vec<LayoutRoom> {
    let each = sets.iter();
    let each = each.map(|set| room_for(design, &set.laid, &set.cloth.name));
    let rooms: Vec<LayoutRoom> = each.collect();
    let scales: Vec<f64> = rooms.iter().map(|room| room.scale).collect();
    let scales = brought_together(&scales).into_iter();
    let rooms = rooms.into_iter().zip(scales);
    rooms
        .map(|(room, scale)| LayoutRoom { scale, ..room })
        .collect()
}

/// Scales that differ little become the smallest of them: beginning with the smallest of all, each gathers those
/// that need not become smaller for it than [`SMALLER_BESIDE_OTHERS`] says.
fn brought_together(scales: &[f64]) -> Vec<f64> {
    let mut ascending = scales.to_vec();
    ascending.sort_by(f64::total_cmp);
    let mut kept: Vec<f64> = Vec::new();
    for scale in ascending {
        let gathered = |least: &f64| *least >= scale * SMALLER_BESIDE_OTHERS - 1e-9;
        if !kept.last().is_some_and(gathered) {
            kept.push(scale);
        }
    }
    let one = |scale: &f64| kept.iter().rev().find(|least| *least <= scale);
    scales
        .iter()
        .map(|scale| *one(scale).unwrap_or(scale))
        .collect()
}

/// The room and the one scale for the layouts of a cloth: in half the column if they are not too small there;
/// a little smaller if they then need fewer rows.
fn room_for(design: &Design, all: &[(&Bought, &Laid)], cloth: &str) -> LayoutRoom {
    let common = |room: LayoutRoom| {
        let scale = |(bought, laid): &(&Bought, &Laid)| {
            let words = words(design, (bought, laid), cloth);
            figure::layout_scale(&bought.layout, laid, room, &words)
        };
        all.iter().map(scale).fold(1.0, f64::min)
    };
    let half = LayoutRoom::new(HALF[0], HALF[1]);
    let whole = LayoutRoom::new(ROOM[0], ROOM[1]);
    let scales = [half, whole].map(common);
    let (room, scale) = match is_large_enough(scales) {
        true => (half, scales[0]),
        false => (whole, scales[1]),
    };
    let at = |scale: f64| LayoutRoom { scale, ..room };
    let smaller = (1..=3).map(|more| 1.0 / ((1.0 / scale).round() + f64::from(more)));
    let scales = std::iter::once(scale)
        .chain(smaller)
        .take_while(|smaller| *smaller >= (scale * SMALLER_IN_A_ROW).max(SMALLEST));
    let rows = |scale: &f64| {
        let width = |(bought, laid): &(&Bought, &Laid)| {
            let words = words(design, (bought, laid), cloth);
            figure::layout_size(&bought.layout, laid, at(*scale), &words).width
        };
        rows_of(all.iter().map(width))
    };
    // of as many rows the first, which is the largest
    let best = if all.len() > 1 {
        scales.min_by_key(rows)
    } else {
        None
    };
    at(best.unwrap_or(scale))
}

/// Whether drawings are large enough at the scale for half of the column, rather than for all of it.
fn is_large_enough([half, whole]: [f64; 2]) -> bool {
    half >= SMALL || half >= SMALLEST && whole < 2.0 * half
}

/// In how many rows the template sets drawings of these widths, mm, up to three beside each other.
fn rows_of(widths: impl Iterator<Item = f64>) -> usize {
    let (mut rows, mut in_row, mut taken) = (0, 0, 0.0);
    for width in widths.map(|width| width.max(LEAST_COLUMN)) {
        let with = taken + BETWEEN + width;
        (in_row, taken) = if (1..3).contains(&in_row) && with <= ROOM[0] {
            (in_row + 1, with)
        } else {
            rows += 1;
            (1, width)
        };
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_drawings_take_the_whole_column_where_that_makes_them_twice_as_large() {
        let one_to = |half: f64, whole: f64| is_large_enough([1.0 / half, 1.0 / whole]);
        assert!(one_to(6.0, 3.0) && one_to(8.0, 5.0));
        assert!(!one_to(8.0, 4.0) && !one_to(10.0, 6.0));
    }

    #[test]
    fn scales_that_differ_little_become_one() {
        let one_to = |scales: &[f64]| {
            let scales: Vec<f64> = scales.iter().map(|n| 1.0 / n).collect();
            let together = brought_together(&scales).into_iter();
            together.map(|scale| 1.0 / scale).collect::<Vec<_>>()
        };
        // 1 : 2.5 beside 1 : 4 is 0.625 of it, 1 : 2 is half
        let cases: [(&[f64], &[f64]); 5] = [
            (&[4.0, 3.0, 2.5], &[4.0, 4.0, 4.0]),
            (&[4.0, 2.0, 3.0], &[4.0, 2.0, 4.0]),
            (&[10.0, 8.0, 5.0, 4.0], &[10.0, 10.0, 5.0, 5.0]),
            (&[1.0], &[1.0]),
            (&[], &[]),
        ];
        for (own, wanted) in cases {
            let told = one_to(own);
            let is_near = |(a, b): (&f64, &f64)| (a - b).abs() < 1e-9;
            let same = told.len() == wanted.len() && told.iter().zip(wanted).all(is_near);
            assert!(same, "{own:?}: {told:?}");
        }
    }

    #[test]
    fn drawings_stand_in_rows_of_up_to_three() {
        // 3 x 31 + 2 x 5 = 103 mm of 118; a row of two with one of 83 mm would be 119 mm
        let cases: [(&[f64], usize); 5] = [
            (&[20.0, 20.0, 20.0], 1),
            (&[20.0, 20.0, 20.0, 20.0], 2),
            (&[31.0, 83.0], 2),
            (&[31.0, 82.0], 1),
            (&[118.0, 10.0, 10.0], 2),
        ];
        for (widths, rows) in cases {
            assert_eq!(rows_of(widths.iter().copied()), rows, "{widths:?}");
        }
    }
}

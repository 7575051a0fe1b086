//! Sizes against each other.

use super::{Made, Said, shape};
use crate::diagnostic::Level;
use std::cmp::Ordering;

/// Sizes whose area differs by less than this share are equally large.
const EQUAL: f64 = 0.005;

/// Sizes stand in the order in which they grow, or shrink.
pub(super) fn in_order(made: &Made, said: &mut Said) {
    let mut known: Vec<(usize, f64)> = Vec::new();
    for (number, (size, sized)) in made.design.sizes.iter().zip(made.sizes).enumerate() {
        // Both feet of a size count as one.
        let last = known.last().map(|(at, _)| &made.design.sizes[*at].declared);
        if last != Some(&size.declared) {
            known.push((number, sized.pieces.iter().map(shape::area).sum()));
        }
    }
    let order = |pair: &[(usize, f64)]| {
        let (a, b) = (pair[0].1, pair[1].1);
        if (b - a).abs() <= EQUAL * a.max(b) {
            Ordering::Equal
        } else {
            a.total_cmp(&b)
        }
    };
    let count = |wanted: Ordering| {
        known
            .windows(2)
            .filter(|pair| order(pair) == wanted)
            .count()
    };
    let grows = count(Ordering::Less) >= count(Ordering::Greater);
    let (right, wrong) = match grows {
        true => (count(Ordering::Less), Ordering::Greater),
        false => (count(Ordering::Greater), Ordering::Less),
    };
    if right == 0 {
        return;
    }
    for pair in known.windows(2).filter(|pair| order(pair) == wrong) {
        let [before, size] = [0, 1].map(|i| &made.design.sizes[pair[i].0]);
        let message = format!(
            "Size {} is {} than size {} before it, but the others go the other way",
            size.title,
            if grows { "smaller" } else { "larger" },
            before.title
        );
        let remedy = "Check its measures, or put the sizes in order.";
        said.tell(
            Level::Warning,
            "size-order",
            &size.key,
            (&size.place, message, remedy),
        );
    }
}

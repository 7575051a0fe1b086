//! The orders in which pieces are packed on plates, and the turn in which each of them lies.

use super::variant::{Item, Variant};
use kurbo::Size;
use std::rc::Rc;

/// Shuffled orders that are tried where the sorted ones need more plates than the area asks for; as
/// many again in which each piece keeps to one turn.
const SHUFFLES: usize = 150;

/// The items, and the same held to one turn.
pub(super) struct Orders {
    items: Vec<Item>,
    /// First as they lie by choice, then turned by a quarter from it; what may not be turned lies as
    /// it does in both.
    turned: [Vec<Item>; 2],
}

impl Orders {
    /// For items of one size.
    pub fn of(items: &[Item]) -> Self {
        Self {
            items: items.to_vec(),
            turned: [true, false].map(|first| items.iter().map(|i| held(i, first)).collect()),
        }
    }

    /// The items as given, by area, by height, by width and by their longer side, largest first.
    pub fn sorted(&self) -> Vec<Vec<&Item>> {
        let given: Vec<&Item> = self.items.iter().collect();
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
        // the same, group by group
        for mut order in all.clone() {
            order.sort_by_key(|item| item.group);
            all.push(order);
        }
        all
    }

    /// The items in `SHUFFLES` orders, the same every time (shuffle of Fisher and Yates, 1938, with
    /// numbers of Lehmer, 1951). A piece that lies where its lower edge stands highest lies flat, and
    /// may take the width that two upright ones would share: so each is then held to a turn that is
    /// drawn as well.
    pub fn shuffled(&self) -> impl Iterator<Item = Vec<&Item>> {
        let mut state = 20_011_u64;
        let mut draw = move |below: usize| {
            state = state * 48_271 % 2_147_483_647;
            (state % below as u64) as usize
        };
        let choices = [
            [&self.items; 3],
            [&self.items, &self.turned[0], &self.turned[1]],
        ];
        let rounds = choices
            .into_iter()
            .flat_map(|c| (0..SHUFFLES).map(move |_| c));
        rounds.map(move |choices| {
            let mut order: Vec<usize> = (0..self.items.len()).collect();
            for i in (1..order.len()).rev() {
                order.swap(i, draw(i + 1));
            }
            order.into_iter().map(|i| &choices[draw(3)][i]).collect()
        })
    }
}

/// The item with only those of its ways that are of its first turn, or only the others.
fn held(item: &Item, first: bool) -> Item {
    let Some(lying) = item.variants.first() else {
        return item.clone();
    };
    let is_held = |v: &&Variant| Rc::ptr_eq(&v.drawing, &lying.drawing) == first;
    let variants: Vec<Variant> = item.variants.iter().filter(is_held).cloned().collect();
    if variants.is_empty() {
        return item.clone();
    }
    Item {
        variants,
        ..item.clone()
    }
}

#[cfg(test)]
mod tests {
    use crate::plates::fixtures::{board, job, size};
    use crate::plates::plan;

    #[test]
    fn boards_stand_upright_side_by_side_where_flat_ones_need_a_further_page() {
        // by hand: upright 49 + 54 + 59 mm and two gaps of 6 are 174 of the 180 mm of the width, and below
        // them 95 + 6 + 60 = 161 of the 171 mm of the height; the first of them laid flat takes the room
        // of two
        let sides = [(95.0, 49.0), (95.0, 54.0), (95.0, 59.0), (130.0, 60.0)];
        let boards = sides.iter().enumerate();
        let boards = boards.map(|(i, (w, h))| board(i + 1, &format!("b{i}"), *w, *h));
        let set = plan(&[size("one", "One size", "", boards.collect())], &job("a4"));
        assert_eq!(set.expect("they fit").page_count(), 1);
    }
}

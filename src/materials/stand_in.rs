//! Layouts of the last state of a design. While pages are looked at they stand in for those of pieces
//! that were changed a little, until these are packed: where every piece lies, but for its new cut line.
//! Never for print.

use crate::packing::{Item, Layout, Turns};
use kurbo::{Point, Rect};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// By so large a share a piece may be longer or wider than before: more, and it would lie far over its
/// neighbours.
const ALIKE: f64 = 0.06;

/// So many layouts are remembered: a design of many sizes and kits has some hundred.
const MOST: usize = 1000;

/// The layouts of one design as they were last; copies are the same ones.
#[derive(Debug, Clone, Default)]
pub struct StandIns(Arc<Mutex<BTreeMap<[u8; 32], Last>>>);

#[derive(Debug, Clone)]
struct Last {
    sides: Vec<[f64; 2]>,
    layouts: Vec<Layout>,
}

impl StandIns {
    /// Remembers what was found for `items` of the lay that is called `lay`.
    pub(super) fn put(&self, lay: &str, items: &[Item], layouts: &[Layout]) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if all.len() >= MOST {
            all.clear();
        }
        let last = Last {
            sides: items.iter().map(sides).collect(),
            layouts: layouts.to_vec(),
        };
        all.insert(name(lay, items), last);
    }

    /// What was found last for such items, if all are nearly as large as now.
    pub(super) fn of(&self, lay: &str, items: &[Item]) -> Option<Vec<Layout>> {
        let all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let last = all.get(&name(lay, items))?;
        let near = |a: f64, b: f64| (a - b).abs() <= ALIKE * a.max(b);
        let alike = |(item, last): (&Item, &[f64; 2])| {
            let now = sides(item);
            near(now[0], last[0]) && near(now[1], last[1])
        };
        let alike = last.sides.len() == items.len() && items.iter().zip(&last.sides).all(alike);
        alike.then(|| last.layouts.clone())
    }
}

/// The name of a lay with all of its items but their rings.
fn name(lay: &str, items: &[Item]) -> [u8; 32] {
    let but_its_ring = |item: &Item| {
        let turns = match &item.turns {
            Turns::Only(turns) => format!("{turns:?}"),
            Turns::Any => "any".to_string(),
        };
        format!(
            "{} {turns} {} {}",
            item.count,
            item.face_down,
            item.fold.is_some()
        )
    };
    let items: Vec<String> = items.iter().map(but_its_ring).collect();
    *blake3::hash(format!("{lay}\n{}", items.join("\n")).as_bytes()).as_bytes()
}

/// Length and width of an item, mm.
fn sides(item: &Item) -> [f64; 2] {
    let first = item.ring.first().copied().unwrap_or_default();
    let grown = |all: Rect, point: &Point| all.union_pt(*point);
    let all = item
        .ring
        .iter()
        .fold(Rect::from_points(first, first), grown);
    [all.width(), all.height()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    fn square(side: f64) -> Item {
        let corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
        Item::new(corners.map(Point::from).to_vec())
    }

    #[test]
    fn a_layout_stands_in_for_pieces_that_changed_a_little_and_for_no_others() {
        let all = StandIns::default();
        let placed = |item: usize| crate::packing::Placed {
            item,
            copy: 0,
            turn_deg: 0.0,
            mirrored: false,
            by: Vec2::new(50.0 * item as f64, 0.0),
        };
        let layout = Layout {
            placed: vec![placed(0), placed(1)],
            length: 90.0,
            density: 0.9,
        };
        let items = [square(50.0), square(40.0)];
        all.put("felt, small", &items, std::slice::from_ref(&layout));
        let found = |lay: &str, items: &[Item]| all.of(lay, items);
        let taken = Some(vec![layout]);
        assert_eq!(found("felt, small", &[square(51.0), square(40.0)]), taken);
        assert_eq!(found("felt, small", &[square(60.0), square(40.0)]), None);
        assert_eq!(found("felt, small", &items[..1]), None);
        assert_eq!(found("felt, large", &items), None);
        let twice = Item {
            count: 2,
            ..square(40.0)
        };
        assert_eq!(found("felt, small", &[square(50.0), twice]), None);
    }
}

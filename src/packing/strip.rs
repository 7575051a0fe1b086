//! Pieces on cloth from the roll: all of them on the shortest length. mm, y down; the cloth runs
//! along x, its fold or one selvedge lies at y = 0.

use super::effort::Effort;
use super::greedy;
use super::item::{Item, Layout, Placed, Refusal, no_room};
use super::lay::Lay;
use super::prepare::{self, Making};
use super::ring;
use super::search;
use super::task::{Found, Place, Task};
use super::verify::{self, Cloth};
use kurbo::Rect;

/// Cloth of one width, as long as it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// The usable width, mm; of folded cloth the width as it lies.
    pub width: f64,
    /// What is kept free between pieces and towards all edges but the fold, mm.
    pub spacing: f64,
    /// How far a piece may be simplified outwards, mm: a larger value packs faster and less dense.
    /// Rings of hundreds of points should be: preparing a pair takes time by the product of their
    /// corners.
    pub simplify: f64,
}

/// Packs all copies of all items on the shortest length that the effort finds. The layout is
/// verified in f64 with the true rings.
///
/// # Errors
/// Every item that fits nowhere, or whose ring or fold is none.
pub fn strip(items: &[Item], cloth: &Strip, effort: &Effort) -> Result<Layout, Vec<Refusal>> {
    let roll = Roll::new(items, cloth, effort)?;
    let start = roll.greedy()?;
    let found = search::shorten(&roll.task, &[roll.bay(start.length)], start.clone(), effort);
    roll.first_sound([found, start])
}

/// Packs all copies of all items one after the other, without a search.
///
/// # Errors
/// As [`strip`].
pub fn greedy_strip(items: &[Item], cloth: &Strip) -> Result<Layout, Vec<Refusal>> {
    let roll = Roll::new(items, cloth, &Effort::default())?;
    let start = roll.greedy()?;
    roll.first_sound([start])
}

struct Roll<'a> {
    items: &'a [Item],
    cloth: &'a Strip,
    making: Making,
    task: Task,
    longest: f64,
}

impl<'a> Roll<'a> {
    fn new(items: &'a [Item], cloth: &'a Strip, effort: &Effort) -> Result<Self, Vec<Refusal>> {
        let Strip {
            width,
            spacing,
            simplify,
        } = *cloth;
        let making = Making {
            spacing,
            simplify,
            shapes: effort.shapes(),
            height: width,
        };
        let reach = |item: &Item| {
            let size = ring::bounds(&item.ring).size();
            (size.width.hypot(size.height) + 3.0 * (spacing + simplify)) * item.count.max(1) as f64
        };
        let longest = items
            .iter()
            .map(reach)
            .filter(|reach| reach.is_finite())
            .sum::<f64>();
        let longest = longest + 2.0 * (spacing + width * 1e-3);
        let inset = making.inset();
        let bay = Rect::new(inset, inset, longest, width - inset);
        let (task, _) = prepare::task(items, making, &[bay], &[])?;
        Ok(Self {
            items,
            cloth,
            making,
            task,
            longest,
        })
    }

    fn bay(&self, length: f64) -> Rect {
        let inset = self.making.inset();
        Rect::new(inset, inset, inset + length, self.cloth.width - inset)
    }

    fn greedy(&self) -> Result<Found, Vec<Refusal>> {
        let bays = [self.bay(self.longest)];
        let places = greedy::fill(&self.task, &bays).map_err(|left| self.no_room(&left))?;
        let length = Lay::new(&self.task, bays.to_vec(), places.clone()).end() - bays[0].x0;
        Ok(Found { places, length })
    }

    fn no_room(&self, left: &[usize]) -> Vec<Refusal> {
        no_room(left.iter().map(|&piece| self.task.pieces[piece].item))
    }

    /// The first of the lays that stands up to the verification, or as the last resort all pieces in
    /// one row.
    fn first_sound<const N: usize>(&self, lays: [Found; N]) -> Result<Layout, Vec<Refusal>> {
        let row = std::iter::once_with(|| self.row());
        let lays = lays.into_iter().map(|found| found.places).chain(row);
        for places in lays {
            let placed = self
                .task
                .placed(&places)
                .map(|placed| self.pushed_in(placed));
            let placed: Vec<Placed> = placed.collect();
            let cloth = Cloth::strip(self.cloth.width);
            if verify::faults(self.items, &placed, &cloth, self.cloth.spacing).is_empty() {
                return Ok(self.layout(placed));
            }
        }
        Err(self.no_room(&(0..self.task.pieces.len()).collect::<Vec<_>>()))
    }

    /// The piece without the last bit by which rounding may have put it over an edge.
    fn pushed_in(&self, mut placed: Placed) -> Placed {
        for _ in 0..2 {
            let bounds = ring::bounds(&placed.ring(self.items));
            placed.by.x += (-bounds.x0).max(0.0);
            let folded = self.items[placed.item].fold.is_some();
            let over = if folded { 0.0 } else { -bounds.y0 };
            placed.by.y += over.max(0.0) - (bounds.y1 - self.cloth.width).max(0.0);
        }
        placed
    }

    fn row(&self) -> Vec<Place> {
        let bay = self.bay(self.longest);
        let mut x = bay.x0;
        let mut next = |piece: usize| {
            let shape = self.task.choices_of(piece)[0];
            let bounds = self.task.shapes.all[shape].bounds;
            let y = self
                .task
                .range(shape, &bay)
                .map_or(bay.y0, |range| range.y0);
            let at = kurbo::Vec2::new(x - bounds.x0, y);
            x += bounds.width();
            Place { shape, bay: 0, at }
        };
        (0..self.task.pieces.len()).map(&mut next).collect()
    }

    fn layout(&self, placed: Vec<Placed>) -> Layout {
        let end = |placed: &Placed| ring::bounds(&placed.ring(self.items)).x1;
        let length = placed.iter().map(end).fold(0.0, f64::max) + self.cloth.spacing;
        let area: f64 = placed
            .iter()
            .map(|p| ring::area(&self.items[p.item].ring).abs())
            .sum();
        Layout {
            density: area / (length * self.cloth.width),
            placed,
            length,
        }
    }
}

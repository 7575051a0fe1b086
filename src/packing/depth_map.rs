//! How deep two pieces lie in each other at any shift, kept as a grid of values.

use kurbo::{Rect, Vec2};
use std::sync::atomic::{AtomicU32, Ordering};

/// A value that no depth has: the node has not been asked for yet.
const OPEN: u32 = f32::NAN.to_bits();

/// A function of the shift, sampled at the nodes of a grid when they are first needed and
/// interpolated between them. Every thread that fills a node writes the same value.
#[derive(Debug)]
pub(super) struct DepthMap {
    bounds: Rect,
    cells: usize,
    cells_per_mm: Vec2,
    nodes: Vec<AtomicU32>,
}

impl DepthMap {
    /// Over `bounds`, which has an area, with so many cells along each side.
    pub(super) fn new(bounds: Rect, cells: usize) -> Self {
        let per_mm = |length: f64| cells as f64 / length;
        let cells_per_mm = Vec2::new(per_mm(bounds.width()), per_mm(bounds.height()));
        let nodes = (0..(cells + 1) * (cells + 1))
            .map(|_| AtomicU32::new(OPEN))
            .collect();
        Self {
            bounds,
            cells,
            cells_per_mm,
            nodes,
        }
    }

    /// The value at `by`, bilinear between the four nodes around it; `depth` is the function itself.
    pub(super) fn at(&self, by: Vec2, depth: impl Fn(Vec2) -> f32) -> f32 {
        let x = (by.x - self.bounds.x0) * self.cells_per_mm.x;
        let y = (by.y - self.bounds.y0) * self.cells_per_mm.y;
        let column = (x as usize).min(self.cells - 1);
        let row = (y as usize).min(self.cells - 1);
        let (u, v) = ((x - column as f64) as f32, (y - row as f64) as f32);
        let node = |column: usize, row: usize| self.node(column, row, &depth);
        let above = node(column, row) * (1.0 - u) + node(column + 1, row) * u;
        let below = node(column, row + 1) * (1.0 - u) + node(column + 1, row + 1) * u;
        above * (1.0 - v) + below * v
    }

    fn node(&self, column: usize, row: usize, depth: &impl Fn(Vec2) -> f32) -> f32 {
        let cell = &self.nodes[row * (self.cells + 1) + column];
        let bits = cell.load(Ordering::Relaxed);
        if bits != OPEN {
            return f32::from_bits(bits);
        }
        let x = self.bounds.x0 + column as f64 / self.cells_per_mm.x;
        let y = self.bounds.y0 + row as f64 / self.cells_per_mm.y;
        let value = depth(Vec2::new(x, y));
        cell.store(value.to_bits(), Ordering::Relaxed);
        value
    }
}

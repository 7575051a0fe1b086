//! Lines that run side by side: the weaker one goes. Millimetres on paper.

use super::chain::{Chain, STEP};
use super::line_kind::LineKind;
use super::polyline::{cleaned, runs, tangents};
use kurbo::{Point, Vec2};

/// A line goes where a stronger one is this near...
const NEAR: f64 = 0.45;
/// ...second lines of a thickness where it is this much farther...
const FARTHER: f64 = 1.3;
/// ...and beside a button, which is small, only this near.
const NEAR_BUTTON: f64 = 0.15;

/// Lines are side by side if the angle between them has a cosine above this: 32 degrees.
const PARALLEL: f64 = 0.85;

/// Stretches left that are shorter than the first go; those gone and shorter than the second stay.
const LEAST: [f64; 2] = [1.0, 0.6];

/// What is left of an edge must be this many times longer than the shortest that is drawn.
const REMAINDER: f64 = 3.0;

/// Side of the cells in which samples are looked up; at least as large as the largest distance.
const CELL: f64 = 0.7;

/// The chains without double lines. `factor` scales line widths.
pub(super) fn without_doubles(mut chains: Vec<Chain>, size: [f64; 2], factor: f64) -> Vec<Chain> {
    chains.sort_by_key(|chain| (chain.kind.rank(), std::cmp::Reverse(chain.points.len())));
    let mut stronger = Samples::new(size);
    let mut kept = Vec::new();
    for chain in chains {
        let tangents = tangents(&chain.points);
        let free = if matches!(
            chain.kind,
            LineKind::Gathers | LineKind::Detail | LineKind::Hatching
        ) {
            vec![true; chain.points.len()]
        } else {
            free_samples(&chain, &tangents, &stronger, factor)
        };
        keep(&chain, &free, &mut kept);
        if !chain.kind.floats() {
            let button = chain.born == LineKind::Button;
            for (point, tangent) in chain.points.iter().zip(tangents) {
                stronger.add(Known {
                    point: *point,
                    tangent,
                    button,
                });
            }
        }
    }
    kept
}

fn free_samples(chain: &Chain, tangents: &[Vec2], stronger: &Samples, factor: f64) -> Vec<bool> {
    let farther = chain.kind == LineKind::Inner;
    let near = NEAR * factor.max(0.95) * if farther { FARTHER } else { 1.0 };
    let free = chain.points.iter().zip(tangents).map(|(point, tangent)| {
        let Some((distance, other)) = stronger.nearest(*point, near) else {
            return true;
        };
        let near = if other.button { NEAR_BUTTON } else { near };
        distance >= near || tangent.dot(other.tangent).abs() <= PARALLEL
    });
    cleaned(free.collect(), LEAST[0] / STEP, LEAST[1] / STEP)
}

fn keep(chain: &Chain, free: &[bool], kept: &mut Vec<Chain>) {
    let whole = free.iter().all(|f| *f);
    let lenient = matches!(
        chain.kind,
        LineKind::Outer | LineKind::Seam | LineKind::Stitch
    );
    let times = if whole || lenient { 1.0 } else { REMAINDER };
    let count = chain.points.len();
    for run in runs(free).into_iter().filter(|run| run.on) {
        if ((run.to - run.from) as f64) * STEP < chain.kind.shortest() * times - 1e-9 {
            continue;
        }
        let gap = |end: usize, here: bool| if here { chain.gaps[end] } else { 0.0 };
        kept.push(Chain {
            points: chain.points[run.from..run.to].to_vec(),
            gaps: [gap(0, run.from == 0), gap(1, run.to == count)],
            closed: chain.closed && whole,
            ..chain.clone()
        });
    }
}

/// A sample of a line that stays.
#[derive(Debug, Clone, Copy)]
struct Known {
    point: Point,
    tangent: Vec2,
    button: bool,
}

/// Samples in square cells.
struct Samples {
    columns: usize,
    rows: usize,
    cells: Vec<Vec<Known>>,
}

impl Samples {
    fn new(size: [f64; 2]) -> Self {
        let [columns, rows] = size.map(|extent| (extent / CELL).ceil().max(1.0) as usize + 1);
        Self {
            columns,
            rows,
            cells: vec![Vec::new(); columns * rows],
        }
    }

    fn cell(&self, point: Point) -> [usize; 2] {
        let number = |v: f64, count: usize| ((v / CELL).max(0.0) as usize).min(count - 1);
        [number(point.x, self.columns), number(point.y, self.rows)]
    }

    fn add(&mut self, known: Known) {
        let [column, row] = self.cell(known.point);
        self.cells[row * self.columns + column].push(known);
    }

    /// The nearest sample within `limit`, which is at most [`CELL`], and its distance.
    fn nearest(&self, point: Point, limit: f64) -> Option<(f64, Known)> {
        let [column, row] = self.cell(point);
        let mut best: Option<(f64, Known)> = None;
        for row in row.saturating_sub(1)..=(row + 1).min(self.rows - 1) {
            for column in column.saturating_sub(1)..=(column + 1).min(self.columns - 1) {
                for known in &self.cells[row * self.columns + column] {
                    let distance = known.point.distance(point);
                    if distance < best.map_or(limit, |(d, _)| d) {
                        best = Some((distance, *known));
                    }
                }
            }
        }
        best
    }
}

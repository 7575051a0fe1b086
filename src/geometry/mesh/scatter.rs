//! Points spread evenly over a surface, none nearer to another than a given distance. Millimetres.

use crate::geometry::space::Vec3;

/// How far points must lie apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spacing {
    /// From each other, mm.
    pub apart: f64,
    /// From the fixed points, mm.
    pub from_fixed: f64,
}

/// Number `index` of the sequence that fills the unit square evenly at every length (Halton 1960,
/// bases 2 and 3).
#[must_use]
pub fn halton(index: usize) -> (f64, f64) {
    (reversed(index + 1, 2), reversed(index + 1, 3))
}

/// The digits of `number` to `base`, mirrored at the point.
fn reversed(mut number: usize, base: usize) -> f64 {
    let (mut value, mut weight) = (0.0, 1.0);
    while number > 0 {
        weight /= base as f64;
        value += weight * (number % base) as f64;
        number /= base;
    }
    value
}

/// The candidates, in order, that keep their distance from the fixed points and from the candidates
/// taken before them: dart throwing (Cook 1986). Indices of candidates.
#[must_use]
pub fn scatter(candidates: &[Vec3], fixed: &[Vec3], spacing: Spacing) -> Vec<usize> {
    let cell = spacing.apart.max(spacing.from_fixed);
    let mut taken = Cells::new(candidates.iter().chain(fixed), cell);
    let mut kept = Cells::new(candidates.iter().chain(fixed), cell);
    for point in fixed {
        kept.add(*point);
    }
    let mut chosen = Vec::new();
    for (index, point) in candidates.iter().enumerate() {
        if kept.free(*point, spacing.from_fixed) && taken.free(*point, spacing.apart) {
            taken.add(*point);
            chosen.push(index);
        }
    }
    chosen
}

/// Points sorted into cubes of space.
struct Cells {
    origin: Vec3,
    cell: f64,
    counts: [usize; 3],
    points: Vec<Vec<Vec3>>,
}

/// More cubes than this along an axis are not worth their memory.
const MOST_CELLS: f64 = 128.0;

impl Cells {
    fn new<'a>(points: impl Iterator<Item = &'a Vec3>, cell: f64) -> Self {
        let far = f64::INFINITY;
        let (mut low, mut high) = (Vec3::new(far, far, far), Vec3::new(-far, -far, -far));
        for p in points {
            low = Vec3::new(low.x.min(p.x), low.y.min(p.y), low.z.min(p.z));
            high = Vec3::new(high.x.max(p.x), high.y.max(p.y), high.z.max(p.z));
        }
        let span = high - low;
        let widest = span.x.max(span.y).max(span.z).max(1e-9);
        let widest = if widest.is_finite() { widest } else { 1.0 };
        let cell = cell.max(widest / MOST_CELLS);
        let count = |width: f64| (width.clamp(0.0, widest) / cell) as usize + 1;
        let counts = [count(span.x), count(span.y), count(span.z)];
        Self {
            origin: low,
            cell,
            counts,
            points: vec![Vec::new(); counts.iter().product()],
        }
    }

    /// The cube a point lies in, by its three numbers.
    fn numbers(&self, point: Vec3) -> [usize; 3] {
        let way = point - self.origin;
        let number =
            |along: f64, count: usize| ((along / self.cell).max(0.0) as usize).min(count - 1);
        [
            number(way.x, self.counts[0]),
            number(way.y, self.counts[1]),
            number(way.z, self.counts[2]),
        ]
    }

    fn index(&self, [x, y, z]: [usize; 3]) -> usize {
        (x * self.counts[1] + y) * self.counts[2] + z
    }

    fn add(&mut self, point: Vec3) {
        let index = self.index(self.numbers(point));
        self.points[index].push(point);
    }

    /// Whether no point lies within `distance`, which is at most a cube's side.
    fn free(&self, point: Vec3, distance: f64) -> bool {
        let numbers = self.numbers(point);
        let around =
            |i: usize| numbers[i].saturating_sub(1)..=(numbers[i] + 1).min(self.counts[i] - 1);
        for x in around(0) {
            for y in around(1) {
                for z in around(2) {
                    let near = |p: &Vec3| p.distance(point) <= distance;
                    if self.points[self.index([x, y, z])].iter().any(near) {
                        return false;
                    }
                }
            }
        }
        true
    }
}

//! Circles inscribed in a piece: few numbers that stand for its body when the depth of an overlap
//! is judged. f32, mm, because they only steer the search and never decide whether pieces meet.

use super::ring;
use kurbo::{Point, Vec2};
use std::collections::BinaryHeap;

/// Circles are handled in rows of this many, so that the compiler can use vector registers.
const LANE: usize = 8;

/// The most circles a piece is given. More follow the outline better and cost time with every
/// overlap, in proportion to the product of both pieces' counts.
pub(super) const MOST: usize = 16;

/// Circles are added until they cover this part of the piece.
const COVERED: f64 = 0.9;

/// The inscribed circles of one piece in one position of turning.
#[derive(Clone, Debug, Default)]
pub(super) struct Poles {
    x: Vec<f32>,
    y: Vec<f32>,
    radius: Vec<f32>,
    count: usize,
}

/// One inscribed circle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pole {
    pub(super) centre: Point,
    pub(super) radius: f64,
}

impl Poles {
    pub(super) fn new(poles: &[Pole]) -> Self {
        let padded = poles.len().next_multiple_of(LANE);
        let mut out = Self {
            count: poles.len(),
            ..Self::default()
        };
        for pole in poles {
            out.x.push(pole.centre.x as f32);
            out.y.push(pole.centre.y as f32);
            out.radius.push(pole.radius as f32);
        }
        out.x.resize(padded, 0.0);
        out.y.resize(padded, 0.0);
        out.radius.resize(padded, 0.0);
        out
    }

    /// How deep this piece and `other`, shifted by `by`, lie in each other: the sum over all pairs
    /// of circles of their depth times the smaller radius, where depths below `near` decay as
    /// near² / (2·near − depth) and so stay positive (Gardeyn, Vanden Berghe and Wauters 2025,
    /// arXiv:2509.13329, overlap proxy with decaying penetration depth).
    pub(super) fn overlap(&self, other: &Self, by: Vec2, near: f32) -> f32 {
        let (by_x, by_y) = (by.x as f32, by.y as f32);
        let mut sums = [0f32; LANE];
        for i in 0..self.count {
            let (x, y, r) = (self.x[i] - by_x, self.y[i] - by_y, self.radius[i]);
            let rows = other.x.chunks_exact(LANE).zip(other.y.chunks_exact(LANE));
            for ((xs, ys), rs) in rows.zip(other.radius.chunks_exact(LANE)) {
                for k in 0..LANE {
                    let (dx, dy) = (x - xs[k], y - ys[k]);
                    let depth = r + rs[k] - (dx * dx + dy * dy).sqrt();
                    let decayed = near * near / (2.0 * near - depth.min(near));
                    sums[k] += decayed.max(depth) * r.min(rs[k]);
                }
            }
        }
        sums.iter().sum()
    }
}

/// The largest inscribed circles of the ring that do not overlap each other's centres, one after the
/// other (poles of inaccessibility by quadtree search, as is common practice for labels on maps).
/// At least one for a ring with area, no more than `most`.
pub(super) fn inscribed(ring: &[Point], most: usize) -> Vec<Pole> {
    let goal = COVERED * ring::area(ring);
    let mut poles: Vec<Pole> = Vec::new();
    let mut covered = 0.0;
    while poles.len() < most && covered < goal {
        let Some(pole) = widest(ring, &poles) else {
            break;
        };
        let first = poles.first().map_or(pole.radius, |first| first.radius);
        if pole.radius < 0.05 * first {
            break;
        }
        covered += std::f64::consts::PI * pole.radius * pole.radius;
        poles.push(pole);
    }
    poles
}

struct Cell {
    centre: Point,
    half: f64,
    clear: f64,
    reach: f64,
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.reach.total_cmp(&other.reach).is_eq()
    }
}
impl Eq for Cell {}
impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Cell {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.reach.total_cmp(&other.reach)
    }
}

fn cell(ring: &[Point], taken: &[Pole], centre: Point, half: f64) -> Cell {
    let edge = ring::distance(ring, centre);
    let inside = if ring::contains(ring, centre) {
        edge
    } else {
        -edge
    };
    let clear = taken
        .iter()
        .map(|p| p.centre.distance(centre) - p.radius)
        .fold(inside, f64::min);
    Cell {
        centre,
        half,
        clear,
        reach: clear + half * std::f64::consts::SQRT_2,
    }
}

/// The largest circle within the ring that keeps off the circles already taken, found to 5 % of the
/// larger of its own radius and a hundredth of the ring's width.
fn widest(ring: &[Point], taken: &[Pole]) -> Option<Pole> {
    let bounds = ring::bounds(ring);
    let half = (bounds.width().min(bounds.height()) / 2.0).max(1e-9 * bounds.width());
    let fine = 0.01 * half;
    let mut open = BinaryHeap::new();
    let columns = (bounds.width() / (2.0 * half)).ceil().clamp(1.0, 64.0) as usize;
    let rows = (bounds.height() / (2.0 * half)).ceil().clamp(1.0, 64.0) as usize;
    let half = half.max(bounds.width() / (2.0 * columns as f64));
    for (column, row) in (0..columns).flat_map(|c| (0..rows).map(move |r| (c, r))) {
        let step = Vec2::new(
            2.0 * half * column as f64 + half,
            2.0 * half * row as f64 + half,
        );
        open.push(cell(ring, taken, bounds.origin() + step, half));
    }
    let mut best = Pole {
        centre: bounds.center(),
        radius: 0.0,
    };
    while let Some(next) = open.pop() {
        if next.reach <= best.radius + (0.05 * best.radius).max(fine) {
            break;
        }
        if next.clear > best.radius {
            best = Pole {
                centre: next.centre,
                radius: next.clear,
            };
        }
        let quarter = next.half / 2.0;
        for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            let centre = next.centre + Vec2::new(x, y) * quarter;
            let child = cell(ring, taken, centre, quarter);
            if child.reach > best.radius + (0.05 * best.radius).max(fine) {
                open.push(child);
            }
        }
    }
    (best.radius > 0.0).then_some(best)
}

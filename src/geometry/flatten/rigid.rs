//! As rigid as possible: each triangle turned, none stretched more than it must be.

use super::sparse::{Entry, Factor};
use super::{HeldEdge, Patch};
use kurbo::Point;

/// A triangle as a round needs it: its corners, and its sides in its own plane times their weights.
struct Turning {
    corners: [usize; 3],
    ways: [[f64; 2]; 3],
}

/// The matrix of one set of held edges, factored, and what its rounds need. Points stand in the
/// order of the factor's rows, the fixed one last, so that nothing is sorted in between.
pub(super) struct Rounds {
    triangles: Vec<Turning>,
    held: Vec<[usize; 2]>,
    weight: f64,
    factor: Factor,
    /// The patch's point at each place.
    order: Vec<usize>,
    pull: Vec<[f64; 2]>,
}

impl Rounds {
    /// Ready to flatten `patch` with a spring of `weight` along each held edge. `None` if the patch
    /// is not of one piece.
    pub(super) fn new(patch: &Patch<'_>, held: &[HeldEdge], weight: f64) -> Option<Self> {
        let mut entries: Vec<Entry> = Vec::with_capacity(9 * patch.triangles.len());
        // Vertex 0 stays where it is: the rest is numbered from it.
        let mut add = |i: usize, j: usize, weight: f64| {
            for vertex in [i, j] {
                if vertex > 0 {
                    entries.push(Entry::new(vertex - 1, vertex - 1, weight));
                }
            }
            if i > 0 && j > 0 {
                entries.push(Entry::new(i.min(j) - 1, i.max(j) - 1, -weight));
            }
        };
        for triangle in &patch.triangles {
            for k in 0..3 {
                let (i, j, _, cotangent) = triangle.side(k);
                add(i, j, cotangent);
            }
        }
        for edge in held {
            add(edge.ends[0], edge.ends[1], weight);
        }
        let factor = Factor::new(patch.size() - 1, &entries)?;
        let mut order: Vec<usize> = factor.order().iter().map(|row| row + 1).collect();
        order.push(0);
        let mut places = vec![0; order.len()];
        for (place, vertex) in order.iter().enumerate() {
            places[*vertex] = place;
        }
        let triangles = patch.triangles.iter().map(|triangle| Turning {
            corners: triangle.corners.map(|vertex| places[vertex]),
            ways: [0, 1, 2].map(|k| {
                let (_, _, way, weight) = triangle.side(k);
                [weight * way.x, weight * way.y]
            }),
        });
        Some(Self {
            triangles: triangles.collect(),
            held: held
                .iter()
                .map(|e| e.ends.map(|vertex| places[vertex]))
                .collect(),
            weight,
            factor,
            pull: vec![[0.0; 2]; order.len()],
            order,
        })
    }

    /// The points of a flat shape in the order of the rounds.
    pub(super) fn ordered(&self, flat: &[Point]) -> Vec<[f64; 2]> {
        let points = self.order.iter().map(|vertex| flat[*vertex]);
        points.map(|p| [p.x, p.y]).collect()
    }

    /// The points in the patch's order again.
    pub(super) fn restored(&self, ordered: &[[f64; 2]]) -> Vec<Point> {
        let mut flat = vec![Point::ZERO; ordered.len()];
        for (vertex, [x, y]) in self.order.iter().zip(ordered) {
            flat[*vertex] = Point::new(*x, *y);
        }
        flat
    }

    /// Length of a held edge, by its number.
    pub(super) fn length(&self, ordered: &[[f64; 2]], number: usize) -> f64 {
        let [i, j] = self.held[number];
        let (a, b) = (ordered[i], ordered[j]);
        let (x, y) = (a[0] - b[0], a[1] - b[1]);
        (x * x + y * y).sqrt()
    }

    /// One local and one global step (Liu, Zhang, Xu, Gotsman & Gortler 2008): every triangle finds
    /// the turn that brings it nearest to its flat shape, every held edge points where it points
    /// with its spring's length, then all points are placed at once. Returns the greatest move, mm.
    pub(super) fn round(&mut self, flat: &mut [[f64; 2]], springs: &[f64]) -> f64 {
        self.pull.fill([0.0; 2]);
        for triangle in &self.triangles {
            turn(triangle, flat, &mut self.pull);
        }
        for ([i, j], spring) in self.held.iter().zip(springs) {
            let (a, b) = (flat[*i], flat[*j]);
            let (x, y) = (a[0] - b[0], a[1] - b[1]);
            let scale = self.weight * spring / ((x * x + y * y).sqrt() + 1e-300);
            push(&mut self.pull, *i, *j, [scale * x, scale * y]);
        }
        let last = flat.len() - 1;
        self.factor.solve_ordered(&mut self.pull[..last]);
        let fixed = flat[last];
        let mut greatest = 0.0_f64;
        for (point, next) in flat.iter_mut().zip(&self.pull[..last]) {
            let (x, y) = (next[0] + fixed[0] - point[0], next[1] + fixed[1] - point[1]);
            greatest = greatest.max(x.abs()).max(y.abs());
            *point = *next;
        }
        flat[last] = [0.0; 2];
        greatest
    }
}

fn push(pull: &mut [[f64; 2]], i: usize, j: usize, way: [f64; 2]) {
    pull[i][0] += way[0];
    pull[i][1] += way[1];
    pull[j][0] -= way[0];
    pull[j][1] -= way[1];
}

/// Turns one triangle's own sides as they lie in `flat`, and adds them to the pull on its corners.
fn turn(triangle: &Turning, flat: &[[f64; 2]], pull: &mut [[f64; 2]]) {
    let [a, b, c] = triangle.corners;
    let [p, q, r] = [flat[a], flat[b], flat[c]];
    let sides = [
        [q[0] - r[0], q[1] - r[1]],
        [r[0] - p[0], r[1] - p[1]],
        [p[0] - q[0], p[1] - q[1]],
    ];
    let (mut cosine, mut sine) = (0.0, 0.0);
    for (now, way) in sides.iter().zip(&triangle.ways) {
        cosine += now[0] * way[0] + now[1] * way[1];
        sine += now[1] * way[0] - now[0] * way[1];
    }
    let scale = 1.0 / ((cosine * cosine + sine * sine).sqrt() + 1e-300);
    let (cosine, sine) = (cosine * scale, sine * scale);
    let turned = triangle
        .ways
        .map(|[x, y]| [cosine * x - sine * y, sine * x + cosine * y]);
    push(pull, b, c, turned[0]);
    push(pull, c, a, turned[1]);
    push(pull, a, b, turned[2]);
}

impl Patch<'_> {
    /// The flat shape from `start` in which no triangle is stretched more than it must be, after at
    /// most `rounds`, or when no point moves by more than `tolerance`, mm. `None` if the patch is
    /// not of one piece.
    #[must_use]
    pub fn relaxed(&self, start: &[Point], rounds: usize, tolerance: f64) -> Option<Vec<Point>> {
        let mut stepper = Rounds::new(self, &[], 0.0)?;
        let mut flat = stepper.ordered(start);
        for _ in 0..rounds {
            if stepper.round(&mut flat, &[]) < tolerance {
                break;
            }
        }
        Some(stepper.restored(&flat))
    }
}

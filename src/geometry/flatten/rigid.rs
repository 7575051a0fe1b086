//! As rigid as possible: each triangle turned, none stretched more than it must be.

use super::sparse::{Entry, Factor};
use super::{HeldEdge, Patch};
use kurbo::{Point, Vec2};

/// The matrix of one set of held edges, factored, and what its rounds need.
pub(super) struct Rounds<'a> {
    patch: &'a Patch<'a>,
    held: &'a [HeldEdge],
    weight: f64,
    factor: Factor,
}

impl<'a> Rounds<'a> {
    /// Ready to flatten `patch` with a spring of `weight` along each held edge. `None` if the patch
    /// is not of one piece.
    pub(super) fn new(patch: &'a Patch<'a>, held: &'a [HeldEdge], weight: f64) -> Option<Self> {
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
        Some(Self {
            patch,
            held,
            weight,
            factor,
        })
    }

    /// One local and one global step (Liu, Zhang, Xu, Gotsman & Gortler 2008): every triangle finds
    /// the turn that brings it nearest to its flat shape, every held edge points where it points
    /// with its spring's length, then all points are placed at once. Returns the greatest move, mm.
    pub(super) fn round(&self, flat: &mut [Point], springs: &[f64]) -> f64 {
        let size = self.patch.size();
        let mut pull = vec![[0.0; 2]; size];
        let mut push = |i: usize, j: usize, way: Vec2| {
            pull[i][0] += way.x;
            pull[i][1] += way.y;
            pull[j][0] -= way.x;
            pull[j][1] -= way.y;
        };
        for triangle in &self.patch.triangles {
            let (mut cosine, mut sine) = (0.0, 0.0);
            let sides = [0, 1, 2].map(|k| triangle.side(k));
            for (i, j, way, weight) in sides {
                let now = flat[i] - flat[j];
                cosine += weight * (now.x * way.x + now.y * way.y);
                sine += weight * (now.y * way.x - now.x * way.y);
            }
            let scale = 1.0 / (cosine.hypot(sine) + 1e-300);
            let (c, s) = (cosine * scale, sine * scale);
            for (i, j, way, weight) in sides {
                let turned = Vec2::new(c * way.x - s * way.y, s * way.x + c * way.y);
                push(i, j, weight * turned);
            }
        }
        for (edge, spring) in self.held.iter().zip(springs) {
            let [i, j] = edge.ends;
            let now = flat[i] - flat[j];
            let scale = self.weight * spring / (now.hypot() + 1e-300);
            push(i, j, scale * now);
        }
        let mut placed = pull.split_off(1);
        self.factor.solve(&mut placed);
        let fixed = flat[0];
        let mut greatest = 0.0_f64;
        for (vertex, [x, y]) in placed.into_iter().enumerate() {
            let next = Point::new(x, y);
            let moved = next - (flat[vertex + 1] - fixed.to_vec2());
            greatest = greatest.max(moved.x.abs()).max(moved.y.abs());
            flat[vertex + 1] = next;
        }
        flat[0] = Point::ZERO;
        greatest
    }
}

impl Patch<'_> {
    /// The flat shape from `start` in which no triangle is stretched more than it must be, after at
    /// most `rounds`, or when no point moves by more than `tolerance`, mm. `None` if the patch is
    /// not of one piece.
    #[must_use]
    pub fn relaxed(&self, start: &[Point], rounds: usize, tolerance: f64) -> Option<Vec<Point>> {
        let stepper = Rounds::new(self, &[], 0.0)?;
        let mut flat = start.to_vec();
        for _ in 0..rounds {
            if stepper.round(&mut flat, &[]) < tolerance {
                break;
            }
        }
        Some(flat)
    }
}

//! The least-squares conformal map: angles kept as well as can be, lengths free. A start only.

use super::Patch;
use super::sparse::{Entry, Factor};
use kurbo::{Point, Vec2};

impl Patch<'_> {
    /// The map that keeps angles best in the sense of least squares, with two points far from each
    /// other kept as far apart as they are in space (Lévy, Petitjean, Ray & Maillot 2002). `None`
    /// if the patch is not of one piece.
    #[must_use]
    pub fn conformal(&self) -> Option<Vec<Point>> {
        let points = &self.mesh.points;
        let count = points.len() as f64;
        let sum = points.iter().fold(Default::default(), |a, p| *p + a);
        let centre: crate::geometry::space::Vec3 = sum;
        let centre = centre * (1.0 / count);
        let farthest = |from: crate::geometry::space::Vec3| {
            let far = |a: &usize, b: &usize| {
                points[*a]
                    .distance(from)
                    .total_cmp(&points[*b].distance(from))
            };
            (0..points.len()).max_by(far)
        };
        let first = farthest(centre)?;
        let second = farthest(points[first])?;
        let apart = points[first].distance(points[second]);
        self.conformal_pinned([(first, Point::ZERO), (second, Point::new(apart, 0.0))])
    }

    /// The same with two points pinned where the caller wants them.
    pub(super) fn conformal_pinned(&self, pins: [(usize, Point); 2]) -> Option<Vec<Point>> {
        let mut place = vec![usize::MAX; self.size()];
        let mut free = 0;
        for (vertex, slot) in place.iter_mut().enumerate() {
            if pins.iter().all(|(pin, _)| *pin != vertex) {
                *slot = 2 * free;
                free += 1;
            }
        }
        let pinned = |vertex: usize| {
            let pin = pins.iter().find(|(pin, _)| *pin == vertex);
            pin.map(|(_, at)| at.to_vec2())
        };
        let mut entries: Vec<Entry> = Vec::with_capacity(30 * self.triangles.len());
        let mut right = vec![[0.0; 1]; 2 * free];
        for triangle in &self.triangles {
            let weight = 0.5 / triangle.area;
            let ways: [Vec2; 3] = [0, 1, 2].map(|k| {
                let (_, _, way, _) = triangle.side(k);
                -way
            });
            for j in 0..3 {
                let row = place[triangle.corners[j]];
                if row == usize::MAX {
                    continue;
                }
                for k in 0..3 {
                    // Products of the complex weights: conj(W_j) W_k.
                    let same = weight * ways[j].dot(ways[k]);
                    let turned = weight * ways[j].cross(ways[k]);
                    let vertex = triangle.corners[k];
                    if let Some(at) = pinned(vertex) {
                        right[row][0] -= same * at.x - turned * at.y;
                        right[row + 1][0] -= turned * at.x + same * at.y;
                        continue;
                    }
                    let column = place[vertex];
                    let mut add = |r: usize, c: usize, value: f64| {
                        if r <= c {
                            entries.push(Entry::new(r, c, value));
                        }
                    };
                    add(row, column, same);
                    add(row + 1, column + 1, same);
                    add(row, column + 1, -turned);
                    add(row + 1, column, turned);
                }
            }
        }
        Factor::new(2 * free, &entries)?.solve(&mut right);
        let at = |vertex: usize| match pinned(vertex) {
            Some(at) => at.to_point(),
            None => Point::new(right[place[vertex]][0], right[place[vertex] + 1][0]),
        };
        Some((0..self.size()).map(at).collect())
    }
}

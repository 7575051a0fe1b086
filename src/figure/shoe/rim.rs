//! How far the points of a net lie from its topline. Millimetres, the foot's axes.

use super::upper::Upper;
use crate::figure::drawing::Mesh;
use crate::figure::drawing::polyline::distance_in_space;
use crate::geometry::space::Vec3;

/// Points of a stretch of the topline.
const STRETCH: usize = 12;

/// The topline in stretches, each with the middle and radius of a ball round it, so that those far
/// off are passed over.
pub(super) struct Rim {
    points: Vec<Vec3>,
    balls: Vec<(Vec3, f64)>,
}

impl Rim {
    pub(super) fn new(points: impl Iterator<Item = Vec3>) -> Self {
        let mut rim = Self {
            points: points.collect(),
            balls: Vec::new(),
        };
        rim.balls = rim.stretches().map(ball).collect();
        rim
    }

    /// The stretches; neighbours share a point.
    fn stretches(&self) -> impl Iterator<Item = &[Vec3]> {
        let last = self.points.len().saturating_sub(1);
        let starts = (0..last).step_by(STRETCH);
        starts.map(move |from| &self.points[from..=last.min(from + STRETCH)])
    }

    /// Distance of `point`; the search begins with the stretch number `first`. Also the number of the
    /// nearest stretch.
    fn distance(&self, point: Vec3, first: usize) -> (f64, usize) {
        let stretches: Vec<&[Vec3]> = self.stretches().collect();
        let Some(start) = stretches.get(first) else {
            return (f64::INFINITY, 0);
        };
        let mut best = (distance_in_space(point, start), first);
        for (number, stretch) in stretches.into_iter().enumerate() {
            let (middle, radius) = self.balls[number];
            if number != first && point.distance(middle) - radius <= best.0 {
                let distance = distance_in_space(point, stretch);
                if distance < best.0 {
                    best = (distance, number);
                }
            }
        }
        best
    }

    /// Distances of the corners of a net's surface: exact where a triangle may have a corner within
    /// `wanted` of the topline, elsewhere only some distance that is surely larger.
    pub(super) fn distances(&self, net: &Mesh, wanted: f64) -> Vec<f64> {
        let side = |&[a, b, c]: &[u32; 3]| {
            let [p, q, r] = [a, b, c].map(|i| net.vertices[i as usize]);
            p.distance(q).max(q.distance(r)).max(r.distance(p))
        };
        let enough = wanted + net.triangles.iter().map(side).fold(0.0, f64::max);
        let mut distances = vec![0.0; net.vertices.len()];
        let mut nearest = 0;
        for (column, distances) in distances.chunks_mut(Upper::ROWS).enumerate() {
            // From point to point the distance falls by no more than the way between them.
            let mut least = 0.0;
            let mut above = Vec3::default();
            for (row, distance) in distances.iter_mut().enumerate().rev() {
                let point = net.vertices[Upper::index(column, row)];
                least -= point.distance(above);
                if least <= enough {
                    (least, nearest) = self.distance(point, nearest);
                }
                *distance = least;
                above = point;
            }
        }
        distances
    }
}

/// A ball round points.
fn ball(points: &[Vec3]) -> (Vec3, f64) {
    let sum = points.iter().fold(Vec3::default(), |sum, p| sum + *p);
    let middle = sum * (1.0 / points.len().max(1) as f64);
    let radius = points.iter().map(|p| p.distance(middle));
    // A little more, so that rounding leaves nothing outside.
    (middle, radius.fold(0.0, f64::max) + 1e-9)
}

#[cfg(test)]
mod tests {
    use super::super::Extent;
    use super::super::tests::form;
    use super::*;

    #[test]
    fn distances_that_matter_are_those_to_the_whole_topline() {
        let form = form(45.0);
        let extent = Extent::of(&form);
        let net = Upper::new(&form, &extent);
        let columns = net.topline_columns().into_iter();
        let top: Vec<Vec3> = columns
            .map(|column| net.points[Upper::index(column, Upper::ROWS - 1)])
            .collect();
        let mesh = Mesh {
            vertices: net.points.clone(),
            triangles: net.triangles.clone(),
            ..Mesh::default()
        };
        let wanted = 0.032 * extent.length;
        let found = Rim::new(top.iter().copied()).distances(&mesh, wanted);
        let mut exact = 0;
        for (point, found) in net.points.iter().zip(found) {
            let whole = distance_in_space(*point, &top);
            if found == whole {
                exact += 1;
            } else {
                assert!(wanted < found && found < whole, "{found} for {whole}");
            }
        }
        assert!(exact > 0 && exact < net.points.len(), "{exact}");
    }
}

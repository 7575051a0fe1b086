//! What a flat shape costs: how each triangle is stretched.

use super::Patch;
use kurbo::Point;

/// How one triangle is changed by the way from space into the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strain {
    /// Greatest stretch, as a ratio of lengths.
    pub greatest: f64,
    /// Least stretch, as a ratio of lengths.
    pub least: f64,
    /// Ratio of areas; not positive where the triangle is folded over.
    pub area_ratio: f64,
    /// Area in space, mm².
    pub area: f64,
}

impl Patch<'_> {
    /// The strain of every triangle, in the mesh's order.
    #[must_use]
    pub fn strain(&self, flat: &[Point]) -> Vec<Strain> {
        let strain = |triangle: &super::Flat| {
            let [a, b, c] = triangle.corners.map(|i| flat[i]);
            let (u, v) = (b - a, c - a);
            let (width, foot, height) = (triangle.at[1].x, triangle.at[2].x, triangle.at[2].y);
            // The derivative, column by column.
            let along = u / width;
            let up = (v - along * foot) / height;
            let area_ratio = along.cross(up);
            // Singular values of a 2 x 2 matrix from its conformal and its other part.
            let kept = 0.5 * (along.x + up.y).hypot(along.y - up.x);
            let changed = 0.5 * (along.x - up.y).hypot(along.y + up.x);
            Strain {
                greatest: kept + changed,
                least: (kept - changed).abs(),
                area_ratio,
                area: triangle.area,
            }
        };
        self.triangles.iter().map(strain).collect()
    }

    /// For every point of the mesh, how much larger the cloth round it is in the plane than in
    /// space, as a share, averaged over its triangles by area.
    #[must_use]
    pub fn area_strain_at_points(&self, strain: &[Strain]) -> Vec<f64> {
        let mut sums = vec![(0.0, 0.0); self.size()];
        for (triangle, strain) in self.triangles.iter().zip(strain) {
            for corner in triangle.corners {
                sums[corner].0 += strain.area * (strain.area_ratio - 1.0);
                sums[corner].1 += strain.area;
            }
        }
        let mean = |(sum, area): (f64, f64)| if area > 0.0 { sum / area } else { 0.0 };
        sums.into_iter().map(mean).collect()
    }
}

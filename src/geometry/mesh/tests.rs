#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use kurbo::Point;

fn square(side: f64, steps: usize) -> Vec<Point> {
    let at = |i: usize| side * i as f64 / steps as f64;
    let bottom = (0..steps).map(|i| Point::new(at(i), 0.0));
    let right = (0..steps).map(|i| Point::new(side, at(i)));
    let top = (0..steps).map(|i| Point::new(side - at(i), side));
    let left = (0..steps).map(|i| Point::new(0.0, side - at(i)));
    bottom.chain(right).chain(top).chain(left).collect()
}

/// Euler's formula for a disc: with b boundary points and i inside, b + 2 i - 2 triangles.
#[test]
fn a_square_is_filled_with_as_many_triangles_as_euler_says() {
    let mut points = square(10.0, 10);
    let ring = points.len();
    let candidates: Vec<Vec3> = (0..2000)
        .map(halton)
        .map(|(x, y)| Vec3::new(10.0 * x, 10.0 * y, 0.0))
        .collect();
    let fixed: Vec<Vec3> = points.iter().map(|p| Vec3::new(p.x, p.y, 0.0)).collect();
    let spacing = Spacing {
        apart: 0.8,
        from_fixed: 0.6,
    };
    let inner = scatter(&candidates, &fixed, spacing);
    for (n, i) in inner.iter().enumerate() {
        for j in &inner[..n] {
            assert!(candidates[*i].distance(candidates[*j]) > 0.8);
        }
    }
    points.extend(
        inner
            .iter()
            .map(|i| Point::new(candidates[*i].x, candidates[*i].y)),
    );
    let triangles = triangulate(&points, ring).unwrap();
    assert_eq!(triangles.len(), ring + 2 * inner.len() - 2);
    let area = |t: &[usize; 3]| {
        let [a, b, c] = t.map(|i| points[i]);
        0.5 * (b - a).cross(c - a)
    };
    assert!(triangles.iter().all(|t| area(t) > 0.0));
    assert!((triangles.iter().map(area).sum::<f64>() - 100.0).abs() < 1e-9);
}

#[test]
fn a_hollow_boundary_is_kept() {
    let l_shape = [
        (0.0, 0.0),
        (4.0, 0.0),
        (4.0, 1.0),
        (1.0, 1.0),
        (1.0, 4.0),
        (0.0, 4.0),
    ];
    let points = l_shape.map(Point::from);
    assert_eq!(triangulate(&points, 6).unwrap().len(), 4);
}

#[test]
fn what_cannot_be_triangulated_is_told() {
    let bow = [(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)].map(Point::from);
    assert_eq!(triangulate(&bow, 4), Err(MeshFault::Crosses));
    let doubled = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (2.0, 2.0)].map(Point::from);
    assert_eq!(triangulate(&doubled, 3), Err(MeshFault::Doubled));
    let lost = [(0.0, f64::NAN), (2.0, 0.0), (2.0, 2.0)].map(Point::from);
    assert_eq!(triangulate(&lost, 3), Err(MeshFault::NotFinite));
}

#[test]
fn flips_leave_no_two_opposite_angles_above_a_half_turn() {
    // A flat kite cut along its long diagonal.
    let points = [(0.0, 0.0), (5.0, 1.0), (10.0, 0.0), (5.0, -1.0)];
    let mut mesh = Mesh {
        points: points.map(|(x, y)| Vec3::new(x, y, 0.0)).to_vec(),
        triangles: vec![[0, 2, 1], [0, 3, 2]],
    };
    delaunay_flips(&mut mesh);
    let shared = |t: &[usize; 3]| t.contains(&1) && t.contains(&3);
    assert!(mesh.triangles.iter().all(shared), "{:?}", mesh.triangles);
}

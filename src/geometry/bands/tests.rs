use super::*;
use kurbo::Shape;

/// A square of 10 by 10 in steps of 0.25, values x² + y² from its corner.
fn quarter() -> (Vec<Point>, Vec<[usize; 3]>, Vec<f64>) {
    let count = 41;
    let at = |i: usize| i as f64 * 0.25;
    let mut points = Vec::new();
    let mut triangles = Vec::new();
    for row in 0..count {
        for column in 0..count {
            points.push(Point::new(at(column), at(row)));
            if row + 1 < count && column + 1 < count {
                let here = row * count + column;
                let (right, below) = (here + 1, here + count);
                triangles.push([here, right, below + 1]);
                triangles.push([here, below + 1, below]);
            }
        }
    }
    let values = points.iter().map(|p| p.to_vec2().hypot2()).collect();
    (points, triangles, values)
}

/// Closed form: the quarter of a ring between radii 4 and 8 has the area π (64 - 16) / 4, and the
/// bands together make the square.
#[test]
fn a_band_has_the_area_between_its_limits() {
    let (points, triangles, values) = quarter();
    let field = Field {
        points: &points,
        triangles: &triangles,
        values: &values,
    };
    let ring = field.band(16.0, 64.0);
    let wanted = std::f64::consts::PI * 12.0;
    assert!((ring.area() / wanted - 1.0).abs() < 2e-3, "{}", ring.area());
    // One ring, merged over more than a thousand triangles.
    let starts = ring
        .elements()
        .iter()
        .filter(|e| matches!(e, kurbo::PathEl::MoveTo(_)));
    assert_eq!(starts.count(), 1);
    let limits = [f64::NEG_INFINITY, 16.0, 64.0, 120.0, f64::INFINITY];
    let areas = limits.windows(2).map(|w| field.band(w[0], w[1]).area());
    assert!((areas.sum::<f64>() - 100.0).abs() < 1e-9);
    assert!(field.band(500.0, 600.0).elements().is_empty());
}

#[test]
fn smoothing_leaves_even_values_and_lowers_a_peak() {
    let (points, triangles, _) = quarter();
    let mut values = vec![2.0; points.len()];
    let field = |values: &[f64]| {
        Field {
            points: &points,
            triangles: &triangles,
            values,
        }
        .smoothed(3)
    };
    assert!(field(&values).iter().all(|v| (v - 2.0).abs() < 1e-12));
    values[800] = 10.0;
    let peak = field(&values).into_iter().fold(0.0, f64::max);
    assert!(peak > 2.5 && peak < 6.0, "{peak}");
}

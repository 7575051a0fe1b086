//! What must hold for any outline, allowances and corners.

use super::super::*;
use super::FINE;
use crate::geometry::{Edge, curve};
use kurbo::{Affine, ParamCurve, PathSeg};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::f64::consts::PI;

/// A ring of three to nine edges about the origin, straight or curved, that does not cross itself.
fn any_outline() -> impl Strategy<Value = Outline> {
    let vertex = (
        8.0..40.0_f64,
        -0.35..0.35_f64,
        0..3,
        -9.0..9.0_f64,
        -9.0..9.0_f64,
    );
    prop::collection::vec(vertex, 3..10).prop_filter_map("crosses itself", |vertices| {
        let count = vertices.len();
        let at = |i: usize| {
            let (radius, shift, ..) = vertices[i % count];
            let angle = (i as f64 + shift) / count as f64 * 2.0 * PI;
            Point::new(radius * angle.cos(), radius * angle.sin())
        };
        let edges = (0..count).map(|i| {
            let (_, _, kind, a, b) = vertices[i];
            let (from, to) = (at(i), at(i + 1));
            let normal = kurbo::Vec2::new((to - from).y, -(to - from).x).normalize();
            let mut curve = BezPath::new();
            curve.move_to(from);
            match kind {
                0 => curve.line_to(to),
                1 => curve.quad_to(from.midpoint(to) + a * normal, to),
                _ => curve.curve_to(
                    from.lerp(to, 0.3) + a * normal,
                    from.lerp(to, 0.7) + b * normal,
                    to,
                ),
            }
            Edge::new(format!("edge {i}"), curve)
        });
        let outline = Outline::new(edges.collect()).ok()?;
        let whole = outline.edges().len() == count && outline.area() > 20.0;
        (whole && outline.check_simple().is_ok()).then_some(outline)
    })
}

fn any_corner() -> impl Strategy<Value = Corner> {
    prop_oneof![
        (1.0..6.0_f64).prop_map(|limit| Corner::Mitre { limit }),
        Just(Corner::Round),
        Just(Corner::Chamfer),
        Just(Corner::Square),
        any::<bool>().prop_map(|hem_begins| Corner::Folded { hem_begins }),
    ]
}

fn any_width() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 2 => Just(4.7625), 3 => 0.5..8.0_f64]
}

/// Whether `point` may lie nearer to edge `index` than its allowance: within reach of an end where
/// the corner is chamfered or folded, or the neighbour has no allowance, or the nearest point is the
/// edge's end, where the neighbour's allowance counts.
fn excused(
    shape: &Outline,
    index: usize,
    point: Point,
    widths: &[f64],
    corners: &[Corner],
) -> bool {
    let count = widths.len();
    let edge = &shape.edges()[index];
    let widest = widths.iter().copied().fold(0.0, f64::max);
    let at_end = |vertex: Point, corner: Corner, neighbour: usize| {
        let from = point.distance(vertex);
        let changed = matches!(corner, Corner::Chamfer | Corner::Folded { .. });
        let cut_short = changed || widths[neighbour] == 0.0;
        from <= if cut_short {
            2.0 * FOLD_REACH * widest
        } else {
            widths[index]
        }
    };
    let before = (index + count - 1) % count;
    let after = (index + 1) % count;
    at_end(edge.start(), corners[index], before) || at_end(edge.end(), corners[after], after)
}

/// How far `point` lies from an edge on the edge's outer side; infinite on its inner side, where
/// the piece lies between.
fn outward_distance(shape: &Outline, index: usize, point: Point) -> f64 {
    let mut best = f64::INFINITY;
    let mut outside = true;
    for segment in shape.edges()[index].segments() {
        let near = segment.nearest(point, 1e-9);
        if near.distance_sq.sqrt() < best {
            best = near.distance_sq.sqrt();
            let tangent = curve::tangent(&segment, near.t);
            outside = tangent.cross(point - segment.eval(near.t)) < 0.0;
        }
    }
    if outside { best } else { f64::INFINITY }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    #[test]
    fn any_cut_line_is_simple_clockwise_and_far_enough_out(
        shape in any_outline(),
        widths in prop::collection::vec(any_width(), 10),
        corners in prop::collection::vec(any_corner(), 10),
    ) {
        let count = shape.edges().len();
        let (widths, corners) = (&widths[..count], &corners[..count]);
        match cut_line(&shape, widths, corners, FINE) {
            Err(CutFault::Swallowed { .. }) => {}
            Err(fault) => prop_assert!(false, "{fault:?}"),
            Ok(path) => {
                prop_assert_eq!(winding::windings(&path), Some(0..=1));
                prop_assert!(path.area() >= shape.area() - 1e-6);
                for point in curve::spread(&path, 200) {
                    for index in 0..count {
                        let distance = outward_distance(&shape, index, point);
                        let enough = distance >= widths[index] - 2.0 * FINE;
                        prop_assert!(
                            enough || excused(&shape, index, point, widths, corners),
                            "{point:?} lies {distance} from edge {index}: {widths:?} {corners:?}\n{}\n{}",
                            shape.path().to_svg(),
                            path.to_svg()
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn any_inset_and_outset_lies_at_its_distance(shape in any_outline(), by in -6.0..6.0_f64) {
        if let Ok(moved) = shape.inset(by) {
            let whole = moved.path();
            prop_assert_eq!(winding::windings(&whole), Some(0..=1), "\n{}\n{}", shape.path().to_svg(), whole.to_svg());
            let seam: Vec<PathSeg> = shape.path().segments().collect();
            for point in curve::spread(&moved.path(), 100) {
                let near = seam.iter().map(|s| s.nearest(point, 1e-9).distance_sq);
                let distance = near.fold(f64::INFINITY, f64::min).sqrt();
                prop_assert!((distance - by.abs()).abs() < 2e-3, "{distance} {by} {:?} {}", point, shape.path().to_svg());
            }
            for edge in moved.edges() {
                prop_assert!(shape.edge(&edge.name).is_some());
            }
        }
    }

    #[test]
    fn a_cut_line_moves_with_its_piece(shape in any_outline(), angle in 0.0..6.0_f64, x in -50.0..50.0_f64) {
        let move_by = Affine::translate((x, 3.0)) * Affine::rotate(angle);
        let count = shape.edges().len();
        let cut = |s: &Outline| cut_line(s, &vec![3.0; count], &vec![Corner::Round; count], FINE);
        if let (Ok(first), Ok(second)) = (cut(&shape), cut(&shape.transformed(move_by))) {
            prop_assert!((first.area() - second.area()).abs() < 0.2);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 700,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(0x5eed_0700),
        ..ProptestConfig::default()
    })]

    #[test]
    fn no_cut_line_crosses_itself_or_has_a_spike(
        shape in any_outline(),
        widths in prop::collection::vec(any_width(), 10),
        corners in prop::collection::vec(any_corner(), 10),
        one in any_corner(),
        same in any::<bool>(),
    ) {
        let count = shape.edges().len();
        let corners = if same { vec![one; count] } else { corners[..count].to_vec() };
        match cut_line(&shape, &widths[..count], &corners, FINE) {
            Err(CutFault::Swallowed { .. }) => {}
            Err(fault) => prop_assert!(
                false, "{fault:?} {:?} {corners:?}\n{}", &widths[..count], shape.path().to_svg()
            ),
            Ok(path) => {
                prop_assert_eq!(winding::crossing(&path), None, "{}", path.to_svg());
                prop_assert_eq!(runs_back(&path), None, "{}", path.to_svg());
                prop_assert!(turned_back(&path).is_none(), "{}", path.to_svg());
            }
        }
    }
}

/// A joint of two lines at which the path turns by 180 degrees, to within a thousandth of a radian.
/// A curve may leave a joint that way, since it bends away at once.
fn turned_back(path: &BezPath) -> Option<Point> {
    let segments: Vec<PathSeg> = path
        .segments()
        .filter(|s| s.start().distance(s.end()) > 1e-3)
        .collect();
    (0..segments.len()).find_map(|i| {
        let (before, after) = (segments[i], segments[(i + 1) % segments.len()]);
        let (PathSeg::Line(a), PathSeg::Line(b)) = (before, after) else {
            return None;
        };
        let (a, b) = ((a.p1 - a.p0).normalize(), (b.p1 - b.p0).normalize());
        (a.dot(b) < 0.0 && a.cross(b).abs() < 1e-3).then(|| before.end())
    })
}

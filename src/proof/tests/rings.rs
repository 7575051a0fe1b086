//! Deviations of curves whose distance is known in closed form, and windows on a rectangle.

use super::press::{circle, sole, toe};
use crate::proof::ring::{Ring, quarter_turns};
use crate::proof::tiles::coverage;
use kurbo::{Affine, BezPath, Rect, Shape};

fn ring(path: &BezPath) -> Ring {
    Ring::new(path).unwrap()
}

fn rectangle(width: f64, height: f64) -> Ring {
    ring(&Rect::new(0.0, 0.0, width, height).to_path(0.1))
}

#[test]
fn concentric_circles_deviate_by_the_difference_of_their_radii() {
    let placement = ring(&circle(20.0))
        .placed_on(&ring(&circle(20.3)), 1.0)
        .unwrap();
    assert!((placement.deviation - 0.3).abs() < 1e-5, "{placement:?}");
}

#[test]
fn a_longer_rectangle_deviates_by_half_at_either_end() {
    let there = rectangle(60.4, 20.0).transformed(Affine::translate((7.0, 9.0)));
    let placement = rectangle(60.0, 20.0).placed_on(&there, 1.0).unwrap();
    assert!((placement.deviation - 0.2).abs() < 1e-6, "{placement:?}");
    assert!((placement.shift.x - 7.2).abs() < 1e-6, "{placement:?}");
}

#[test]
fn a_corner_cut_off_deviates_by_its_height() {
    // A chamfer of legs 0.4: the corner lies 0.4 / √2 from it. The rest hardly moves.
    let cut_off = BezPath::from_svg("M0 0 L59.6 0 L60 0.4 L60 20 L0 20 Z").unwrap();
    let deviation = rectangle(60.0, 20.0).deviation(&ring(&cut_off));
    assert!(
        (deviation - 0.4 / 2.0_f64.sqrt()).abs() < 1e-6,
        "{deviation}"
    );
}

#[test]
fn the_placement_maps_the_piece_onto_its_drawing() {
    for turns in 0..4 {
        let there = Affine::translate((31.0, -4.0)) * quarter_turns(turns);
        let drawn = ring(&toe()).transformed(there);
        let placement = ring(&toe()).placed_on(&drawn, 1.0).unwrap();
        assert_eq!(placement.turns, turns);
        assert!(placement.deviation < 1e-9);
        let off = placement.to_affine().as_coeffs();
        for (a, b) in off.iter().zip(there.as_coeffs()) {
            assert!((a - b).abs() < 1e-9, "{placement:?}");
        }
    }
}

#[test]
fn one_turn_clockwise_takes_the_right_side_down() {
    let right = kurbo::Point::new(1.0, 0.0);
    assert_eq!(quarter_turns(1) * right, kurbo::Point::new(0.0, 1.0));
}

#[test]
fn samples_stand_at_equal_distances() {
    let points = rectangle(60.0, 20.0).samples(16);
    assert_eq!(points.len(), 16);
    for (index, point) in points.iter().enumerate().take(6) {
        assert!(point.distance(kurbo::Point::new(10.0 * index as f64, 0.0)) < 1e-5);
    }
}

#[test]
fn open_and_double_paths_are_no_rings() {
    for path in [
        "M0 0 L10 0 L10 10",
        "M0 0 L9 0 L9 9 Z M1 1 L2 1 L2 2 Z",
        "M0 0 Z",
        "",
    ] {
        assert!(
            Ring::new(&BezPath::from_svg(path).unwrap()).is_none(),
            "{path}"
        );
    }
    assert!(Ring::new(&sole()).is_some());
}

#[test]
fn windows_overlap_by_what_they_share_on_the_outline() {
    let outline = rectangle(100.0, 40.0);
    let left = Rect::new(-5.0, -5.0, 56.0, 45.0);
    let right = Rect::new(49.5, -5.0, 105.0, 45.0);
    let both = coverage(&outline, &[left, right]);
    assert!(
        both.gap.is_none() && (both.overlap - 6.5).abs() < 0.06,
        "{both:?}"
    );
    let one = coverage(&outline, &[left]);
    assert!(
        one.gap.is_some_and(|gap| gap.x > 56.0 && gap.x < 56.1),
        "{one:?}"
    );
}

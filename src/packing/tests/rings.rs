use super::super::random::Random;
use super::super::{ring as rings, simplify, swell, verify};
use super::{hook, rectangle, ring};
use kurbo::{Point, Vec2};

fn overlap(one: &[Point], other: &[Point], by: (f64, f64)) -> bool {
    verify::rings_overlap(one, &rings::moved(other, Vec2::from(by)))
}

#[test]
fn rings_that_share_ground_overlap_however_their_edges_lie() {
    let square = rectangle(2.0, 1.0);
    assert!(overlap(&square, &square, (0.0, 0.0)), "the same ring twice");
    assert!(overlap(&square, &square, (1.0, 0.0)), "edges on one line");
    assert!(
        overlap(&square, &rectangle(0.5, 0.5), (0.7, 0.2)),
        "one within the other"
    );
    assert!(overlap(&square, &square, (1.0, 0.999)), "a corner");
    let cross = [rectangle(9.0, 1.0), rectangle(1.0, 9.0)];
    assert!(
        overlap(&cross[0], &cross[1], (4.0, -4.0)),
        "no corner within the other"
    );
}

#[test]
fn rings_that_only_touch_do_not_overlap() {
    let square = rectangle(2.0, 1.0);
    assert!(!overlap(&square, &square, (2.0, 0.0)), "a whole edge");
    assert!(!overlap(&square, &square, (1.0, 1.0)), "half an edge");
    assert!(!overlap(&square, &square, (2.0, 1.0)), "a corner");
    assert!(
        !overlap(&hook(), &rectangle(20.0, 40.0), (10.0, 10.0)),
        "a piece in the crook"
    );
}

/// A star-shaped ring with hollow corners.
fn star(corners: usize, random: &mut Random) -> Vec<Point> {
    let corner = |i: usize| {
        let angle = std::f64::consts::TAU * (i as f64 + random.between(0.0, 0.5)) / corners as f64;
        Point::ORIGIN + Vec2::from_angle(angle) * random.between(12.0, 30.0)
    };
    (0..corners).map(corner).collect()
}

#[test]
fn a_grown_ring_keeps_the_distance_everywhere_and_not_much_more() {
    let mut random = Random::new(11);
    for corners in [5, 8, 13, 40] {
        for _ in 0..25 {
            let points = star(corners, &mut random);
            let grown = swell::grown(&points, 2.0);
            for (a, b) in rings::edges(&grown) {
                for middle in [a, a.lerp(b, 0.3), a.lerp(b, 0.7)] {
                    assert!(!rings::contains(&points, middle));
                    let off = rings::distance(&points, middle);
                    // Tangents that turn by 45° stand off an arc by 1 / cos 22.5° = 1.0824.
                    assert!((1.9999..=2.0 * 1.0825).contains(&off), "{off}");
                }
            }
        }
    }
}

#[test]
fn a_shrunk_rectangle_is_a_smaller_rectangle() {
    let left = swell::shrunk(&rectangle(40.0, 30.0), 5.0);
    assert!((rings::area(&left) - 600.0).abs() < 1e-3, "{left:?}");
    assert!(swell::shrunk(&rectangle(40.0, 8.0), 5.0).is_empty());
}

#[test]
fn a_simplified_ring_holds_the_true_one_and_stays_within_the_tolerance() {
    let mut random = Random::new(5);
    let round: Vec<Point> = (0..160)
        .map(|i| {
            let angle = std::f64::consts::TAU * f64::from(i) / 160.0;
            let radius = 40.0 + 6.0 * (3.0 * angle).sin() + random.between(-0.02, 0.02);
            Point::ORIGIN + Vec2::from_angle(angle) * radius
        })
        .collect();
    for (tolerance, most) in [(0.1, 90), (0.5, 50), (2.0, 25)] {
        let fewer = simplify::outwards(&round, tolerance);
        assert!(fewer.len() < most, "{} points at {tolerance}", fewer.len());
        let outside = |p: &&Point| !rings::contains(&fewer, **p);
        let lost = round
            .iter()
            .filter(outside)
            .map(|&p| rings::distance(&fewer, p));
        assert!(
            lost.fold(0.0, f64::max) < 1e-9,
            "points left outside at {tolerance}"
        );
        let off = fewer
            .iter()
            .map(|&p| rings::distance(&round, p))
            .fold(0.0, f64::max);
        assert!(off <= 2.0 * tolerance, "{off} at {tolerance}");
    }
}

#[test]
fn doubled_points_straight_runs_and_direction_are_tidied_away() {
    let messy = ring(&[
        (0., 0.),
        (0., 5.),
        (0., 5.),
        (0., 9.),
        (7., 9.),
        (7., 0.),
        (3., 0.),
        (0., 0.),
    ]);
    let tidy = rings::tidied(&messy);
    assert_eq!(tidy.len(), 4);
    assert!((rings::area(&tidy) - 63.0).abs() < 1e-12);
}

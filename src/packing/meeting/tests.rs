use super::super::random::Random;
use super::super::ring;
use super::super::verify;
use super::Meeting;
use kurbo::{Point, Vec2};

/// A ring round the origin with `corners` corners at random distances: hollow ones among them.
fn star(corners: usize, random: &mut Random) -> Vec<Point> {
    let corner = |i: usize| {
        let angle = std::f64::consts::TAU * (i as f64 + random.between(0.0, 0.6)) / corners as f64;
        Point::ORIGIN + Vec2::from_angle(angle) * random.between(3.0, 30.0)
    };
    (0..corners).map(corner).collect()
}

#[test]
fn the_curve_winds_only_round_shifts_at_which_the_pieces_overlap() {
    let mut random = Random::new(7);
    let (mut met, mut free) = (0, 0);
    for _ in 0..60 {
        let (one, other) = (star(9, &mut random), star(12, &mut random));
        let meeting = Meeting::new(&one, &other, 1);
        for _ in 0..100 {
            let by = Vec2::new(random.between(-60.0, 60.0), random.between(-60.0, 60.0));
            let expected = verify::rings_overlap(&one, &ring::moved(&other, by));
            assert_eq!(meeting.at(by), expected, "{by:?} {one:?} {other:?}");
            met += usize::from(expected);
            free += usize::from(!expected);
        }
    }
    assert!(met > 1000 && free > 1000, "{met} {free}");
}

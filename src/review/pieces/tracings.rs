//! Points of a tracing that lie off the line of their neighbours.

use super::{Made, Said};
use crate::design::Tracing;
use crate::diagnostic::Level;
use kurbo::{Point, Vec2};

/// A point is astray if it leaves its neighbours' curve by so many times the usual (Hampel's
/// identifier takes 3; feet have corners), and by this share of the tracing's extent.
const TIMES: f64 = 12.0;
const SHARE: f64 = 0.04;

/// Fewer points say nothing.
const FEWEST: usize = 12;

/// Each point of a tracing lies near the cubic through the two before and the two after it.
pub(super) fn astray(made: &Made, said: &mut Said) {
    for foot in made
        .design
        .sizes
        .iter()
        .filter_map(|size| size.foot.as_ref())
    {
        for foot in std::iter::once(foot).chain(foot.other.as_deref()) {
            let Tracing::Points(points) = &foot.tracing else {
                continue;
            };
            let points: Vec<Point> = points.iter().map(|[x, y]| Point::new(*x, *y)).collect();
            let Some((number, off)) = farthest(&points) else {
                continue;
            };
            let at = points[number];
            let message = format!(
                "Point {} of the tracing, ({:.1}, {:.1}), lies {off:.1} mm off the line of its \
                 neighbours",
                number + 1,
                at.x,
                at.y
            );
            let remedy = "Compare it with the paper; it may be misread, or out of its turn.";
            let what = format!("{}:{} {number}", foot.place.source.path, foot.place.line);
            said.tell(
                Level::Note,
                "tracing-point-astray",
                &what,
                (&foot.place, message, remedy),
            );
        }
    }
}

/// The point that lies farthest off, if it is astray.
fn farthest(points: &[Point]) -> Option<(usize, f64)> {
    let count = points.len();
    if count < FEWEST {
        return None;
    }
    let at = |i: usize| points[i % count].to_vec2();
    let off = |i: usize| {
        // Lagrange's cubic through the four neighbours, half way.
        let near = (at(i + count - 1) + at(i + 1)) * (4.0 / 6.0);
        let far = (at(i + count - 2) + at(i + 2)) / 6.0;
        (at(i) - (near - far)).hypot()
    };
    let all: Vec<f64> = (0..count).map(off).collect();
    let (number, most) = all
        .iter()
        .copied()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let mut sorted = all;
    sorted.sort_by(f64::total_cmp);
    let usual = sorted[count / 2];
    (most > TIMES * usual && most > SHARE * extent(points)).then_some((number, most))
}

fn extent(points: &[Point]) -> f64 {
    let start = points[0].to_vec2();
    let fold =
        |pick: fn(Vec2, Vec2) -> Vec2| points.iter().fold(start, |m, p| pick(m, p.to_vec2()));
    let low = fold(|a, b| Vec2::new(a.x.min(b.x), a.y.min(b.y)));
    let high = fold(|a, b| Vec2::new(a.x.max(b.x), a.y.max(b.y)));
    (high - low).hypot()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ellipse(count: usize) -> Vec<Point> {
        let point = |i: usize| {
            let angle = std::f64::consts::TAU * i as f64 / count as f64;
            Point::new(9.0 * angle.cos(), 22.0 * angle.sin())
        };
        (0..count).map(point).collect()
    }

    #[test]
    fn one_point_off_a_closed_curve_is_found() {
        let mut points = ellipse(60);
        assert_eq!(farthest(&points), None);
        points[17].x += 4.0;
        let (number, off) = farthest(&points).expect("it is astray");
        assert_eq!(number, 17);
        assert!((off - 4.0).abs() < 0.1, "{off}");
    }
}

//! Heel and toe of a traced shape, and the shape laid on the foot's axes: the centre heel at the origin,
//! the centre toe above it on the page. In mm.

use super::Toe;
use crate::geometry::curve::{self, CHORD_POINTS};
use crate::geometry::ring::area;
use kurbo::{Affine, BezPath, Point, Vec2};

/// And so many times more near its ends, so that its direction is known to a fifth of a degree.
const FINER: usize = 4;

/// Halves that enclose the same but for this share do not tell heel from toe.
const ALIKE: f64 = 0.04;

/// Heel and toe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ends {
    /// The centre heel.
    pub heel: Point,
    /// The centre toe.
    pub toe: Point,
}

/// The ends of the longest chord: the toe at the broader half, or where `toe` says, seen through
/// `to_picture` (a direction on the paper as one of the picture).
///
/// # Errors
/// The two ends if nothing tells which is the toe.
pub fn ends(
    path: &BezPath,
    toe: Option<Toe>,
    to_picture: &dyn Fn(Point) -> Point,
) -> Result<Ends, [Point; 2]> {
    let points = curve::spread(path, FINER * CHORD_POINTS);
    let [a, b] = longest_chord(&points);
    let b_is_toe = match toe {
        Some(toe) => {
            let across = to_picture(b) - to_picture(a);
            let along = across.dot(toe.direction());
            if along.abs() < 0.5 * across.hypot() {
                return Err([a, b]);
            }
            along > 0.0
        }
        None => {
            let [near_a, near_b] = halves(&points, a, b);
            if (near_a - near_b).abs() < ALIKE * near_a.max(near_b) {
                return Err([a, b]);
            }
            near_b > near_a
        }
    };
    let (heel, toe) = if b_is_toe { (a, b) } else { (b, a) };
    Ok(Ends { heel, toe })
}

/// Where a line that is printed along the foot meets the path: hindmost and foremost. `None` if it does not
/// go through it.
pub fn ends_on_line(path: &BezPath, through: Point, towards_toe: Vec2) -> Option<Ends> {
    let points = curve::spread(path, FINER * CHORD_POINTS);
    let off = |p: &Point| towards_toe.cross(*p - through);
    let pairs = points.iter().zip(points.iter().cycle().skip(1));
    let crossings: Vec<Point> = pairs
        .filter(|(a, b)| (off(a) > 0.0) != (off(b) > 0.0))
        .map(|(a, b)| a.lerp(*b, off(a) / (off(a) - off(b))))
        .collect();
    let along = |p: &&Point| (**p - through).dot(towards_toe);
    let heel = crossings
        .iter()
        .min_by(|a, b| along(a).total_cmp(&along(b)))?;
    let toe = crossings
        .iter()
        .max_by(|a, b| along(a).total_cmp(&along(b)))?;
    let whole = points.iter().map(|p| along(&p));
    let (least, most) = whole.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| {
        (l.min(v), m.max(v))
    });
    let ends = Ends {
        heel: *heel,
        toe: *toe,
    };
    (heel.distance(*toe) > 0.8 * (most - least)).then_some(ends)
}

impl Ends {
    /// From the paper to the foot's axes.
    pub fn to_axes(self) -> Affine {
        let along = (self.toe - self.heel).normalize();
        let right = Vec2::new(-along.y, along.x);
        Affine::new([right.x, -along.x, right.y, -along.y, 0.0, 0.0])
            * Affine::translate(-self.heel.to_vec2())
    }
}

/// The two points farthest apart: first among some, then among all near these.
fn longest_chord(points: &[Point]) -> [Point; 2] {
    let count = points.len();
    let length = |&(i, j): &(usize, usize)| points[i].distance_squared(points[j]);
    let farther = |a: &(usize, usize), b: &(usize, usize)| length(a).total_cmp(&length(b));
    let some = |i: usize| (i + FINER..count).step_by(FINER).map(move |j| (i, j));
    let rough = (0..count).step_by(FINER).flat_map(some).max_by(farther);
    let Some((i, j)) = rough else {
        return [Point::ZERO, Point::new(1.0, 0.0)];
    };
    let near =
        |middle: usize| (0..=4 * FINER).map(move |k| (middle + count + k - 2 * FINER) % count);
    let best = near(i)
        .flat_map(|a| near(j).map(move |b| (a, b)))
        .max_by(farther);
    let (i, j) = best.unwrap_or((i, j));
    [points[i], points[j]]
}

/// What the halves near `a` and near `b` enclose, parted across the middle of their chord, mm².
fn halves(points: &[Point], a: Point, b: Point) -> [f64; 2] {
    let (middle, along) = (a.midpoint(b), b - a);
    [-1.0, 1.0].map(|sign| {
        let ahead = |p: &Point| sign * (*p - middle).dot(along);
        let mut half = Vec::new();
        for (p, q) in points.iter().zip(points.iter().cycle().skip(1)) {
            let (one, other) = (ahead(p), ahead(q));
            if one >= 0.0 {
                half.push(*p);
            }
            if (one >= 0.0) != (other >= 0.0) {
                half.push(p.lerp(*q, one / (one - other)));
            }
        }
        area(&half).abs()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    /// Closed form: an egg of two half ellipses, 70 long, with its blunt end at the toe.
    #[test]
    fn the_broader_half_is_the_toe_unless_it_is_said() {
        let mut egg =
            BezPath::from_svg("M -12 0 A 12 40 0 0 0 12 0 A 12 30 0 0 0 -12 0 Z").unwrap();
        // the blunt half is the one with 30: towards y < 0
        egg.apply_affine(Affine::translate((100.0, 60.0)));
        let same = |p: Point| p;
        // half an ellipse and a strip on one side, the rest on the other: 685 and 634 mm²
        let broad = ends(&egg, None, &same).unwrap();
        assert!(broad.toe.y < broad.heel.y);
        let short = ends(&egg, Some(Toe::Up), &same).unwrap();
        assert!((short.heel.distance(short.toe) - 70.0).abs() < 0.02);
        assert!(short.toe.y < short.heel.y);
        let down = ends(&egg, Some(Toe::Down), &same).unwrap();
        assert_eq!((down.heel, down.toe), (short.toe, short.heel));
        assert!(ends(&egg, Some(Toe::Left), &same).is_err());
        let laid = short.to_axes() * egg.clone();
        let bounds = laid.bounding_box();
        assert!(
            (bounds.y0 + 70.0).abs() < 0.02 && bounds.y1.abs() < 0.02,
            "{bounds:?}"
        );
        assert!((bounds.width() - 24.0).abs() < 0.02);
        let on_line = ends_on_line(&egg, Point::new(101.0, 0.0), Vec2::new(0.0, -1.0)).unwrap();
        assert!(on_line.heel.y > 99.0 && on_line.toe.y < 31.0);
        assert!(ends_on_line(&egg, Point::new(130.0, 0.0), Vec2::new(0.0, -1.0)).is_none());
    }
}

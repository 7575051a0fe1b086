//! A card of the size ID-1 in a photograph (ISO/IEC 7810: 85.60 by 53.98 mm, corners rounded with a
//! radius of 3.18 mm), by straight lines through its four sides: the corners themselves are round.

use super::light::Ink;
use super::photo::{Photo, Sight};
use super::plane::{Mask, Plane};
use super::regions::Regions;
use crate::geometry::ring::area;
use kurbo::{Point, Vec2};

/// Width and height of the card, mm.
pub const CARD: [f64; 2] = [85.60, 53.98];

/// Which part of a side is straight for certain: the radius of the corner is 6 % of the short side.
const STRAIGHT: [f64; 2] = [0.14, 0.86];

/// Places looked at along a side.
const STATIONS: usize = 120;

/// The longer side is at least and at most this many times the shorter one, seen at a tilt of up to 35°
/// and with perspective; 1.586 without.
const SHAPES: std::ops::RangeInclusive<f64> = 1.2..=2.1;

/// More than this left over, mm, is no card: bent, or something else.
const LEFT_OVER: f64 = 0.3;

/// A card that was found.
#[derive(Debug, Clone)]
pub struct Card {
    /// The corners that the sides would meet in, clockwise, pixels.
    pub corners: [Point; 4],
    /// The picture's projection.
    pub photo: Photo,
}

/// Why there is no card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CardFault {
    /// Nothing has its shape.
    None,
    /// Something of its size is cut by the picture's border.
    CutOff,
}

/// The card in the picture, whose sides fit best if there are several.
///
/// # Errors
/// See [`CardFault`].
pub fn find(ink: &Ink, level: f32, focal: Option<f64>) -> Result<Card, CardFault> {
    let plane = ink.plane.softened();
    let regions = Regions::of(&Mask::of(&plane, level), true);
    let whole = (plane.width as f64).hypot(plane.height as f64);
    let mut best: Option<Card> = None;
    let mut cut_off = false;
    for region in &regions.list {
        let large = region.reach() > 0.1 * whole && region.reach() > 60.0;
        if !large {
            continue;
        }
        let ring = regions.ring(&[region.label], region.bounds);
        if region.on_border > 0 {
            let share = region.area as f64 / (plane.data.len() as f64);
            let solid = region.area as f64 / area(&ring).abs().max(1.0) > 0.6;
            cut_off |= solid && (0.01..0.4).contains(&share) && region.reach() < 0.8 * whole;
            continue;
        }
        let Some(card) = measured(&ring, &ink.plane, focal) else {
            continue;
        };
        if best
            .as_ref()
            .is_none_or(|b| card.photo.left_over < b.photo.left_over)
        {
            best = Some(card);
        }
    }
    best.ok_or(if cut_off {
        CardFault::CutOff
    } else {
        CardFault::None
    })
}

/// The card whose rough outline is `ring`, if it is one.
fn measured(ring: &[Point], plane: &Plane, focal: Option<f64>) -> Option<Card> {
    let rough = quadrilateral(ring)?;
    let sides: Vec<Line> = (0..4)
        .map(|i| side_of(ring, rough[i], rough[(i + 1) % 4]))
        .collect::<Option<_>>()?;
    let corners = met(&sides)?;
    let encloses = area(&corners);
    if !(0.96..=1.01).contains(&(area(ring) / encloses)) {
        return None;
    }
    let length = |i: usize| corners[i].distance(corners[(i + 1) % 4]);
    let (even, odd) = (length(0) + length(2), length(1) + length(3));
    if !SHAPES.contains(&(even.max(odd) / even.min(odd))) {
        return None;
    }
    let first = first_corner(&corners, even > odd);
    let turned: [Point; 4] = std::array::from_fn(|i| corners[(first + i) % 4]);
    let [x, y] = CARD.map(|side| 0.5 * side);
    let places = [(-x, -y), (x, -y), (x, y), (-x, y)].map(Point::from);
    let pairs: [(Point, Point); 4] = std::array::from_fn(|i| (turned[i], places[i]));
    let mut sights = Vec::new();
    for i in 0..4 {
        let (from, to) = (turned[i], turned[(i + 1) % 4]);
        let along = (places[(i + 1) % 4] - places[i]).normalize();
        let normal = Vec2::new(along.y, -along.x);
        let edge = edge(plane, from, to);
        if edge.len() < STATIONS / 4 {
            return None;
        }
        let through = places[i];
        sights.extend(edge.into_iter().map(|seen| Sight::OnLine {
            seen,
            through,
            normal,
        }));
    }
    let size = [plane.width, plane.height];
    let photo = Photo::fitted(size, focal, &pairs, &sights)?;
    let kept = kept(&photo, &sights);
    let photo = Photo::fitted(size, focal, &pairs, &kept)?;
    (photo.left_over < LEFT_OVER).then_some(Card {
        corners: turned,
        photo,
    })
}

/// The sights that are no farther off than three times what is usual.
fn kept(photo: &Photo, sights: &[Sight]) -> Vec<Sight> {
    let projection = super::projection::Projection::Photo(Box::new(photo.clone()));
    let off = |sight: &&Sight| match sight {
        Sight::OnLine {
            seen,
            through,
            normal,
        } => (projection.to_mm(*seen) - *through).dot(*normal).abs(),
        Sight::At { seen, place } => projection.to_mm(*seen).distance(*place),
    };
    let limit = (3.0 * photo.left_over).max(1e-3);
    sights.iter().filter(|s| off(s) <= limit).copied().collect()
}

/// The corner at which the first long side begins, so that the long side points to the right or down.
fn first_corner(corners: &[Point; 4], even_is_long: bool) -> usize {
    let start = usize::from(!even_is_long);
    let along = corners[(start + 1) % 4] - corners[start];
    match along.x + 1e-3 * along.y > 0.0 {
        true => start,
        false => start + 2,
    }
}

/// Four points of the ring that part it into sides: the two farthest apart, and on either side of them
/// the one farthest from their line.
fn quadrilateral(ring: &[Point]) -> Option<[Point; 4]> {
    let few: Vec<Point> = {
        let step = (ring.len() / 240).max(1);
        ring.iter().step_by(step).copied().collect()
    };
    let mut ends = (0, 0);
    let mut longest = 0.0;
    for i in 0..few.len() {
        for j in i + 1..few.len() {
            if few[i].distance(few[j]) > longest {
                longest = few[i].distance(few[j]);
                ends = (i, j);
            }
        }
    }
    let (a, c) = (few.get(ends.0)?, few.get(ends.1)?);
    let off = |p: &&Point| (*c - *a).cross(**p - *a).abs();
    let farthest = |part: &[Point]| {
        part.iter()
            .max_by(|p, q| off(p).total_cmp(&off(q)))
            .copied()
    };
    let b = farthest(few.get(ends.0..ends.1)?)?;
    let rest: Vec<Point> = few[ends.1..]
        .iter()
        .chain(&few[..ends.0])
        .copied()
        .collect();
    let d = farthest(&rest)?;
    (off(&&b) > 0.1 * longest * longest && off(&&d) > 0.1 * longest * longest)
        .then_some([*a, b, *c, d])
}

/// A line: a point and a unit direction.
#[derive(Debug, Clone, Copy)]
struct Line {
    point: Point,
    along: Vec2,
}

/// The line through the middle part of the ring's side from `from` to `to`, by least squares of the
/// distances. `None` if the side is not straight, but for the curvature of a lens.
fn side_of(ring: &[Point], from: Point, to: Point) -> Option<Line> {
    let chord = to - from;
    let near = |p: &&Point| {
        let share = (**p - from).dot(chord) / chord.hypot2();
        let off = (**p - from).cross(chord).abs() / chord.hypot();
        (STRAIGHT[0]..=STRAIGHT[1]).contains(&share) && off < 0.08 * chord.hypot()
    };
    let mut points: Vec<Point> = ring.iter().filter(near).copied().collect();
    let mut line = line_through(&points)?;
    let limit = (0.012 * chord.hypot()).max(1.5);
    points.retain(|p| (*p - line.point).cross(line.along).abs() < limit);
    if (points.len() as f64) < 0.5 * chord.hypot() {
        return None;
    }
    line = line_through(&points)?;
    if line.along.dot(chord) < 0.0 {
        line.along = -line.along;
    }
    Some(line)
}

fn line_through(points: &[Point]) -> Option<Line> {
    let count = points.len() as f64;
    if points.len() < 8 {
        return None;
    }
    let sum = points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    let point = (sum / count).to_point();
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for off in points.iter().map(|p| *p - point) {
        xx += off.x * off.x;
        xy += off.x * off.y;
        yy += off.y * off.y;
    }
    let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
    Some(Line {
        point,
        along: Vec2::from_angle(angle),
    })
}

/// Where each side meets the one before it.
fn met(sides: &[Line]) -> Option<[Point; 4]> {
    let mut corners = [Point::ZERO; 4];
    for (i, corner) in corners.iter_mut().enumerate() {
        let (one, other) = (sides[(i + 3) % 4], sides[i]);
        let sine = one.along.cross(other.along);
        if sine.abs() < 0.3 {
            return None;
        }
        *corner = one.point + one.along * ((other.point - one.point).cross(other.along) / sine);
    }
    Some(corners)
}

/// Where the light changes by half along a side, in pixels, at stations along its straight part.
fn edge(plane: &Plane, from: Point, to: Point) -> Vec<Point> {
    let chord = to - from;
    let outward = Vec2::new(chord.y, -chord.x).normalize();
    let stations = (0..STATIONS).filter_map(|i| {
        let share = (i as f64 + 0.5) / STATIONS as f64;
        let share = STRAIGHT[0] + share * (STRAIGHT[1] - STRAIGHT[0]);
        let station = from + chord * share;
        let off = half_way(plane, station, outward, 6.0)?;
        Some(station + outward * off)
    });
    stations.collect()
}

/// How far along `outward` from `station` a dark area ends, in pixels: where the light is half way between
/// what it is `reach` pixels inside and outside. `None` if they hardly differ or the change is not one.
pub(super) fn half_way(plane: &Plane, station: Point, outward: Vec2, reach: f64) -> Option<f64> {
    const STEP: f64 = 0.25;
    let count = (2.0 * reach / STEP).round() as usize;
    let at = |i: usize| i as f64 * STEP - reach;
    let values: Vec<f64> = (0..=count)
        .map(|i| plane.between(station + outward * at(i)))
        .collect();
    let third = count / 4;
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let (inside, outside) = (
        mean(&values[..third]),
        mean(&values[values.len() - third..]),
    );
    if inside - outside < 0.1 {
        return None;
    }
    let half = 0.5 * (inside + outside);
    let falls = (0..count).filter(|i| values[*i] >= half && values[i + 1] < half);
    let places = falls.map(|i| at(i) + STEP * (values[i] - half) / (values[i] - values[i + 1]));
    places.min_by(|a, b| a.abs().total_cmp(&b.abs()))
}

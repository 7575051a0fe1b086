//! The printed tracing sheet: four targets, rows of dots between them and a line along each foot, known
//! to the mm. Its axes begin at the target with the hollow middle, x to the right and y down.

use super::card::half_way;
use super::light::Ink;
use super::photo::Photo;
use super::photo::Sight;
use super::plane::{Mask, Plane};
use super::projection::Projection;
use super::regions::{Region, Regions};
use super::side::Side;
use kurbo::{Point, Vec2};
use std::fmt::Write;

/// From target to target across and down, mm: both A4 and Letter have room for it.
pub const APART: [f64; 2] = [180.0, 240.0];

/// Radii of a target, mm: its disc, and the ring round it from the inside to the outside. Discs are seen as
/// ellipses whose centres lie a hundredth of a mm off at most, at a tilt of 30° from 30 cm.
const TARGET: [f64; 3] = [2.2, 3.6, 5.2];

/// The hole in the disc of the first target, mm.
const HOLLOW: f64 = 1.1;

/// From dot to dot, and the radius of a dot, mm.
const DOTS: [f64; 2] = [10.0, 0.8];

/// Where the line along the left foot lies, and the one along the right foot, mm.
pub const LINES: [f64; 2] = [48.0, 132.0];
/// Where these lines begin and end, mm.
pub const LINE_ENDS: [f64; 2] = [20.0, 222.0];

/// What lies nearer to the border of the field than this, mm, belongs to the sheet.
const MARGIN: f64 = 6.0;

/// How far the drawing reaches beyond the targets' middles, mm.
pub const MARGIN_OF_DRAWING: f64 = 10.0;

/// A sheet that was found.
#[derive(Debug, Clone)]
pub struct Found {
    /// From pixels to the sheet's axes.
    pub photo: Photo,
    /// The corners of the field in which feet are drawn, pixels.
    pub field: [Point; 4],
}

/// The corners of the targets, clockwise from the hollow one, mm.
fn corners() -> [Point; 4] {
    let [x, y] = APART;
    [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)].map(Point::from)
}

/// The middles of all dots, mm.
fn dots() -> Vec<Point> {
    let [x, y] = APART;
    let [step, _] = DOTS;
    let along = |length: f64| {
        let count = (length / step).round() as usize;
        (2..=count - 2).map(move |i| i as f64 * step)
    };
    let across = along(x).flat_map(|at| [Point::new(at, 0.0), Point::new(at, y)]);
    let down = along(y).flat_map(|at| [Point::new(0.0, at), Point::new(x, at)]);
    across.chain(down).collect()
}

/// Which foot a place of the sheet belongs to, and the line along it: a point, and the way to the toe.
pub fn line_at(place: Point) -> (Side, Point, Vec2) {
    let towards_toe = Vec2::new(0.0, -1.0);
    let [left, right] = LINES;
    match place.x < 0.5 * APART[0] {
        true => (Side::Left, Point::new(left, 0.0), towards_toe),
        false => (Side::Right, Point::new(right, 0.0), towards_toe),
    }
}

/// The marks as an SVG drawing in true size; its box is [`MARGIN_OF_DRAWING`] larger than the targets'
/// middles on each side.
pub fn drawing() -> String {
    let [x, y] = APART.map(|side| side + 2.0 * MARGIN_OF_DRAWING);
    let margin = MARGIN_OF_DRAWING;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{x}mm\" height=\"{y}mm\" viewBox=\"{} {} {x} {y}\">",
        -margin, -margin
    );
    let circle = |svg: &mut String, at: Point, radius: f64, colour: &str| {
        let _ = write!(
            svg,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{radius}\" fill=\"{colour}\"/>",
            at.x, at.y
        );
    };
    let [disc, inner, outer] = TARGET;
    for (number, corner) in corners().into_iter().enumerate() {
        circle(&mut svg, corner, outer, "#000");
        circle(&mut svg, corner, inner, "#fff");
        circle(&mut svg, corner, disc, "#000");
        if number == 0 {
            circle(&mut svg, corner, HOLLOW, "#fff");
        }
    }
    for dot in dots() {
        circle(&mut svg, dot, DOTS[1], "#000");
    }
    let [toe, heel] = LINE_ENDS;
    for line in LINES {
        let _ = write!(
            svg,
            "<path d=\"M {line} {toe} V {heel}\" fill=\"none\" stroke=\"#8c8c8c\" stroke-width=\"0.25\"/>"
        );
        let (left, right, tip) = (line - 1.8, line + 1.8, toe - 5.0);
        let _ = write!(
            svg,
            "<path d=\"M {left} {toe} L {line} {tip} L {right} {toe}\" fill=\"none\" stroke=\"#6e6e6e\" stroke-width=\"0.3\"/>"
        );
    }
    svg.push_str("</svg>");
    svg
}

/// Why a sheet that is in the picture tells no size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SheetFault {
    /// So many of its four targets are seen.
    Part(usize),
    /// It is stretched one way and not the other.
    Stretched {
        /// Pixels to a millimetre of it across and down.
        per_mm: [f64; 2],
        /// The corners of the field in which feet are drawn, pixels.
        field: [Point; 4],
    },
}

/// Opposite sides of the field that differ by less than this share do not run together as they do in a picture
/// that was taken aslant: a tilt that shortens one way by a hundredth lets them differ by this much even if the
/// camera stands six metres off (240 mm · sin 8° / 6 m).
const ALONGSIDE: f64 = 0.005;

/// Printers and scanners are truer than this from one way to the other; fitting a page to another paper
/// stretches by some hundredths.
const STRETCHED: f64 = 0.01;

/// The sheet in the picture. `Ok(None)` if nothing looks like it. `pixel` is how wide and how high a pixel is,
/// in any unit: alike in photographs.
///
/// # Errors
/// See [`SheetFault`].
pub fn find(
    ink: &Ink,
    level: f32,
    focal: Option<f64>,
    pixel: [f64; 2],
) -> Result<Option<Found>, SheetFault> {
    let targets = targets(&ink.plane, level);
    if targets.len() < 2 {
        return Ok(None);
    }
    let hollow: Vec<usize> = (0..targets.len()).filter(|i| targets[*i].hollow).collect();
    let ([first], 4) = (hollow.as_slice(), targets.len()) else {
        return Err(SheetFault::Part(targets.len().min(3)));
    };
    let all: Vec<Point> = targets.iter().map(|t| t.place).collect();
    let middle = super::shapes::middle(&all);
    let angle = |p: &Point| (*p - middle).atan2();
    let begin = angle(&targets[*first].place);
    let mut round = all;
    let turn = |p: &Point| (angle(p) - begin + 1e-9).rem_euclid(std::f64::consts::TAU);
    round.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    let places = corners();
    let pairs: [(Point, Point); 4] = std::array::from_fn(|i| (round[i], places[i]));
    match stretched(&round, pixel) {
        Some(per_mm) => Err(SheetFault::Stretched {
            per_mm,
            field: field_seen_straight(&pairs),
        }),
        None => Ok(fitted(ink, focal, &pairs)),
    }
}

/// The corners of the field in which feet are drawn, mm.
fn field_corners() -> [Point; 4] {
    let [x, y] = APART;
    [
        (MARGIN, MARGIN),
        (x - MARGIN, MARGIN),
        (x - MARGIN, y - MARGIN),
        (MARGIN, y - MARGIN),
    ]
    .map(Point::from)
}

/// The same in the picture, pixels, where opposite sides of the sheet run alongside.
fn field_seen_straight(targets: &[(Point, Point); 4]) -> [Point; 4] {
    let [first, right, _, below] = targets.map(|(seen, _)| seen);
    let [x, y] = APART;
    let (across, down) = ((right - first) / x, (below - first) / y);
    field_corners().map(|place| first + across * place.x + down * place.y)
}

/// Pixels to a millimetre of the sheet across and down, if it is seen straight from above and they differ by more
/// than pixels do: no camera sees a flat sheet so.
fn stretched(targets: &[Point], pixel: [f64; 2]) -> Option<[f64; 2]> {
    let [a, b, c, d] = <[Point; 4]>::try_from(targets).ok()?;
    let far = |from: Point, to: Point| {
        let way = to - from;
        (way.x * pixel[0]).hypot(way.y * pixel[1])
    };
    let alongside = |one: f64, other: f64| (one / other - 1.0).abs() < ALONGSIDE;
    let (across, down) = ([far(a, b), far(d, c)], [far(a, d), far(b, c)]);
    let straight = alongside(across[0], across[1])
        && alongside(down[0], down[1])
        && alongside(far(a, c), far(b, d));
    let share = |sides: [f64; 2], length: f64| 0.5 * (sides[0] + sides[1]) / length;
    let times = share(down, APART[1]) / share(across, APART[0]);
    let in_pixels = |sides: [(Point, Point); 2], length: f64| {
        let [one, other] = sides.map(|(from, to)| from.distance(to));
        0.5 * (one + other) / length
    };
    (straight && (times - 1.0).abs() > STRETCHED).then(|| {
        [
            in_pixels([(a, b), (d, c)], APART[0]),
            in_pixels([(a, d), (b, c)], APART[1]),
        ]
    })
}

fn fitted(ink: &Ink, focal: Option<f64>, pairs: &[(Point, Point); 4]) -> Option<Found> {
    let size = [ink.plane.width, ink.plane.height];
    let at = |(seen, place): &(Point, Point)| Sight::At {
        seen: *seen,
        place: *place,
    };
    let targets: Vec<Sight> = pairs.iter().map(at).collect();
    let mut photo = Photo::fitted(size, focal, pairs, &targets)?;
    let middle = super::shapes::middle(&pairs.map(|(seen, _)| seen));
    // the first look reaches farther: the lens is not known yet
    for reach in [4.0, 2.0, 2.0] {
        let projection = Projection::Photo(Box::new(photo));
        let mut sights = targets.clone();
        for place in dots() {
            let guess = projection.to_pixel(place, middle);
            let seen = guess.and_then(|guess| {
                let per_mm = 1.0 / projection.coarsest(guess);
                dot(&ink.plane, guess, reach * per_mm, DOTS[1] * per_mm)
            });
            sights.extend(seen.map(|seen| Sight::At { seen, place }));
        }
        if sights.len() < 24 {
            return None;
        }
        photo = Photo::fitted(size, focal, pairs, &sights)?;
    }
    if photo.left_over > 0.3 {
        return None;
    }
    let projection = Projection::Photo(Box::new(photo.clone()));
    let mut field = [Point::ZERO; 4];
    for (corner, place) in field.iter_mut().zip(field_corners()) {
        *corner = projection.to_pixel(place, middle)?;
    }
    Some(Found { photo, field })
}

/// The centre of gravity of a dot near `guess`, pixels. `None` if there is none of its size.
fn dot(plane: &Plane, guess: Point, reach: f64, radius: f64) -> Option<Point> {
    let mut place = guess;
    // first wherever it is, then with as much paper on all sides
    for reach in [reach, 2.2 * radius + 1.0, 2.2 * radius + 1.0] {
        let (mut sum, mut mass) = (Vec2::ZERO, 0.0);
        each_pixel(plane, place, reach, &mut |pixel, value| {
            let weight = (value - 0.15).max(0.0);
            sum += pixel.to_vec2() * weight;
            mass += weight;
        });
        let whole = std::f64::consts::PI * radius * radius;
        if mass < 0.3 * whole || mass > 2.5 * whole {
            return None;
        }
        place = (sum / mass).to_point();
    }
    plane.holds(place).then_some(place)
}

fn each_pixel(plane: &Plane, centre: Point, reach: f64, look: &mut dyn FnMut(Point, f64)) {
    let range = |middle: f64| {
        (
            (middle - reach).floor() as isize,
            (middle + reach).ceil() as isize,
        )
    };
    let ((x0, x1), (y0, y1)) = (range(centre.x), range(centre.y));
    for y in y0.max(0)..=y1.min(plane.height as isize - 1) {
        for x in x0.max(0)..=x1.min(plane.width as isize - 1) {
            let pixel = Point::new(x as f64 + 0.5, y as f64 + 0.5);
            if pixel.distance(centre) <= reach {
                look(pixel, f64::from(plane.at(x, y)));
            }
        }
    }
}

/// A target: where its centre is seen, and whether its disc has a hole.
struct Target {
    place: Point,
    hollow: bool,
}

/// All discs with a ring round them.
fn targets(plane: &Plane, level: f32) -> Vec<Target> {
    let regions = Regions::of(&Mask::of(plane, level.max(0.3)), true);
    let sides = |r: &Region| {
        let [x0, y0, x1, y1] = r.bounds.map(|b| b as f64);
        [x1 - x0 + 1.0, y1 - y0 + 1.0]
    };
    let roundish = |r: &&Region| {
        let [across, down] = sides(r);
        across > 5.0 && down > 5.0 && (0.5..=2.0).contains(&(across / down)) && across < 400.0
    };
    let round: Vec<&Region> = regions.list.iter().filter(roundish).collect();
    let share = |r: &Region| {
        let [across, down] = sides(r);
        r.area as f64 / (across * down)
    };
    let middle = |r: &Region| {
        let [x0, y0, x1, y1] = r.bounds.map(|b| b as f64);
        Point::new(0.5 * (x0 + x1 + 1.0), 0.5 * (y0 + y1 + 1.0))
    };
    let mut found = Vec::new();
    for ring in round.iter().filter(|r| (0.2..0.62).contains(&share(r))) {
        let own = sides(ring);
        let in_it = |disc: &&&Region| {
            let size = sides(disc);
            let times = [own[0] / size[0], own[1] / size[1]];
            let near = middle(disc).distance(middle(ring)) < 0.1 * own[0].max(own[1]);
            near && times.iter().all(|t| (1.7..3.4).contains(t)) && share(disc) > 0.5
        };
        let Some(disc) = round.iter().find(in_it) else {
            continue;
        };
        found.extend(centre_of(plane, middle(disc), sides(disc)));
    }
    found
}

/// The centre of a disc: half way between its borders, all round.
fn centre_of(plane: &Plane, rough: Point, [across, down]: [f64; 2]) -> Option<Target> {
    let mut sum = Vec2::ZERO;
    let reach = (0.12 * across.min(down)).clamp(1.5, 8.0);
    const LOOKS: u32 = 24;
    for i in 0..LOOKS / 2 {
        let way = Vec2::from_angle(f64::from(i) * std::f64::consts::TAU / f64::from(LOOKS));
        let radius = 0.5 / (way.x / across).hypot(way.y / down);
        let border = |way: Vec2| {
            let station = rough + way * radius;
            Some(station + way * half_way(plane, station, way, reach)?)
        };
        sum += border(way)?.midpoint(border(-way)?).to_vec2();
    }
    let place = (sum / f64::from(LOOKS / 2)).to_point();
    let dark = plane.between(place + Vec2::new(0.36 * across, 0.0));
    let hollow = plane.between(place) < 0.6 * dark;
    Some(Target { place, hollow })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed form: half the distance between opposite points of an ellipse is its centre.
    #[test]
    fn drawing_and_places_agree() {
        let svg = drawing();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let circles = document.descendants().filter(|n| n.has_tag_name("circle"));
        let number = |n: &roxmltree::Node<'_, '_>, key: &str| -> f64 {
            n.attribute(key).unwrap().parse().unwrap()
        };
        let small: Vec<Point> = circles
            .filter(|n| number(n, "r") < 1.0)
            .map(|n| Point::new(number(&n, "cx"), number(&n, "cy")))
            .collect();
        // 2 rows of 15 and 2 columns of 21
        assert_eq!(small.len(), 72);
        assert_eq!(small, dots());
        assert_eq!(line_at(Point::new(30.0, 90.0)).0, Side::Left);
        assert_eq!(line_at(Point::new(120.0, 90.0)).0, Side::Right);
    }
}

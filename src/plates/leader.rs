//! Leaders from a label beside a piece to a dot in it: where the dot may stand and how well the line
//! leaves the piece. Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field;
use kurbo::{Line, Point, Rect, Vec2};

/// Half the dot that ends a leader.
pub const DOT: f64 = 0.6;
/// What a leader keeps from grain lines, marks and notches.
const CLEAR: f64 = 0.8;
/// A leader that leaves nearer than this to a corner, or runs nearer than this past a notch, seems
/// to belong to it.
const FAR: f64 = 2.2;
/// Area a reader would rather see empty than such a leader, square millimetres.
const AWKWARD: f64 = 900.0;
/// A corner turns by more than this: sine of 25 degrees.
const CORNER: f64 = 0.42;
/// Rows and columns of points tried for a dot: first few, then more.
pub const GRIDS: [usize; 2] = [24, 60];

/// Points of the piece where a leader may end, each with its distance from the nearest line: those
/// within the seam lines; if none is clear of all lines, those in the allowance too; else the
/// clearest. `grid` is how many rows and columns of points are tried.
pub fn dots(drawing: &Drawing, grid: usize) -> Vec<(Point, f64)> {
    let (across, down) = (grid, grid);
    let points = (1..down).flat_map(|row| (1..across).map(move |column| (column, row)));
    let points = points.map(|(column, row)| {
        Point::new(
            drawing.width * column as f64 / across as f64,
            drawing.height * row as f64 / down as f64,
        )
    });
    let all: Vec<(Point, f64)> = points
        .filter(|point| drawing.is_inside(*point))
        .map(|point| {
            let room = drawing.lines().map(|l| field::distance(point, *l));
            (point, room.fold(f64::INFINITY, f64::min))
        })
        .collect();
    let clear = |within: bool| -> Vec<(Point, f64)> {
        let clear = all.iter().filter(|d| d.1 >= DOT + 0.6);
        let within = clear.filter(|d| !within || drawing.is_within_seams(d.0));
        within.copied().collect()
    };
    for found in [clear(true), clear(false)] {
        if !found.is_empty() {
            return found;
        }
    }
    let clearest = all.into_iter().max_by(|a, b| a.1.total_cmp(&b.1));
    clearest.into_iter().collect()
}

/// How far down (or right) the piece reaches within a band of x (or of y), mm.
pub fn furthest(drawing: &Drawing, band: (f64, f64), down: bool) -> f64 {
    let far = 1e5;
    let window = if down {
        Rect::new(band.0, -far, band.1, far)
    } else {
        Rect::new(-far, band.0, far, band.1)
    };
    let of = |p: Point| if down { p.y } else { p.x };
    drawing
        .lines()
        .filter_map(|l| field::clipped(*l, window))
        .map(|l| of(l.p0).max(of(l.p1)))
        .fold(f64::NEG_INFINITY, f64::max)
}

/// Whether a leader leaves the piece in each size once and runs over no notch, grain line or mark.
pub fn is_clear(drawing: &Drawing, leader: Line) -> bool {
    let room = Rect::from_points(leader.p0, leader.p1);
    let reached = room.inflate(1e-6, 1e-6);
    let leaves_once = |ring: &[Point]| {
        let crosses = |i: usize| {
            let side = Line::new(ring[i], ring[(i + 1) % ring.len()]);
            // most sides lie far away
            if !Rect::from_points(side.p0, side.p1).overlaps(reached) {
                return false;
            }
            let on =
                |p: &Point| field::distance(*p, side) < 1e-9 && field::distance(*p, leader) < 1e-9;
            side.crossing_point(leader).is_some_and(|p| on(&p))
        };
        (0..ring.len()).filter(|i| crosses(*i)).count() <= 1
    };
    drawing.sizes.iter().all(|s| leaves_once(&s.ring))
        && field::is_clear(&drawing.inner, room, CLEAR)
}

/// Area, mm², to be paid for a leader that is clear and still reads badly: one that passes a corner of a
/// cut line or anything drawn in the piece too closely.
pub fn awkward(drawing: &Drawing, leader: Line) -> f64 {
    let near = |p: &Point| field::distance(*p, leader) < FAR;
    let mut rings = drawing.sizes.iter().map(|s| &s.ring);
    let corner = rings.any(|ring| corners(ring).any(|p| near(&p)));
    let room = Rect::from_points(leader.p0, leader.p1);
    let marks = !field::is_clear(&drawing.inner, room, FAR);
    AWKWARD * f64::from(u8::from(corner) + u8::from(marks))
}

/// Points of a closed ring where it turns sharply.
fn corners(ring: &[Point]) -> impl Iterator<Item = Point> {
    let side = |i: usize| -> Vec2 {
        let along = ring[(i + 1) % ring.len()] - ring[i];
        along / along.hypot().max(1e-9)
    };
    (0..ring.len()).filter_map(move |i| {
        let (before, after) = (side((i + ring.len() - 1) % ring.len()), side(i));
        let sharp = before.cross(after).abs() > CORNER || before.dot(after) < 0.0;
        sharp.then_some(ring[i])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_has_four_corners_and_a_circle_none() {
        let square = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)].map(Point::from);
        assert_eq!(corners(&square).count(), 4);
        let circle: Vec<Point> = (0..60)
            .map(|i| {
                Point::ORIGIN + Vec2::from_angle(f64::from(i) * std::f64::consts::TAU / 60.0) * 9.0
            })
            .collect();
        assert_eq!(corners(&circle).count(), 0);
    }
}

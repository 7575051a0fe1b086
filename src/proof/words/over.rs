//! Letters that lie over each other, and letters that lie on lines. Millimetres of the page.

use crate::proof::letter::Letter;
use crate::proof::paint::{OPAQUE, Paint, lightness};
use kurbo::{BezPath, PathEl, Point, Rect, Vec2};
use std::collections::BTreeMap;

/// So much of each side of a letter's box counts where letters could meet: boxes are larger than the
/// letters in them, and those of neighbouring lines may touch.
const OF_LETTER: f64 = 0.7;

/// The same for letters that follow each other: slanting ones lean over their neighbours.
const OF_NEIGHBOUR: f64 = 0.4;

/// A line crosses a letter if it runs so far within that part of its box, mm.
const CROSSED_FROM: f64 = 0.15;

/// Lines lighter than this (of 1) leave letters legible.
const PALE: f32 = 0.75;

/// Curves are flattened to within this, mm.
const FLAT_WITHIN: f64 = 0.02;

/// Letters nearer to each other than this, mm, stand at one place.
const SAME_PLACE: f64 = 0.05;

/// Height of the bands in which letters are looked up, mm.
const BAND: f64 = 5.0;

/// The first letter that lies over another, with the one under it, by their indices.
pub fn over_letter(letters: &[Letter], paint: &[Paint]) -> Option<(usize, usize)> {
    let mut plain: Vec<usize> = (0..letters.len())
        .filter(|i| letters[*i].plain && !letters[*i].text.trim().is_empty())
        .collect();
    plain.sort_by(|a, b| letters[*a].bounds.x0.total_cmp(&letters[*b].bounds.x0));
    let mut open: Vec<usize> = Vec::new();
    let mut found: Option<(usize, usize)> = None;
    for index in plain {
        let letter = &letters[index];
        open.retain(|other| letters[*other].bounds.x1 > letter.bounds.x0);
        for other in &open {
            let (first, second) = (index.min(*other), index.max(*other));
            if found.is_some_and(|found| found <= (second, first))
                || !meet(&letters[first], &letters[second], second - first)
            {
                continue;
            }
            let at = letters[first].bounds.intersect(letters[second].bounds);
            let orders = (letters[first].order, letters[second].order);
            if !is_covered(paint, at.center(), orders) {
                found = Some((second, first));
            }
        }
        open.push(index);
    }
    found
}

/// Whether two letters lie over each other; `apart` is how many letters later one is painted.
fn meet(one: &Letter, other: &Letter, apart: usize) -> bool {
    let touch = one.bounds.intersect(other.bounds);
    if touch.width() <= 0.0 || touch.height() <= 0.0 {
        return false;
    }
    // the same letter twice at one place is only printed stronger
    if one.text == other.text && one.origin().distance(other.origin()) < SAME_PLACE {
        return false;
    }
    let seen = one.seen.intersect(other.seen);
    if seen.width() <= 0.0 || seen.height() <= 0.0 {
        return false;
    }
    let share = if apart <= 2 { OF_NEIGHBOUR } else { OF_LETTER };
    let (a, b) = (one.corners(share), other.corners(share));
    !is_parted(&a, &b) && !is_parted(&b, &a)
}

/// Whether a side of `a` parts the two quadrilaterals (the separating axis theorem for convex shapes).
fn is_parted(a: &[Point; 4], b: &[Point; 4]) -> bool {
    (0..2).any(|i| {
        let side = a[i + 1] - a[i];
        let reach = |corners: &[Point; 4]| {
            let along = corners.map(|p| p.to_vec2().dot(side));
            let least = along.into_iter().fold(f64::INFINITY, f64::min);
            (least, along.into_iter().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((a0, a1), (b0, b1)) = (reach(a), reach(b));
        a1 <= b0 || b1 <= a0
    })
}

/// Whether an opaque shape covers `point` that is painted between two others.
pub fn is_covered(paint: &[Paint], point: Point, (one, other): (usize, usize)) -> bool {
    let between = one.min(other)..one.max(other);
    paint.iter().any(|p| {
        p.stroke.is_none()
            && p.alpha >= 0.9
            && between.contains(&p.order)
            && p.seen.contains(point)
            && p.covers(point)
    })
}

/// The first letter that a line of `paint` crosses, by its index, and where; crossings that are meant are
/// let pass.
pub fn on_line(
    letters: &[Letter],
    paint: &[Paint],
    meant: impl Fn(usize, &Paint, Point) -> bool,
) -> Option<(usize, Point)> {
    let bands = bands(letters);
    let mut found: Option<(usize, Point)> = None;
    for line in paint.iter().filter(|line| is_dark(line)) {
        let half = line.stroke.unwrap_or(0.0) / 2.0;
        each_segment(&line.path, |start, end| {
            let around = Rect::from_points(start, end).inflate(half, half);
            if !touches(around, line.seen) {
                return;
            }
            let (from, to) = (band(around.y0), band(around.y1));
            for index in bands.range(from..=to).flat_map(|(_, band)| band) {
                let letter = &letters[*index];
                if found.is_some_and(|(first, _)| first <= *index)
                    || !touches(letter.bounds, around)
                {
                    continue;
                }
                let Some((a, b)) = within(start, end, &letter.corners_and(OF_LETTER, half)) else {
                    continue;
                };
                let middle = a.midpoint(b);
                let seen = touches(letter.seen, around) && line.seen.contains(middle);
                if seen
                    && !meant(*index, line, middle)
                    && a.distance(b) >= CROSSED_FROM
                    && !is_covered(paint, middle, (line.order, letter.order))
                {
                    found = Some((*index, middle));
                }
            }
        });
    }
    found
}

fn is_dark(line: &Paint) -> bool {
    line.stroke.is_some()
        && line.alpha >= OPAQUE
        && line.colour.is_none_or(|colour| lightness(colour) <= PALE)
}

fn touches(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

fn band(y: f64) -> i64 {
    (y / BAND).floor() as i64
}

/// Indices of the legible letters by the bands that their boxes lie in.
fn bands(letters: &[Letter]) -> BTreeMap<i64, Vec<usize>> {
    let mut bands: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for (index, letter) in letters.iter().enumerate() {
        let size = letter.own.width().min(letter.own.height());
        if letter.plain && size > 0.0 && letter.seen.area() > 0.0 {
            for band in band(letter.bounds.y0)..=band(letter.bounds.y1) {
                bands.entry(band).or_default().push(index);
            }
        }
    }
    bands
}

/// Calls `each` with the ends of every piece of the flattened path.
fn each_segment(path: &BezPath, mut each: impl FnMut(Point, Point)) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path, FLAT_WITHIN, |element| match element {
        PathEl::MoveTo(point) => (start, last) = (point, point),
        PathEl::LineTo(point) => {
            each(last, point);
            last = point;
        }
        PathEl::ClosePath => {
            each(last, start);
            last = start;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
}

/// The part of a line within a convex quadrilateral (Cyrus and Beck 1978).
fn within(start: Point, end: Point, corners: &[Point; 4]) -> Option<(Point, Point)> {
    let middle = corners[0].midpoint(corners[2]);
    let along = end - start;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for i in 0..4 {
        let side = corners[(i + 1) % 4] - corners[i];
        let mut normal = Vec2::new(-side.y, side.x);
        if normal.dot(middle - corners[i]) < 0.0 {
            normal = -normal;
        }
        let (distance, change) = (normal.dot(start - corners[i]), normal.dot(along));
        if change.abs() < 1e-12 {
            if distance < 0.0 {
                return None;
            }
        } else if change > 0.0 {
            enter = enter.max(-distance / change);
        } else {
            leave = leave.min(-distance / change);
        }
    }
    let at = |t: f64| start + along * t;
    (enter < leave).then(|| (at(enter), at(leave)))
}

/// Whether a run of letters is struck through on purpose: a level line through all of it and hardly
/// further, at the height of its small letters.
pub fn is_strike(line: &Paint, at: Point, run: Rect, em: f64) -> bool {
    let bounds = line.path.control_box();
    let level = bounds.height() < 1e-3;
    let reaches = bounds.x0 <= at.x && bounds.x1 >= at.x;
    level && reaches && bounds.x0 >= run.x0 - em && bounds.x1 <= run.x1 + em
}

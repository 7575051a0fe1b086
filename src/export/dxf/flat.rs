//! Curves as rows of straight lines. Millimetres.

use super::super::once::courses;
use crate::geometry::curve;
use kurbo::{BezPath, ParamCurve, PathEl, PathSeg, Point};

/// The rows lie at most so far from the curves, mm: a fifth of what a reader may find them off, so that
/// lengths and areas agree as well.
pub(super) const CHORD: f64 = 0.002;

/// What is asked of the flattening for that: it may be off by a third more than it is asked for
/// (measured).
const ASKED: f64 = CHORD / 1.34;

/// Where the line turns by less than this, degrees, it is smooth: corners within a curve are rounding.
const SMOOTH: f64 = 1.0;

/// A row of straight lines.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    /// Its points; those of a closed row without the first one again.
    pub points: Vec<Point>,
    /// Of each point, whether the line turns there.
    pub turns: Vec<bool>,
    /// Whether the last is joined to the first.
    pub closed: bool,
}

/// The courses of `path`.
pub(super) fn rows(path: &BezPath) -> Vec<Row> {
    courses(path).iter().filter_map(row).collect()
}

fn row(course: &BezPath) -> Option<Row> {
    // rounding leaves lines of no length where a course is closed
    let drawn = |s: &PathSeg| s.start().distance(s.end()) > 1e-6 || !matches!(s, PathSeg::Line(_));
    let segments: Vec<PathSeg> = course.segments().filter(drawn).collect();
    let closed = matches!(course.elements().last(), Some(PathEl::ClosePath));
    let first = segments.first()?;
    let turn = |before: &PathSeg, after: &PathSeg| {
        let (a, b) = (curve::tangent(before, 1.0), curve::tangent(after, 0.0));
        a.cross(b).atan2(a.dot(b)).abs() > SMOOTH.to_radians()
    };
    let mut row = Row {
        points: vec![first.start()],
        turns: vec![!closed || turn(segments.last()?, first)],
        closed,
    };
    for (index, segment) in segments.iter().enumerate() {
        let alone = curve::chained([*segment]);
        kurbo::flatten(&alone, ASKED, |element| {
            if let PathEl::LineTo(point) = element {
                row.points.push(point);
                row.turns.push(false);
            }
        });
        let next = segments.get(index + 1);
        let turns = next.map_or(!closed, |next| turn(segment, next));
        if let Some(last) = row.turns.last_mut() {
            *last = turns;
        }
    }
    if closed {
        row.points.pop();
        row.turns.pop();
    }
    (row.points.len() > 1).then_some(row)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Circle, Shape};

    #[test]
    fn the_row_of_a_circle_keeps_to_its_chords() {
        // the sagitta of every chord of a circle, and how far its ends are off the circle
        for radius in [0.5, 30.0, 400.0] {
            let circle = Circle::new((3.0, 4.0), radius);
            let [row] = rows(&circle.to_path(1e-7)).try_into().expect("one row");
            let next = row.points.iter().cycle().skip(1);
            for (a, b) in row.points.iter().zip(next) {
                let half = a.distance(*b) / 2.0;
                let sagitta = radius - (radius * radius - half * half).sqrt();
                let off = (a.distance(circle.center) - radius).abs();
                assert!(sagitta + off <= CHORD, "{sagitta} and {off} at {radius}");
            }
            assert!(row.closed && row.turns.iter().all(|turn| !turn));
        }
    }

    #[test]
    fn corners_are_told_from_points_of_curves() {
        // half a disc of 20 mm
        let path = BezPath::from_svg("M0 0L20 0A10 10 0 0 1 0 0Z").expect("path data");
        let [row] = rows(&path).try_into().expect("one row");
        let turns: Vec<Point> = row
            .points
            .iter()
            .zip(&row.turns)
            .filter(|(_, turn)| **turn)
            .map(|(point, _)| *point)
            .collect();
        assert_eq!(turns.len(), 2, "{turns:?}");
        assert_eq!(turns[0], Point::ZERO);
        assert!(turns[1].distance(Point::new(20.0, 0.0)) < 1e-9);
        // both ends of an open line are turns
        let [open] = rows(&BezPath::from_svg("M0 0L5 0L9 0").expect("path data"))
            .try_into()
            .expect("one row");
        assert_eq!(open.turns, [true, false, true]);
        assert!(!open.closed);
    }
}

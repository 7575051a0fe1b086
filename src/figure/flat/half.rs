//! A path parted by a straight line, and the mirror image in it: what a fold does to a piece.
//! Millimetres. The left of a line is where a point lies for whom it runs away with y down: the side
//! of its normal `(y, -x)`.

use crate::geometry::probe::meetings;
use kurbo::{Affine, BezPath, Line, ParamCurve, PathSeg, Point, Vec2};

/// Parameters nearer than this to an end of a segment are that end.
const END: f64 = 1e-9;

/// A straight line without ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axis {
    /// A point of it.
    pub(super) point: Point,
    /// Its direction, of length 1.
    pub(super) along: Vec2,
}

impl Axis {
    /// The line through two points; `None` if they are one.
    pub(super) fn through(from: Point, to: Point) -> Option<Self> {
        let way = to - from;
        (way.hypot() > 1e-9).then(|| Self {
            point: from,
            along: way.normalize(),
        })
    }

    /// The line that lies `by` mm on the left of it.
    pub(super) fn moved_left(&self, by: f64) -> Self {
        Self {
            point: self.point + Vec2::new(self.along.y, -self.along.x) * by,
            ..*self
        }
    }

    /// How far `point` lies on the left, mm; negative on the right.
    pub(super) fn left_of(&self, point: Point) -> f64 {
        (point - self.point).dot(Vec2::new(self.along.y, -self.along.x))
    }

    /// The mirror image in it.
    pub(super) fn mirror(&self) -> Affine {
        Affine::reflect(self.point, self.along)
    }

    /// The same line run the other way, so that its sides change.
    pub(super) fn turned(&self) -> Self {
        Self {
            along: -self.along,
            ..*self
        }
    }

    /// What of a closed `path` lies on the left, closed along the line. Where the line leaves several
    /// parts they are joined along it by edges without area.
    pub(super) fn closed_left(&self, path: &BezPath) -> BezPath {
        let mut result = BezPath::new();
        let mut kept: Vec<PathSeg> = Vec::new();
        for segment in path.segments() {
            kept.extend(self.split(&segment).into_iter().filter(|s| self.keeps(s)));
        }
        let mut last: Option<Point> = None;
        for segment in kept {
            match last {
                None => result.move_to(segment.start()),
                Some(end) if end.distance(segment.start()) > 1e-6 => {
                    result.line_to(segment.start());
                }
                Some(_) => {}
            }
            result.push(segment.as_path_el());
            last = Some(segment.end());
        }
        if !result.is_empty() {
            result.close_path();
        }
        result
    }

    /// What of an open `path` lies on the left, in as many parts as there are.
    pub(super) fn open_left(&self, path: &BezPath) -> BezPath {
        let mut result = BezPath::new();
        let mut last: Option<Point> = None;
        for segment in path.segments() {
            for part in self.split(&segment) {
                if !self.keeps(&part) {
                    last = None;
                    continue;
                }
                if last.is_none_or(|end| end.distance(part.start()) > 1e-6) {
                    result.move_to(part.start());
                }
                result.push(part.as_path_el());
                last = Some(part.end());
            }
        }
        result
    }

    fn keeps(&self, segment: &PathSeg) -> bool {
        self.left_of(segment.eval(0.5)) >= 0.0
    }

    /// `segment` in parts that lie on one side each.
    fn split(&self, segment: &PathSeg) -> Vec<PathSeg> {
        // long enough to cross any piece: the largest sheet is far below 100 m
        let reach = 1e5 * self.along;
        let line = Line::new(self.point - reach, self.point + reach);
        let mut cuts: Vec<f64> = meetings(segment, line)
            .iter()
            .map(|hit| hit.t)
            .filter(|t| *t > END && *t < 1.0 - END)
            .collect();
        cuts.sort_by(f64::total_cmp);
        let mut parts = Vec::new();
        let mut begin = 0.0;
        for cut in cuts.into_iter().chain([1.0]) {
            if cut - begin > END {
                parts.push(segment.subsegment(begin..cut));
            }
            begin = cut;
        }
        parts
    }
}

//! No line is followed twice: a second pass of the knife frays cloth, one of the beam burns it. What lies
//! on a line that was drawn before is left out, also where only part of it does. Millimetres.

use crate::geometry::curve;
use kurbo::{
    BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathEl, PathSeg, Point, Rect, Shape,
};

/// Lines nearer to each other than this, mm, are one line: the tenth part of the width of a cut
/// (common practice), and no more than outlines may be off.
pub(super) const SAME: f64 = 0.01;

/// What lies on another line for less than this, mm, only touches or crosses it.
const LEAST: f64 = 0.1;

/// Looks along a stretch to see whether it lies on another.
const LOOKS: u32 = 8;

/// Accuracy of nearest points and lengths, mm.
const ACCURACY: f64 = 1e-6;

/// The lines that were drawn.
#[derive(Debug, Clone, Default)]
pub(super) struct Once {
    drawn: Vec<(PathSeg, Rect)>,
}

impl Once {
    /// What of `path` was not drawn before, and is now. A path of which nothing was drawn comes back as
    /// it is.
    pub fn fresh(&mut self, path: &BezPath) -> BezPath {
        let mut left = BezPath::new();
        for course in courses(path) {
            let parts = self.parts(&course);
            if parts.iter().all(|part| !part.covered) {
                left.extend(course.elements().iter().copied());
                continue;
            }
            for run in runs(&parts, is_closed(&course)) {
                left.extend(curve::chained(run).elements().iter().copied());
            }
        }
        left
    }

    /// The stretches of one course, each fresh or covered; the fresh ones count as drawn.
    fn parts(&mut self, course: &BezPath) -> Vec<Part> {
        let mut parts = Vec::new();
        for segment in course.segments() {
            for stretch in self.stretches(&segment) {
                let covered = self.covers(&stretch);
                parts.push(Part {
                    segment: stretch,
                    covered,
                });
                if !covered {
                    self.draw(stretch);
                }
            }
        }
        self.uncover_short(&mut parts);
        parts
    }

    fn draw(&mut self, segment: PathSeg) {
        let bounds = segment.bounding_box().inflate(SAME, SAME);
        self.drawn.push((segment, bounds));
    }

    /// Covered stretches in a row that are shorter than [`LEAST`] are drawn all the same.
    fn uncover_short(&mut self, parts: &mut [Part]) {
        for row in parts.chunk_by_mut(|a, b| a.covered == b.covered) {
            let length: f64 = row.iter().map(|p| p.segment.arclen(ACCURACY)).sum();
            if row[0].covered && length < LEAST {
                for part in row {
                    part.covered = false;
                    self.draw(part.segment);
                }
            }
        }
    }

    /// `segment` parted where lines that were drawn begin or end on it. Analytic curves that share a
    /// stretch share it up to the end of one of them.
    fn stretches(&self, segment: &PathSeg) -> Vec<PathSeg> {
        let mut places = vec![0.0, 1.0];
        for near in self.near(segment) {
            for end in [near.start(), near.end()] {
                let place = segment.nearest(end, ACCURACY);
                if place.distance_sq <= SAME * SAME {
                    places.push(place.t);
                }
            }
        }
        if places.len() == 2 {
            return vec![*segment];
        }
        places.sort_by(f64::total_cmp);
        let long_enough = |pair: &&[f64]| pair[1] - pair[0] > 1e-9;
        let pairs = places.windows(2).filter(long_enough);
        pairs
            .map(|pair| segment.subsegment(pair[0]..pair[1]))
            .collect()
    }

    fn near(&self, segment: &PathSeg) -> impl Iterator<Item = &PathSeg> {
        let bounds = segment.bounding_box();
        let meets = move |drawn: &&(PathSeg, Rect)| {
            let other = drawn.1;
            bounds.x0 <= other.x1
                && other.x0 <= bounds.x1
                && bounds.y0 <= other.y1
                && other.y0 <= bounds.y1
        };
        self.drawn.iter().filter(meets).map(|(segment, _)| segment)
    }

    /// Whether `stretch` lies on one line that was drawn.
    fn covers(&self, stretch: &PathSeg) -> bool {
        let looks: Vec<Point> = (0..=LOOKS)
            .map(|look| stretch.eval(f64::from(look) / f64::from(LOOKS)))
            .collect();
        self.near(stretch).any(|drawn| {
            let on_it = |p: &Point| drawn.nearest(*p, ACCURACY).distance_sq <= SAME * SAME;
            looks.iter().all(on_it)
        })
    }
}

/// A stretch of a course.
#[derive(Debug, Clone, Copy)]
struct Part {
    segment: PathSeg,
    covered: bool,
}

/// The fresh stretches that follow each other; of a closed course the last run goes on in the first.
fn runs(parts: &[Part], closed: bool) -> Vec<Vec<PathSeg>> {
    let mut parts = parts.to_vec();
    if closed && let Some(covered) = parts.iter().position(|part| part.covered) {
        parts.rotate_left(covered);
    }
    let rows = parts.chunk_by(|a, b| a.covered == b.covered);
    let fresh = rows.filter(|row| !row[0].covered);
    fresh
        .map(|row| row.iter().map(|part| part.segment).collect())
        .collect()
}

fn is_closed(course: &BezPath) -> bool {
    matches!(course.elements().last(), Some(PathEl::ClosePath))
}

/// The courses of `path`, each from its own start.
pub(super) fn courses(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, all.last_mut()) {
            (PathEl::MoveTo(_), _) | (_, None) => all.push(std::iter::once(*element).collect()),
            (_, Some(course)) => course.push(*element),
        }
    }
    all.retain(|course| course.segments().next().is_some());
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn path(text: &str) -> BezPath {
        BezPath::from_svg(text).expect("path data")
    }

    fn length(path: &BezPath) -> f64 {
        curve::length(path, 1e-9)
    }

    #[test]
    fn squares_side_by_side_share_one_side() {
        let mut once = Once::default();
        let first = path("M0 0L10 0L10 10L0 10Z");
        assert_eq!(once.fresh(&first), first);
        // three sides of the second are new, in one run
        let second = once.fresh(&path("M10 0L20 0L20 10L10 10Z"));
        assert_eq!(second.to_svg(), "M10,0 L20,0 L20,10 L10,10");
        assert!(once.fresh(&path("M20 10L20 0")).is_empty());
    }

    #[test]
    fn a_side_that_is_shared_in_part_is_drawn_in_its_rest() {
        let mut once = Once::default();
        once.fresh(&path("M0 0L10 0L10 10L0 10Z"));
        // the shared side goes from 4 to 10 of it
        let lower = once.fresh(&path("M10 4L20 4L20 30L10 30Z"));
        assert!((length(&lower) - (10.0 + 26.0 + 10.0 + 20.0)).abs() < 1e-9);
        // a line over both and beyond
        let long = once.fresh(&path("M10 -5L10 40"));
        assert_eq!(long.to_svg(), "M10,-5 L10,0 M10,30 L10,40");
    }

    #[test]
    fn a_curve_is_found_again_run_through_backwards_and_in_part() {
        let mut once = Once::default();
        let bend = path("M0 0C0 10 20 10 30 0");
        once.fresh(&bend);
        assert!(once.fresh(&bend.reverse_subpaths()).is_empty());
        let part = bend.segments().next().expect("one").subsegment(0.3..0.7);
        let part = curve::chained([part]);
        assert!(once.fresh(&part).is_empty());
        // the chord is another line
        assert_eq!(length(&once.fresh(&path("M0 0L30 0"))), 30.0);
    }

    #[test]
    fn lines_that_cross_touch_or_run_side_by_side_are_all_drawn() {
        let mut once = Once::default();
        once.fresh(&path("M0 0L30 0"));
        for other in ["M15 -5L15 5", "M30 0L40 0", "M0 0.02L30 0.02", "M0 0L30 1"] {
            let other = path(other);
            assert_eq!(once.fresh(&other), other);
        }
        // a ring with a very short side keeps it
        let ring = path("M0 50L10 50L10 50.005L10 60L0 60Z");
        assert_eq!(once.fresh(&ring), ring);
    }
}

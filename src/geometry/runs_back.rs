//! Whether a path runs back on itself, in mm: a spike, a slit or a neck of no width. Winding
//! numbers do not see it, because such a stretch encloses nothing.

use super::curve;
use kurbo::{
    BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point, Rect, Shape,
};

/// Stretches nearer to each other than this, mm, lie on each other: a fiftieth of what is allowed
/// on paper.
pub(in crate::geometry) const TOGETHER: f64 = 2e-4;

/// They must lie on each other for this long, mm. What touches for less is a touching point, such as
/// the tip of a leaf whose sides leave it in one direction.
const STRETCH: f64 = 0.2;

/// Segments shorter than this, mm, are too short to tell a direction by.
const SHORT: f64 = 0.02;

/// Looks at a curve along a straight line, to see whether it turns back.
const LOOKS: usize = 64;

/// Accuracy of arc lengths and nearest points, mm.
const ACCURACY: f64 = 1e-7;

/// A point where a stretch of `path` begins to lie on another stretch that runs the other way, if
/// there is one. Analytic curves that share a stretch share it up to the end of one of them, so it
/// is enough to look from the ends of segments.
pub(in crate::geometry) fn runs_back(path: &BezPath) -> Option<Point> {
    let segments: Vec<(PathSeg, f64)> = path
        .segments()
        .map(|segment| (segment, segment.arclen(ACCURACY)))
        .filter(|(_, length)| *length > SHORT)
        .collect();
    let boxes: Vec<Rect> = segments
        .iter()
        .map(|(s, _)| s.bounding_box().inflate(TOGETHER, TOGETHER))
        .collect();
    let lone = segments.iter().find_map(|(s, _)| turns_back(s));
    lone.or_else(|| {
        (0..segments.len()).find_map(|i| {
            let others = (0..segments.len()).filter(|j| *j != i && boxes[i].overlaps(boxes[*j]));
            others
                .into_iter()
                .find_map(|j| shared(&segments[i].0, &segments[j]))
        })
    })
}

/// An end of `other` from which it runs along `segment` the other way.
fn shared(segment: &PathSeg, (other, length): &(PathSeg, f64)) -> Option<Point> {
    let reach = STRETCH.min(*length);
    let along = |distance: f64| other.inv_arclen(distance, ACCURACY);
    let from_start = [0.0, along(0.5 * reach), along(reach)];
    let from_end = [1.0, along(length - 0.5 * reach), along(length - reach)];
    [from_start, from_end].into_iter().find_map(|places| {
        let mut last = 0.0;
        for t in places {
            let near = segment.nearest(other.eval(t), 1e-9);
            if near.distance_sq > TOGETHER * TOGETHER {
                return None;
            }
            last = near.t;
        }
        let opposite = curve::tangent(segment, last).dot(curve::tangent(other, places[2])) < 0.0;
        opposite.then(|| other.eval(places[0]))
    })
}

/// Where a curve whose handles lie on one line turns back, if it does.
fn turns_back(segment: &PathSeg) -> Option<Point> {
    let cubic = match segment {
        PathSeg::Line(_) => return None,
        curved => curved.to_cubic(),
    };
    let controls = [cubic.p0, cubic.p1, cubic.p2, cubic.p3];
    let far = |p: &&Point, q: &&Point| {
        let from = |p: &Point| p.distance(cubic.p0);
        from(p).total_cmp(&from(q))
    };
    let axis = (**controls.iter().max_by(|p, q| far(p, q)).as_ref()? - cubic.p0).normalize();
    let off = |p: &Point| axis.cross(*p - cubic.p0).abs() > TOGETHER;
    if controls.iter().any(off) {
        return None;
    }
    let at = |look: usize| segment.eval(look as f64 / LOOKS as f64);
    let reach = |look: usize| axis.dot(at(look) - cubic.p0);
    let (mut highest, mut lowest) = (0, 0);
    for look in 1..=LOOKS {
        if reach(look) > reach(highest) {
            highest = look;
        }
        if reach(look) < reach(lowest) {
            lowest = look;
        }
        let back = [highest, lowest].into_iter().find(|turn| {
            *turn != 0 && (reach(*turn) - reach(look)).abs() > SHORT && {
                let onward = (reach(*turn) - reach(0)).signum();
                (reach(*turn) - reach(look)) * onward > 0.0
            }
        });
        if let Some(turn) = back {
            return Some(at(turn));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(path: &str) -> Option<(f64, f64)> {
        let path = BezPath::from_svg(path).expect("path data");
        runs_back(&path).map(|p| (p.x, p.y))
    }

    #[test]
    fn a_spike_runs_back_from_its_tip() {
        assert_eq!(at("M0 0L60 0L30 0L30 40Z"), Some((60.0, 0.0)));
        assert!(at("M0 0L20 0L20 -9L20 0L40 0L40 30L0 30Z").is_some());
        assert!(at("M0 0L20 0C22 -3 22 -6 20 -9C22 -6 22 -3 20 0L40 0L40 30L0 30Z").is_some());
    }

    #[test]
    fn a_neck_of_no_width_runs_back_on_itself() {
        assert!(
            at("M0 0L20 0L20 10L50 10L50 0L70 0L70 20L50 20L50 10L20 10L20 20L0 20Z").is_some()
        );
    }

    #[test]
    fn a_curve_along_a_line_must_not_turn() {
        // the handles reach beyond the ends: the curve overshoots them and comes back
        assert!(at("M0 0C-20 0 60 0 40 0L40 30L0 30Z").is_some());
        assert_eq!(at("M0 0C10 0 30 0 40 0L40 30L0 30Z"), None);
        assert_eq!(at("M0 0C0 0 40 0 40 0L40 30L0 30Z"), None);
    }

    #[test]
    fn sharp_tips_and_touching_points_are_none() {
        // a leaf whose sides leave its tips in one direction but part at once
        assert_eq!(at("M0 0C10 0 30 12 40 20C20 18 8 8 0 0Z"), None);
        assert_eq!(at("M0 0L40 0L20 1Z"), None);
        // two squares that share a corner
        assert_eq!(at("M0 0L10 0L10 10L20 10L20 20L10 20L10 10L0 10Z"), None);
    }
}

//! Dashed lines whose ends and corners lie in dashes, never in gaps, so that the eye sees where they begin, turn
//! and end (as ISO 128-2 asks of lines that meet; cited from memory). Millimetres.

use super::ink::Stroke;
use crate::geometry::curve;
use kurbo::{BezPath, ParamCurve, PathEl};

/// Where a line turns by more than this, degrees, it has a corner.
const CORNER: f64 = 20.0;
/// Lengths are measured to this.
const NEAR: f64 = 1e-3;

/// The parts of a dashed line from corner to corner, each with dashes and gaps a little longer or shorter, so
/// that a dash begins and a dash ends it. A round line without a corner has whole dashes. A part that is no
/// longer than a dash is drawn as it is, and so is a line without dashes.
pub(super) fn parts(path: &BezPath, stroke: Stroke) -> Vec<(BezPath, Stroke)> {
    let Some([on, off]) = stroke.dash else {
        return vec![(path.clone(), stroke)];
    };
    let parts = runs(path)
        .into_iter()
        .flat_map(|run| curve::corners(&run, CORNER));
    parts
        .map(|part| {
            let last = if is_ring(&part) { 0.0 } else { on };
            let length = curve::length(&part, NEAR);
            let times = ((length - last) / (on + off)).round().max(1.0);
            let fitted = length / (times * (on + off) + last);
            let fits = length > on && fitted.is_finite();
            let dash = fits.then_some([on * fitted, off * fitted]);
            let dash = dash.or(stroke.dash);
            (part, Stroke { dash, ..stroke })
        })
        .collect()
}

/// Whether a path ends where it begins.
fn is_ring(path: &BezPath) -> bool {
    let start = path.segments().next().map(|segment| segment.start());
    let end = path.segments().last().map(|segment| segment.end());
    start
        .zip(end)
        .is_some_and(|(start, end)| start.distance(end) < NEAR)
}

/// What is drawn without lifting.
fn runs(path: &BezPath) -> Vec<BezPath> {
    let mut runs: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        match (element, runs.last_mut()) {
            (PathEl::MoveTo(_), _) | (_, None) => runs.push(BezPath::from_vec(vec![*element])),
            (_, Some(run)) => run.push(*element),
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plates::ink::{PLACING, stroke};
    use kurbo::{Circle, Shape};

    /// What is drawn of a path, from where to where along it.
    fn drawn(path: &BezPath, dash: [f64; 2]) -> Vec<(f64, f64)> {
        let length = curve::length(path, NEAR);
        let starts = (0..).map(|i| f64::from(i) * (dash[0] + dash[1]));
        let starts = starts.take_while(|at| *at < length - 1e-6);
        starts.map(|at| (at, (at + dash[0]).min(length))).collect()
    }

    #[test]
    fn a_dash_begins_and_ends_each_edge_of_a_pocket() {
        let pocket = BezPath::from_svg("M0 0L0 23.7L32.2 23.7L32.2 0").expect("a path");
        let parts = parts(&pocket, PLACING);
        assert_eq!(parts.len(), 3);
        for (part, stroke) in parts {
            let dash = stroke.dash.expect("dashes");
            let ends = drawn(&part, dash);
            let (first, last) = (ends[0], ends[ends.len() - 1]);
            assert_eq!(first.0, 0.0);
            assert!((last.1 - curve::length(&part, NEAR)).abs() < 1e-6);
            assert!((last.1 - last.0 - dash[0]).abs() < 1e-6, "a whole dash");
            assert!((dash[0] / 0.9 - 1.0).abs() < 0.05 && (dash[1] / 0.9 - 1.0).abs() < 0.05);
        }
    }

    #[test]
    fn a_ring_has_whole_dashes_and_a_short_line_stays() {
        let ring = Circle::new((0.0, 0.0), 5.0).to_path(1e-4);
        let parts_of_ring = parts(&ring, PLACING);
        let [(part, round)] = parts_of_ring.as_slice() else {
            panic!("one part");
        };
        let [on, off] = round.dash.expect("dashes");
        let times = curve::length(part, NEAR) / (on + off);
        assert!((times - times.round()).abs() < 1e-6);
        let short = BezPath::from_svg("M0 0L0.8 0").expect("a path");
        assert_eq!(parts(&short, PLACING), [(short, PLACING)]);
    }

    #[test]
    fn what_is_drawn_with_lifting_and_what_has_no_dashes_stays_apart() {
        let two = BezPath::from_svg("M0 0L10 0M0 2L10 2").expect("a path");
        assert_eq!(parts(&two, PLACING).len(), 2);
        let solid = stroke(0.25, None);
        assert_eq!(parts(&two, solid), [(two, solid)]);
    }
}

//! A piece that is cut on the fold is kept as a half. A cutter cuts cloth that lies single: it
//! needs the whole. Millimetres.

use kurbo::{Affine, BezPath, ParamCurve, PathSeg, Point};

/// Points nearer to the fold than this, mm, lie on it.
pub const ON_FOLD: f64 = 1e-3;

/// The half `ring` and its mirror image on the other side of the line through `from` and `to`, as
/// one ring. `None` if the ring does not run along that line in exactly one stretch.
pub fn unfolded(ring: &BezPath, from: Point, to: Point) -> Option<BezPath> {
    let along = to - from;
    if along.hypot() < ON_FOLD {
        return None;
    }
    let normal = along.normalize();
    let lies_on = |p: Point| (p - from).cross(normal).abs() < ON_FOLD;
    let on_fold = |s: &PathSeg| {
        (0..=4).all(|i| lies_on(s.eval(f64::from(i) / 4.0))) && s.start().distance(s.end()) > 0.0
    };
    let segments: Vec<PathSeg> = ring.segments().collect();
    let count = segments.len();
    let folded: Vec<bool> = segments.iter().map(on_fold).collect();
    // The half begins where the stretch on the fold ends, and may do so only once.
    let mut starts = (0..count).filter(|i| !folded[*i] && folded[(*i + count - 1) % count]);
    let start = starts.next()?;
    if starts.next().is_some() {
        return None;
    }
    let half: Vec<PathSeg> = (0..count)
        .map(|i| (start + i) % count)
        .filter(|i| !folded[*i])
        .map(|i| segments[i])
        .collect();
    let mirror = Affine::reflect(from, normal);
    let other = half.iter().rev().map(|s| mirror * s.reverse());
    Some(joined(half.iter().copied().chain(other)))
}

/// One closed path of segments that meet to within [`ON_FOLD`].
fn joined(segments: impl Iterator<Item = PathSeg>) -> BezPath {
    let mut path = BezPath::new();
    for segment in segments {
        if path.is_empty() {
            path.move_to(segment.start());
        }
        path.push(segment.as_path_el());
    }
    path.close_path();
    path
}

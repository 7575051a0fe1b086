//! Fewer points for the same piece. Rings only grow: what is cut from a simplified ring's place
//! holds the true piece. mm.

use super::ring;
use kurbo::Point;

/// The ring (positive area, no crossings) with as few points as it takes to stay within `tolerance`
/// outside of it: hollow corners are bridged and short edges between convex corners replaced by the
/// meeting point of their neighbours, the least change first.
pub(super) fn outwards(points: &[Point], tolerance: f64) -> Vec<Point> {
    let mut ring: Vec<Corner> = points.iter().map(|&at| Corner { at, off: 0.0 }).collect();
    while ring.len() > 3 {
        let changes = (0..ring.len()).flat_map(|i| [bridge(&ring, i), sharpen(&ring, i)]);
        let mut changes: Vec<Change> = changes.flatten().filter(|c| c.off <= tolerance).collect();
        changes.sort_by(|a, b| a.off.total_cmp(&b.off));
        let Some(next) = changes.iter().find_map(|change| change.applied(&ring)) else {
            break;
        };
        ring = next;
    }
    ring.into_iter().map(|corner| corner.at).collect()
}

/// A corner, and how far the ring near it may lie outside of the true one.
#[derive(Clone, Copy)]
struct Corner {
    at: Point,
    off: f64,
}

/// `removed` corners from `first` on make room for at most one other.
struct Change {
    first: usize,
    removed: usize,
    new: Option<Point>,
    off: f64,
}

impl Change {
    /// The ring with this change, unless it would cross itself.
    fn applied(&self, ring: &[Corner]) -> Option<Vec<Corner>> {
        let n = ring.len();
        let kept = (self.first + self.removed..self.first + n).map(|i| ring[i % n]);
        let mut out: Vec<Corner> = kept.collect();
        let last = out.len() - 1;
        for end in [0, last] {
            out[end].off = out[end].off.max(self.off);
        }
        let (a, b) = (out[last].at, out[0].at);
        let sides = match self.new {
            Some(at) => {
                out.push(Corner { at, off: self.off });
                vec![(a, at), (at, b)]
            }
            None => vec![(a, b)],
        };
        let others = (0..last).map(|i| (out[i].at, out[i + 1].at));
        let touches = |edge: (Point, Point), side: (Point, Point)| {
            let shared = [edge.0, edge.1].iter().any(|&p| p == side.0 || p == side.1);
            !shared && ring::meet(edge, side)
        };
        let crossed = others
            .into_iter()
            .any(|edge| sides.iter().any(|&side| touches(edge, side)));
        (!crossed).then_some(out)
    }
}

fn corner(ring: &[Corner], i: usize) -> &Corner {
    &ring[i % ring.len()]
}

fn bends(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - b)
}

/// Leaves out the corner `i` where it is hollow.
fn bridge(ring: &[Corner], i: usize) -> Option<Change> {
    let n = ring.len();
    let (a, b, c) = (
        corner(ring, i + n - 1),
        corner(ring, i),
        corner(ring, i + 1),
    );
    if bends(a.at, b.at, c.at) > 0.0 {
        return None;
    }
    let off = ring::distance_to_edge(b.at, a.at, c.at) + a.off.max(b.off).max(c.off);
    Some(Change {
        first: i,
        removed: 1,
        new: None,
        off,
    })
}

/// Replaces the edge after corner `i`, between two convex corners, by the point where the edges
/// before and after it meet.
fn sharpen(ring: &[Corner], i: usize) -> Option<Change> {
    let n = ring.len();
    let [a, b, c, d] = [i + n - 1, i, i + 1, i + 2].map(|index| corner(ring, index));
    if bends(a.at, b.at, c.at) <= 0.0 || bends(b.at, c.at, d.at) <= 0.0 {
        return None;
    }
    let (along, back) = (b.at - a.at, d.at - c.at);
    let spread = along.cross(back);
    if spread <= 0.0 {
        return None;
    }
    let q = b.at + along * ((c.at - b.at).cross(back) / spread);
    let off = ring::distance_to_edge(q, b.at, c.at) + b.off.max(c.off);
    q.is_finite().then_some(Change {
        first: i,
        removed: 2,
        new: Some(q),
        off,
    })
}

//! A half outline mirrored about its straight edge to give the whole.

use super::curve;
use super::curve::JOIN_TOLERANCE;
use super::outline::{Edge, Outline, OutlineFault};
use kurbo::{Affine, ParamCurve, ParamCurveNearest, PathSeg, Vec2};

#[cfg(test)]
mod tests;

/// The half may reach this far beyond its axis, mm: a tenth of what a careful sewer can cut.
pub const BEYOND_AXIS: f64 = 0.01;

/// An edge that meets the axis within a degree of a right angle runs on into its mirror image.
const SQUARE: f64 = std::f64::consts::PI / 180.0;

impl Outline {
    /// The whole of which this outline is a half, mirrored about its straight edge `axis_edge`,
    /// which disappears. Every other edge appears once as it is and once mirrored, called
    /// `NAME mirrored`; but an edge that meets the axis at a right angle, within one degree, is one
    /// edge with its mirror image and keeps its name.
    ///
    /// # Errors
    /// [`OutlineFault::NoEdge`], [`OutlineFault::NotStraight`], [`OutlineFault::AcrossEdge`] if the
    /// outline is no half, and those of [`Outline::new`].
    pub fn unfolded(&self, axis_edge: &str) -> Result<Outline, OutlineFault> {
        let edges = self.edges();
        let axis = edges
            .iter()
            .position(|e| e.name == axis_edge)
            .ok_or_else(|| OutlineFault::NoEdge(axis_edge.to_owned()))?;
        let (from, to) = (edges[axis].start(), edges[axis].end());
        let direction = to - from;
        if direction.hypot() <= JOIN_TOLERANCE || !is_straight(&edges[axis]) {
            return Err(OutlineFault::NotStraight(axis_edge.to_owned()));
        }
        self.check_half(axis_edge, BEYOND_AXIS)?;
        let direction = direction.normalize();
        let mirror = Affine::reflect(from, direction);
        let half: Vec<&Edge> = (1..edges.len())
            .map(|step| &edges[(axis + step) % edges.len()])
            .collect();
        let (Some(first), Some(last)) = (half.first(), half.last()) else {
            return Err(OutlineFault::NoArea);
        };
        let square = |tangent: Vec2| tangent.dot(direction).abs() <= SQUARE.sin();
        let joins_end = square(last.end_tangent());
        let joins_start = square(first.start_tangent());
        let mut whole: Vec<Edge> = half.iter().map(|e| (*e).clone()).collect();
        for edge in half.iter().rev() {
            let curve = curve::reversed(&(mirror * &edge.curve));
            whole.push(Edge::new(format!("{} mirrored", edge.name), curve));
        }
        if joins_end {
            join(&mut whole, half.len() - 1);
        }
        if joins_start && whole.len() > 1 {
            let mirrored = whole.remove(whole.len() - 1);
            let name = whole[0].name.clone();
            whole[0] = joined(&mirrored, &whole[0], name);
        }
        Outline::new(whole)
    }
}

/// Makes edges `index` and `index + 1` one, under the name of the first.
fn join(edges: &mut Vec<Edge>, index: usize) {
    let after = edges.remove(index + 1);
    let name = edges[index].name.clone();
    edges[index] = joined(&edges[index], &after, name);
}

/// One edge from two; lines that run straight on become one line.
fn joined(before: &Edge, after: &Edge, name: String) -> Edge {
    let mut segments = before.segments();
    let mut rest = after.segments().into_iter();
    if let (Some(PathSeg::Line(last)), Some(first)) = (segments.last_mut(), rest.next()) {
        let straight =
            curve::tangent(&PathSeg::Line(*last), 1.0).cross(curve::tangent(&first, 0.0));
        match first {
            PathSeg::Line(line) if straight.abs() <= 1e-9 => last.p1 = line.p1,
            other => segments.push(other),
        }
    } else if let Some(first) = after.segments().first() {
        segments.push(*first);
    }
    segments.extend(rest);
    Edge::new(name, curve::chained(segments))
}

/// Whether an edge stays within [`JOIN_TOLERANCE`] of the line between its ends.
fn is_straight(edge: &Edge) -> bool {
    let chord = PathSeg::from(kurbo::Line::new(edge.start(), edge.end()));
    edge.segments().iter().all(|segment| {
        (0..=16).all(|i| {
            let point = segment.eval(f64::from(i) / 16.0);
            chord.nearest(point, 1e-9).distance_sq <= JOIN_TOLERANCE * JOIN_TOLERANCE
        })
    })
}

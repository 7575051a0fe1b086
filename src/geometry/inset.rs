//! An outline moved inward or outward by one distance all round, its edges keeping their names.

use super::cut_line::clean;
use super::cut_line::ring::{self, Seam, Strand, parallel_ring};
use super::cut_line::spikes::without_spikes;
use super::outline::{Edge, Outline, OutlineFault};
use super::{Corner, curve};
use kurbo::{ParamCurve, Point, Shape};

#[cfg(test)]
mod tests;

/// An inset curve lies within this distance, mm, of the true parallel curve: a twentieth of what
/// the proof of a finished page allows.
pub const INSET_TOLERANCE: f64 = 5e-4;

/// Parts of an inset smaller than this, mm², are crumbs left by rounding.
const CRUMB: f64 = 1e-3;

impl Outline {
    /// The outline moved inward by `by` mm, outward if negative, to [`INSET_TOLERANCE`]. Corners
    /// that open become arcs about the corner; corners that close, meet. A corner within an edge is mitred.
    /// An outline that crosses itself by less than two hundredths of a millimetre passes for one that does
    /// not; beside such a place the distance is kept to as much.
    ///
    /// Edges keep their names. A new edge begins where the offset of the old edge's first point
    /// lies; at a corner that became an arc, in the middle of the arc; where two edges now meet
    /// earlier, at their meeting. An edge of which nothing is left is left out; where other edges
    /// cut an edge in two, its longer part keeps the name and the rest goes to its neighbour.
    ///
    /// # Errors
    /// [`OutlineFault::NothingLeft`] when nothing or more than one part is left;
    /// [`OutlineFault::NotFinite`] for a distance that is not finite.
    pub fn inset(&self, by: f64) -> Result<Outline, OutlineFault> {
        if !by.is_finite() {
            return Err(OutlineFault::NotFinite);
        }
        if by == 0.0 {
            return Ok(self.clone());
        }
        let count = self.edges().len();
        let corners = vec![Corner::Round; count];
        let raw = parallel_ring(&seams(self, by), &corners, INSET_TOLERANCE);
        // An inset is drawn on the ring run backwards, whose outside is the inside; what then keeps
        // a winding of minus one is untouched by every strip.
        let rings: Vec<Vec<Strand>> = if by > 0.0 {
            clean::outer_rings(&raw, |winding| winding < 0)
        } else {
            clean::outer_rings(&raw, |winding| winding > 0)
        };
        let nothing_left = OutlineFault::NothingLeft(by);
        let mut parts = rings
            .into_iter()
            .filter(|ring| ring::path(ring).area() > CRUMB);
        let ring = parts.next().ok_or(nothing_left.clone())?;
        if parts.next().is_some() {
            return Err(nothing_left);
        }
        Outline::new(self.named(&without_spikes(ring), by))
    }

    /// The strands of `ring`, gathered into edges with this outline's names.
    fn named(&self, ring: &[Strand], by: f64) -> Vec<Edge> {
        let mut owners: Vec<usize> = ring.iter().map(|s| s.edge).collect();
        keep_longest_runs(&mut owners, ring);
        let count = ring.len();
        let begins = |i: usize| owners[i] != owners[(i + count - 1) % count];
        let first = (0..count)
            .filter(|i| begins(*i))
            .min_by_key(|i| owners[*i])
            .unwrap_or_else(|| self.nearest_start(ring, by));
        let mut edges: Vec<(usize, Vec<kurbo::PathSeg>)> = Vec::new();
        for step in 0..count {
            let index = (first + step) % count;
            match edges.last_mut() {
                Some((owner, segments)) if *owner == owners[index] => {
                    segments.push(ring[index].segment);
                }
                _ => edges.push((owners[index], vec![ring[index].segment])),
            }
        }
        edges
            .into_iter()
            .map(|(owner, segments)| {
                let name = self.edges()[owner].name.clone();
                Edge::new(name, curve::chained(segments))
            })
            .collect()
    }

    /// For an outline of one edge: the strand that begins nearest to the offset of its first point.
    fn nearest_start(&self, ring: &[Strand], by: f64) -> usize {
        let Some(edge) = self.edges().first() else {
            return 0;
        };
        let mean = edge.start_tangent() + edge.end_tangent();
        let tangent = if mean.hypot() > 0.0 {
            mean.normalize()
        } else {
            mean
        };
        let start: Point = edge.start() + by * kurbo::Vec2::new(-tangent.y, tangent.x);
        let distance = |i: &usize| ring[*i].segment.start().distance(start);
        (0..ring.len())
            .min_by(|a, b| distance(a).total_cmp(&distance(b)))
            .unwrap_or(0)
    }
}

fn seams(outline: &Outline, by: f64) -> Vec<Seam> {
    let forward = outline.edges().iter().enumerate();
    if by < 0.0 {
        return forward
            .map(|(edge, e)| Seam {
                segments: e.segments(),
                allowance: -by,
                edge,
            })
            .collect();
    }
    forward
        .rev()
        .map(|(edge, e)| Seam {
            segments: curve::reversed(&e.curve).segments().collect(),
            allowance: by,
            edge,
        })
        .collect()
}

/// Where an owner has several runs round the ring, all but the longest go to the run before them.
fn keep_longest_runs(owners: &mut [usize], ring: &[Strand]) {
    let count = owners.len();
    loop {
        let runs = runs(owners, ring);
        let longest = |owner: usize| {
            let own = runs.iter().filter(|r| r.owner == owner);
            own.map(|r| r.length).fold(0.0, f64::max)
        };
        let shorter = runs
            .iter()
            .position(|r| r.length < longest(r.owner) || (runs.len() > 1 && r.length == 0.0));
        let Some(index) = shorter else { return };
        let heir = runs[(index + runs.len() - 1) % runs.len()].owner;
        let run = &runs[index];
        for step in 0..run.count {
            owners[(run.first + step) % count] = heir;
        }
    }
}

struct Run {
    owner: usize,
    first: usize,
    count: usize,
    length: f64,
}

fn runs(owners: &[usize], ring: &[Strand]) -> Vec<Run> {
    use kurbo::ParamCurveArclen;
    let count = owners.len();
    let begins = |i: &usize| owners[*i] != owners[(*i + count - 1) % count];
    let firsts: Vec<usize> = (0..count).filter(begins).collect();
    let mut runs: Vec<Run> = Vec::new();
    for (n, first) in firsts.iter().enumerate() {
        let next = firsts[(n + 1) % firsts.len()];
        let length_of = |i: usize| ring[(first + i) % count].segment.arclen(1e-3);
        let run_count = (next + count - first - 1) % count + 1;
        runs.push(Run {
            owner: owners[*first],
            first: *first,
            count: run_count,
            length: (0..run_count).map(length_of).sum(),
        });
    }
    runs
}

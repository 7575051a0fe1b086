//! Regions of a flat mesh in which values given at its points lie within limits, values running
//! evenly over each triangle. Any unit of length; one closed ring round each part.

use kurbo::{BezPath, Point};
use std::collections::{BTreeMap, BTreeSet};

#[cfg(test)]
mod tests;

/// A corner of a region: a point of the mesh, or the place on one of its edges (the smaller index
/// first) at which a limit is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Node {
    Point(usize),
    Lower(usize, usize),
    Upper(usize, usize),
}

/// A flat mesh with a value at each of its points.
#[derive(Debug, Clone, Copy)]
pub struct Field<'a> {
    /// Its points.
    pub points: &'a [Point],
    /// Its triangles as indices of points, all turning the same way.
    pub triangles: &'a [[usize; 3]],
    /// A value for each point.
    pub values: &'a [f64],
}

impl Field<'_> {
    /// The region where the value is at least `low` and less than `high`; an empty path if it is so
    /// nowhere. Parts of neighbouring triangles are merged: what is left of their outlines once
    /// edges that are run through both ways are struck out.
    #[must_use]
    pub fn band(&self, low: f64, high: f64) -> BezPath {
        let mut edges: BTreeSet<(Node, Node)> = BTreeSet::new();
        for triangle in self.triangles {
            let corners = self.corners(*triangle, low, high);
            for (index, from) in corners.iter().enumerate() {
                let to = corners[(index + 1) % corners.len()];
                if *from != to && !edges.remove(&(to, *from)) {
                    edges.insert((*from, to));
                }
            }
        }
        let mut onward: BTreeMap<Node, Vec<Node>> = BTreeMap::new();
        for (from, to) in edges {
            onward.entry(from).or_default().push(to);
        }
        let mut path = BezPath::new();
        while let Some(first) = onward.keys().next().copied() {
            let mut here = first;
            path.move_to(self.place(first, low, high));
            while let Some(next) = step(&mut onward, here) {
                if next == first {
                    break;
                }
                path.line_to(self.place(next, low, high));
                here = next;
            }
            path.close_path();
        }
        path
    }

    /// The part of one triangle that belongs to the band, corner by corner.
    fn corners(&self, triangle: [usize; 3], low: f64, high: f64) -> Vec<Node> {
        let mut corners = Vec::with_capacity(6);
        for k in 0..3 {
            let (i, j) = (triangle[k], triangle[(k + 1) % 3]);
            let (from, to) = (self.values[i], self.values[j]);
            if from >= low && from < high {
                corners.push(Node::Point(i));
            }
            let crossed = |limit: f64| (from >= limit) != (to >= limit);
            let (first, second) = (i.min(j), i.max(j));
            let lower = crossed(low).then_some(Node::Lower(first, second));
            let upper = crossed(high).then_some(Node::Upper(first, second));
            let met = if from < to {
                [lower, upper]
            } else {
                [upper, lower]
            };
            corners.extend(met.into_iter().flatten());
        }
        corners
    }

    fn place(&self, node: Node, low: f64, high: f64) -> Point {
        let (i, j, limit) = match node {
            Node::Point(i) => return self.points[i],
            Node::Lower(i, j) => (i, j, low),
            Node::Upper(i, j) => (i, j, high),
        };
        let share = (limit - self.values[i]) / (self.values[j] - self.values[i]);
        self.points[i].lerp(self.points[j], share.clamp(0.0, 1.0))
    }

    /// Each value drawn half way towards the mean of its neighbours', `rounds` times: what a picture
    /// shows of values that jump from triangle to triangle.
    #[must_use]
    pub fn smoothed(&self, rounds: usize) -> Vec<f64> {
        let mut values = self.values.to_vec();
        for _ in 0..rounds {
            let mut sums = vec![(0.0, 0.0); values.len()];
            for [a, b, c] in self.triangles {
                for (at, others) in [(a, [b, c]), (b, [c, a]), (c, [a, b])] {
                    for other in others {
                        sums[*at].0 += values[*other];
                        sums[*at].1 += 1.0;
                    }
                }
            }
            for (value, (sum, count)) in values.iter_mut().zip(sums) {
                if count > 0.0 {
                    *value = 0.5 * (*value + sum / count);
                }
            }
        }
        values
    }
}

fn step(onward: &mut BTreeMap<Node, Vec<Node>>, from: Node) -> Option<Node> {
    let ways = onward.get_mut(&from)?;
    let next = ways.pop();
    if ways.is_empty() {
        onward.remove(&from);
    }
    next
}

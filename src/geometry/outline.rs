//! An outline: a closed ring of named edges, each an open curve. Millimetres, y down, clockwise as
//! seen on the page.

use super::curve::JOIN_TOLERANCE;
use super::curve::{self, Station};
use super::runs_back::runs_back;
use super::winding;
use kurbo::{
    Affine, BezPath, ParamCurve, ParamCurveExtrema, PathEl, PathSeg, Point, Rect, Shape, Vec2,
};

/// Arc lengths are computed to this tolerance, mm: far below the 0.1 mm at which a seam counts as
/// not matching, and still cheap.
pub const LENGTH_TOLERANCE: f64 = 1e-6;

/// One named edge of an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Its name, unique in the outline.
    pub name: String,
    /// An open curve: one `MoveTo`, then segments.
    pub curve: BezPath,
}

/// Why a ring of edges is no outline.
#[derive(Debug, Clone, PartialEq)]
pub enum OutlineFault {
    /// No edge, or an edge without a segment.
    Empty,
    /// A coordinate is not a finite number.
    NotFinite,
    /// Edge `before` ends where edge `after` does not begin; the gap is in mm.
    Open {
        /// The edge that ends.
        before: String,
        /// The edge that should begin there.
        after: String,
        /// Distance in mm.
        gap: f64,
    },
    /// Two edges have this name.
    SameName(String),
    /// The ring encloses no area.
    NoArea,
    /// The ring crosses itself near this point.
    Crosses(Point),
    /// The ring runs back along itself from this point: a spike, or a neck of no width.
    RunsBack(Point),
    /// The outline lies on both sides of its straight edge `edge`, up to `by` mm beyond it at `at`.
    AcrossEdge {
        /// Name of the edge.
        edge: String,
        /// The point furthest beyond it.
        at: Point,
        /// How far, mm.
        by: f64,
    },
    /// An inset of this many mm leaves nothing, or several parts.
    NothingLeft(f64),
    /// There is no edge of this name.
    NoEdge(String),
    /// The edge of this name should be straight and is not.
    NotStraight(String),
}

/// A closed ring of named edges, clockwise on the page, that does not cross itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    edges: Vec<Edge>,
}

impl Edge {
    /// A named edge from its curve.
    pub fn new(name: impl Into<String>, curve: BezPath) -> Self {
        Self {
            name: name.into(),
            curve,
        }
    }

    /// Arc length, mm, to [`LENGTH_TOLERANCE`].
    pub fn length(&self) -> f64 {
        curve::length(&self.curve, LENGTH_TOLERANCE)
    }

    /// Point and tangent at `distance` mm from the start, clamped to the ends.
    pub fn station(&self, distance: f64) -> Station {
        curve::station(&self.curve, distance, LENGTH_TOLERANCE).unwrap_or(Station {
            point: Point::ZERO,
            tangent: Vec2::ZERO,
        })
    }

    /// Where the edge begins.
    pub fn start(&self) -> Point {
        self.segments().first().map_or(Point::ZERO, |s| s.start())
    }

    /// Where the edge ends.
    pub fn end(&self) -> Point {
        self.segments().last().map_or(Point::ZERO, |s| s.end())
    }

    /// Unit tangent at the start.
    pub fn start_tangent(&self) -> Vec2 {
        self.segments()
            .first()
            .map_or(Vec2::ZERO, |s| curve::tangent(s, 0.0))
    }

    /// Unit tangent at the end.
    pub fn end_tangent(&self) -> Vec2 {
        self.segments()
            .last()
            .map_or(Vec2::ZERO, |s| curve::tangent(s, 1.0))
    }

    /// The segments in order.
    pub fn segments(&self) -> Vec<PathSeg> {
        self.curve.segments().collect()
    }
}

impl Outline {
    /// A ring from its edges in order. Ends nearer than [`JOIN_TOLERANCE`] are made to meet
    /// exactly; a ring given the other way round is turned (edges reversed, in reversed order).
    ///
    /// # Errors
    /// See [`OutlineFault`]; crossings are looked for by `check_simple`.
    pub fn new(edges: Vec<Edge>) -> Result<Self, OutlineFault> {
        if edges.is_empty() || edges.iter().any(|e| e.segments().is_empty()) {
            return Err(OutlineFault::Empty);
        }
        if edges.iter().any(|e| !e.curve.is_finite()) {
            return Err(OutlineFault::NotFinite);
        }
        for (i, edge) in edges.iter().enumerate() {
            if edges[..i].iter().any(|e| e.name == edge.name) {
                return Err(OutlineFault::SameName(edge.name.clone()));
            }
        }
        let edges = joined(edges)?;
        let area = ring(&edges).area();
        if area.abs() < 1e-6 {
            return Err(OutlineFault::NoArea);
        }
        let edges = if area < 0.0 { turned(edges) } else { edges };
        Ok(Self { edges })
    }

    /// The edges in order, clockwise on the page.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The edge called `name`.
    pub fn edge(&self, name: &str) -> Option<&Edge> {
        self.edges.iter().find(|e| e.name == name)
    }

    /// The whole ring as one closed path.
    pub fn path(&self) -> BezPath {
        ring(&self.edges)
    }

    /// Length round, mm.
    pub fn perimeter(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        self.path().area()
    }

    /// The smallest upright rectangle round it.
    pub fn bounds(&self) -> Rect {
        self.path().bounding_box()
    }

    /// Checks that the ring does not cross itself, by its winding numbers, and does not run back
    /// along itself. A ring that only touches itself in points passes.
    ///
    /// # Errors
    /// [`OutlineFault::Crosses`] or [`OutlineFault::RunsBack`] with a point where it does.
    pub fn check_simple(&self) -> Result<(), OutlineFault> {
        let path = self.path();
        if let Some(point) = winding::crossing(&path) {
            return Err(OutlineFault::Crosses(point));
        }
        match runs_back(&path) {
            Some(point) => Err(OutlineFault::RunsBack(point)),
            None => Ok(()),
        }
    }

    /// Checks that the whole outline lies on the inner side of the line through its edge `edge`, as
    /// the half of a piece must that is cut on a fold or mirrored. The edge itself is not looked at.
    ///
    /// # Errors
    /// [`OutlineFault::AcrossEdge`] if a point lies more than `tolerance` mm beyond;
    /// [`OutlineFault::NoEdge`].
    pub fn check_half(&self, edge: &str, tolerance: f64) -> Result<(), OutlineFault> {
        let axis = self
            .edge(edge)
            .ok_or_else(|| OutlineFault::NoEdge(edge.to_owned()))?;
        let chord = axis.end() - axis.start();
        if chord.hypot() <= JOIN_TOLERANCE {
            return Ok(());
        }
        let along = chord.normalize();
        // the edge along x from the origin; clockwise on the page, the inside lies at y > 0
        let level = Affine::new([along.x, -along.y, along.y, along.x, 0.0, 0.0])
            * Affine::translate(-axis.start().to_vec2());
        let mut worst = (tolerance, None);
        for segment in self
            .edges
            .iter()
            .filter(|e| e.name != edge)
            .flat_map(Edge::segments)
        {
            let turned = level * segment;
            let ends = [0.0, 1.0].into_iter().chain(turned.extrema());
            for t in ends {
                let beyond = -turned.eval(t).y;
                if beyond > worst.0 {
                    worst = (beyond, Some(segment.eval(t)));
                }
            }
        }
        match worst {
            (_, None) => Ok(()),
            (by, Some(at)) => Err(OutlineFault::AcrossEdge {
                edge: edge.to_owned(),
                at,
                by,
            }),
        }
    }

    /// The outline moved, turned or mirrored by `transform`; a mirrored ring is turned so that it
    /// still runs clockwise.
    pub fn transformed(&self, transform: Affine) -> Self {
        let edges = self
            .edges
            .iter()
            .map(|e| Edge::new(e.name.clone(), transform * &e.curve))
            .collect();
        let edges = if transform.determinant() < 0.0 {
            turned(edges)
        } else {
            edges
        };
        Self { edges }
    }
}

fn ring(edges: &[Edge]) -> BezPath {
    let mut path = BezPath::new();
    for edge in edges {
        for element in edge.curve.elements() {
            match element {
                PathEl::MoveTo(_) if !path.is_empty() => {}
                other => path.push(*other),
            }
        }
    }
    path.close_path();
    path
}

fn joined(mut edges: Vec<Edge>) -> Result<Vec<Edge>, OutlineFault> {
    for i in 0..edges.len() {
        let next = (i + 1) % edges.len();
        let (end, start) = (edges[i].end(), edges[next].start());
        let gap = end.distance(start);
        if gap > JOIN_TOLERANCE {
            let (before, after) = (edges[i].name.clone(), edges[next].name.clone());
            return Err(OutlineFault::Open { before, after, gap });
        }
        let mut elements = edges[next].curve.elements().to_vec();
        if let Some(first) = elements.first_mut() {
            *first = PathEl::MoveTo(end);
        }
        edges[next].curve = BezPath::from_vec(elements);
    }
    Ok(edges)
}

fn turned(edges: Vec<Edge>) -> Vec<Edge> {
    let turn = |e: Edge| Edge::new(e.name, curve::reversed(&e.curve));
    edges.into_iter().rev().map(turn).collect()
}

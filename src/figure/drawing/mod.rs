//! Line drawings of solids: hidden lines removed, contour, edges, seams and stitches each in their
//! line, as paths of few curves. The scene is in mm of the model, the drawing in mm on paper.
//!
//! The way of the data: a [`Scene`] of surfaces and curves is seen through a [`Camera`];
//! silhouettes are added ([`march`]); of every curve the visible stretches are kept ([`visible`]);
//! those with nothing beside them are the contour ([`contour`]); of lines side by side the stronger
//! stays ([`doubles`]); what runs on in each other is joined ([`join`]), smoothed, brought to where
//! it ends ([`snap`]), closed where the contour is open ([`close`]) and fitted ([`bezier`]). What face of which cloth is seen where comes as
//! [`Region`]s, so that the tint can be chosen ([`svg`]).
//!
//! It measures no pattern: lines are moved by up to half a millimetre so that they read well.

pub(in crate::figure) mod arrow;
mod bezier;
mod chain;
mod close;
mod contour;
mod doubles;
mod join;
mod line_kind;
mod march;
mod occluders;
mod picture;
pub(in crate::figure) mod polyline;
mod regions;
mod sample;
mod scene;
mod shade;
mod snap;
mod svg;
mod tails;
mod tint;
mod view;
mod visible;

#[cfg(test)]
mod tests;

pub use line_kind::{LineKind, width_factor};
pub use march::{silhouettes, zero_lines};
pub use regions::Region;
pub use scene::{Curve, Face, Mesh, Scene, Strip, Tag, net_triangles, vertex_normals};
pub use shade::{Light, shaded};
pub use svg::svg;
pub use tint::Tints;
pub use view::{Camera, Room, View};
pub(in crate::figure) use visible::LEAST_STRIP;

use bezier::{Fit, fitted};
use chain::{Chain, End, STEP};
use kurbo::{BezPath, CubicBez, PathEl, Point};
use occluders::Occluders;
use picture::Picture;
use polyline::{length, resampled, smoothed, spread};

/// Deviation of the Gaussian that smooths silhouettes, the contour and other lines, mm.
const SMOOTH_SILHOUETTE: f64 = 0.6;
const SMOOTH_CONTOUR: f64 = 0.35;
const SMOOTH_LINE: f64 = 0.2;

/// Tolerance of the curves, of small rings, and the distance of a ring's points, mm.
const TOLERANCE: f64 = 0.035;
const RING_TOLERANCE: f64 = 0.012;
const RING_STEP: f64 = 0.05;

/// A line is not drawn back by a gap unless it is this many times longer.
const GAP_TIMES: f64 = 2.5;

/// An end of the contour farther than this from any other is open, mm.
const OPEN: f64 = 0.3;

/// A line of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it stands for.
    pub kind: LineKind,
    /// The curves to stroke.
    pub path: BezPath,
    /// Whether it closes.
    pub closed: bool,
    /// The tag of the curve it is from.
    pub tag: Tag,
    /// Its points before they were fitted.
    pub points: Vec<Point>,
}

/// A finished line drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct LineDrawing {
    /// All lines, the strongest last.
    pub lines: Vec<Line>,
    /// The silhouette of the whole figure.
    pub silhouette: BezPath,
    /// Where faces other than the right side are seen.
    pub regions: Vec<Region>,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Paper millimetres for one of the scene.
    pub scale: f64,
    /// Ends of the contour that meet no other end: more than none and the drawing has a gap.
    pub open_ends: usize,
    /// Arrows over it, each from its tail to its tip.
    pub arrows: Vec<CubicBez>,
}

/// The drawing of `scene` from `view`, as large as `room`. `None` for a scene without extent.
#[must_use]
pub fn draw(scene: &Scene, view: View, room: Room) -> Option<LineDrawing> {
    let camera = Camera::new(scene, view, room)?;
    Some(draw_through(scene, &camera))
}

/// The drawing of `scene` as `camera` shows it.
#[must_use]
pub fn draw_through(scene: &Scene, camera: &Camera) -> LineDrawing {
    let factor = width_factor(camera.width);
    let occluders = Occluders::new(scene, camera);
    let picture = Picture::new(scene, &occluders, camera);
    let mut curves = scene.curves.clone();
    for mesh in &scene.meshes {
        if let Some(kind) = mesh.silhouette {
            curves.extend(silhouettes(mesh, kind, camera.toward()));
        }
    }
    let seen = curves
        .iter()
        .enumerate()
        .flat_map(|(number, curve)| visible::visible(curve, number, &occluders, camera));
    let chains = contour::parted(seen.collect(), &occluders, &picture, factor);
    let chains = doubles::without_doubles(chains, [camera.width, camera.height], factor);
    let mut chains = join::joined(chains);
    chains.iter_mut().for_each(smooth);
    chains.retain(|chain| chain.points.len() > 2);
    snap::snap(&mut chains);
    tails::cut(&mut chains);
    let regions = regions::regions(&picture);
    chains.retain(|chain| length(&chain.points) >= chain.kind.shortest());
    close::close(&mut chains, &regions.silhouette);
    chains.sort_by_key(|chain| std::cmp::Reverse(chain.kind.rank()));
    let lines: Vec<Line> = chains.into_iter().filter_map(line).collect();
    LineDrawing {
        open_ends: open_ends(&lines),
        lines,
        silhouette: regions.silhouette,
        regions: regions.faces,
        width: camera.width,
        height: camera.height,
        scale: camera.scale,
        arrows: Vec::new(),
    }
}

/// Smooths a chain before its ends are brought to other lines, so that joints stay crisp.
fn smooth(chain: &mut Chain) {
    if chain.is_ring() {
        return;
    }
    let sigma = if chain.silhouette {
        SMOOTH_SILHOUETTE
    } else if chain.kind == LineKind::Outer {
        SMOOTH_CONTOUR
    } else {
        SMOOTH_LINE
    };
    let even = resampled(&chain.points, STEP);
    chain.points = smoothed(&even, sigma, STEP, chain.closed);
}

/// A chain as a line, drawn back where it passes behind something; `None` if too little is left.
fn line(chain: Chain) -> Option<Line> {
    let mut points = chain.points.clone();
    for end in End::BOTH {
        let (gap, whole) = (chain.gap(end), length(&points));
        if gap > 0.0 && whole >= GAP_TIMES * gap {
            let [from, to] = match end {
                End::First => [gap, whole],
                End::Last => [0.0, whole - gap],
            };
            points = spread(&points, from, to, points.len() - 1);
        }
    }
    let ring = chain.is_ring();
    let step = if ring { RING_STEP } else { STEP };
    let points = resampled(&points, step);
    if points.len() < 3 || length(&points) < chain.kind.shortest() {
        return None;
    }
    let fit = Fit {
        tolerance: if ring { RING_TOLERANCE } else { TOLERANCE },
        step,
        closed: chain.closed,
        corners: !ring,
    };
    Some(Line {
        kind: chain.kind,
        path: fitted(&points, fit),
        closed: chain.closed,
        tag: chain.tag,
        points,
    })
}

/// Ends of contour lines that meet no other contour line and not their own other end.
fn open_ends(lines: &[Line]) -> usize {
    let outer: Vec<&Line> = lines.iter().filter(|l| l.kind == LineKind::Outer).collect();
    let mut open = 0;
    for (number, line) in outer.iter().enumerate().filter(|(_, line)| !line.closed) {
        for tip in [line.points.first(), line.points.last()]
            .into_iter()
            .flatten()
        {
            let others = outer.iter().enumerate().filter(|(i, _)| *i != number);
            let others = others.map(|(_, other)| other.points.as_slice());
            open += usize::from(close::is_open(*tip, &line.points, others));
        }
    }
    open
}

/// A closed ring of straight lines.
fn polygon(points: &[Point]) -> Vec<PathEl> {
    let mut elements = Vec::with_capacity(points.len() + 1);
    for (number, point) in points.iter().enumerate() {
        elements.push(if number == 0 {
            PathEl::MoveTo(*point)
        } else {
            PathEl::LineTo(*point)
        });
    }
    elements.push(PathEl::ClosePath);
    elements
}

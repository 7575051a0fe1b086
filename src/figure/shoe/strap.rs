//! A strap from the outer side over the instep into the inner side, with its stitching and button.
//! Millimetres, the foot's axes.

mod solid;
mod stitching;

pub(super) use stitching::{End, button_mark, lap_stitching, stitching};

use super::button::{self, Place};
use super::plane::{LEAN, Plane};
use super::{Extent, ShoeLook, StrapLook, TieLook, part};
use crate::draft::shoe::ShoeForm;
use crate::figure::drawing::polyline::lengths;
use crate::figure::drawing::{Curve, LineKind, Mesh, Scene, net_triangles, vertex_normals};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;
use solid::solid;

/// Lines along the strap, and points on each.
pub(super) const LINES: usize = 17;
pub(super) const POINTS: usize = 90;

/// Shares of the foot's length: how far the strap lies above the form, how much deeper than the
/// lining its inner end, over which way before the inner topline it goes in and how much of that it
/// uses, how far below it ends (no further than it is sewn down: more would be seen inside the shoe), how far
/// below the outer topline its button sits, how thick it is.
const LIFT: f64 = 0.012;
const INSIDE: f64 = 0.024;
const GOES_IN: [f64; 2] = [0.26, 0.25];
const GOES_IN_OUTSIDE: [f64; 2] = [0.17, 0.16];
const ENDS_BELOW: f64 = 0.07;
const BUTTON_BELOW: f64 = 0.085;
pub(super) const THICK: f64 = 0.014;

/// An elastic: how far below the outer topline it ends, how thick it is and how much lower it lies, as shares of
/// the foot's length.
const ELASTIC_ENDS_BELOW: f64 = 0.16;
const ELASTIC_THICK: f64 = 0.006;
const ELASTIC_BELOW: f64 = 0.008;

/// How much deeper than the lining an elastic goes: it lies on it, so that it is seen where it is sewn.
const ELASTIC_INSIDE: f64 = 0.002;

/// How far below the toplines ribbons that are tied begin, how much higher than a strap they lie where
/// they are sewn on and how much more over the foot, and how thick they are, as shares of the foot's length.
pub(super) const RIBBON_BELOW: f64 = 0.09;
const RIBBON_ABOVE: [f64; 2] = [0.006, 0.01];
pub(super) const RIBBON_THICK: f64 = 0.008;

/// Rounds in which normals are averaged: on the form, on the strap.
const ROUNDS: [usize; 2] = [2, 4];

/// Lines along the strap on the form, before it is lifted off.
struct Lines {
    points: Vec<Vec3>,
    /// Along each line: where its points stand, and where the inner and the outer topline are.
    along: Vec<[f64; 4]>,
}

/// What part of the way over the foot a band takes.
#[derive(Debug, Clone, Copy)]
enum Ends {
    /// From a round end outside the outer topline to inside the inner one.
    Outside,
    /// From this far above the outer topline to inside the inner one.
    Above(f64),
    /// From inside the outer topline to this far above it.
    Elastic(f64),
    /// Both ends outside, sewn on over the side seams.
    Ribbons,
}

/// What is seen on the outer end of a strap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum OuterEnd {
    /// Nothing.
    Bare,
    /// The mark of its button.
    Marked,
    /// The button.
    Buttoned,
}

/// A strap over the foot.
#[derive(Debug)]
pub(super) struct Strap {
    band: Scene,
    button: Place,
    mark: Curve,
    elastic: Option<Scene>,
}

impl Strap {
    /// The strap; `None` if its planes do not cut the form in simple lines.
    pub(super) fn new(
        form: &ShoeForm,
        look: &ShoeLook,
        strap: StrapLook,
        extent: &Extent,
    ) -> Option<Self> {
        let length = extent.length;
        let width = strap.width * length;
        let ends = match strap.elastic {
            None => Ends::Outside,
            Some(elastic) => Ends::Above(elastic * length),
        };
        let (base, lines) = base(form, look, strap, ends, extent)?;
        let mut band = solid(&base, THICK * length);
        let stitches = stitching(&base, THICK * length, width, strap.sewn);
        band.curves.extend(stitches);
        let face = (&base, THICK * length);
        let mark = button_mark(face, width, 0.5 * width, button::RADIUS * width);
        let middle = LINES / 2;
        let [start, end, ..] = lines.along[middle];
        let share = (0.5 * width / (end - start)).clamp(0.0, 1.0);
        let at = middle * POINTS + (share * (POINTS - 1) as f64).round() as usize;
        let button = Place {
            middle: base.vertices[at] + base.normals[at] * (THICK * length),
            normal: base.normals[at],
            strap: width,
        };
        let elastic = match strap.elastic {
            Some(shown) => Some(elastic(form, look, strap, shown, extent)?),
            None => None,
        };
        Some(Self {
            band,
            button,
            mark,
            elastic,
        })
    }

    /// What is drawn of it, with the button, its mark or neither on its outer end.
    pub(super) fn scene(&self, end: OuterEnd) -> Scene {
        let mut scene = self.band.clone();
        match end {
            OuterEnd::Bare => {}
            OuterEnd::Marked => scene.curves.push(self.mark.clone()),
            OuterEnd::Buttoned => scene.add(button::button(self.button)),
        }
        if let Some(elastic) = &self.elastic {
            scene.add(elastic.clone());
        }
        scene
    }
}

/// Ribbons sewn on over both side seams and drawn over the foot; also their underside. `None` as with
/// [`Strap::new`].
pub(super) fn ribbons(
    form: &ShoeForm,
    look: &ShoeLook,
    tie: TieLook,
    extent: &Extent,
) -> Option<(Scene, Mesh)> {
    let seam = form.side_seams[FootSide::Outer as usize].top().point;
    let strap = StrapLook {
        // the middle of its end lies on the seam
        at: seam.x / extent.length + LEAN * RIBBON_BELOW,
        width: tie.width / extent.length,
        button: false,
        ..StrapLook::default()
    };
    let (base, _) = base(form, look, strap, Ends::Ribbons, extent)?;
    let thick = RIBBON_THICK * extent.length;
    let mut band = solid(&base, thick);
    let end = |line: usize| line * POINTS + POINTS - 1;
    let down = |line: usize| (base.vertices[end(line)] - base.vertices[end(line) - 1]).unit();
    let at = |line: usize| base.vertices[end(line)] + base.normals[end(line)] * thick;
    let normals = (0..LINES).map(|line| down(line) + base.normals[end(line)] * 0.6);
    let edge = Curve::new(
        (0..LINES).map(at).collect(),
        normals.collect(),
        LineKind::Strap,
    );
    band.curves.push(edge);
    for end in [End::First, End::Last] {
        let face = (&base, thick);
        let lap = RIBBON_BELOW * extent.length;
        let row = lap_stitching(face, tie.width, lap, end);
        band.curves.push(row);
    }
    Some((band, base))
}

/// The elastic at a strap's outer end, `shown` of the foot's length of it.
fn elastic(
    form: &ShoeForm,
    look: &ShoeLook,
    strap: StrapLook,
    shown: f64,
    extent: &Extent,
) -> Option<Scene> {
    let length = extent.length;
    let narrow = StrapLook {
        width: strap.elastic_width * strap.width,
        ..strap
    };
    let ends = Ends::Elastic((shown + 0.6 * strap.width) * length);
    let (base, _) = base(form, look, narrow, ends, extent)?;
    let mut band = solid(&base, ELASTIC_THICK * length);
    for curve in &mut band.curves {
        curve.tag = part::ELASTIC;
    }
    Some(band)
}

/// The underside of a band over the foot, and its lines on the form.
fn base(
    form: &ShoeForm,
    look: &ShoeLook,
    strap: StrapLook,
    ends: Ends,
    extent: &Extent,
) -> Option<(Mesh, Lines)> {
    let length = extent.length;
    let lines = lines(form, extent, strap, ends)?;
    let triangles = net_triangles(LINES, POINTS, false);
    let mut base = Mesh {
        normals: vertex_normals(&lines.points, &triangles, ROUNDS[0]),
        vertices: lines.points.clone(),
        triangles,
        ..Mesh::default()
    };
    face_up(&mut base);
    let deeper = match ends {
        Ends::Elastic(_) => ELASTIC_INSIDE,
        _ => INSIDE,
    };
    let inside = extent.cloth(look) + (LIFT + deeper) * length;
    let lift = match ends {
        Ends::Elastic(_) => LIFT - ELASTIC_BELOW,
        _ => LIFT,
    };
    for (number, vertex) in base.vertices.iter_mut().enumerate() {
        let [start, end, inner, outer] = lines.along[number / POINTS];
        let share = (number % POINTS) as f64 / (POINTS - 1) as f64;
        let along = start + (end - start) * share;
        let mut down = goes_in(along - inner, GOES_IN, length);
        if let Ends::Above(_) | Ends::Elastic(_) = ends {
            down += goes_in(outer - along, GOES_IN_OUTSIDE, length);
        }
        let near = (along - start).min(end - along) / (0.5 * RIBBON_BELOW * length);
        let by = match ends {
            Ends::Ribbons => (lift + RIBBON_ABOVE[0] + RIBBON_ABOVE[1] * smooth(near)) * length,
            _ => lift * length - inside * down,
        };
        *vertex = *vertex + base.normals[number] * by;
    }
    base.normals = vertex_normals(&base.vertices, &base.triangles, ROUNDS[1]);
    face_up(&mut base);
    Some((base, lines))
}

/// How far a band has gone in, from 0 to 1, `beyond` mm past the topline.
fn goes_in(beyond: f64, [before, over]: [f64; 2], length: f64) -> f64 {
    smooth((beyond + before * length) / (over * length))
}

/// From 0 to 1 without a bend at either end.
fn smooth(share: f64) -> f64 {
    let share = share.clamp(0.0, 1.0);
    share * share * (3.0 - 2.0 * share)
}

/// Lets normals and triangles point up where the strap crosses the foot.
fn face_up(mesh: &mut Mesh) {
    let up: f64 = mesh.normals.iter().map(|n| n.z).sum();
    if up < 0.0 {
        mesh.normals.iter_mut().for_each(|n| *n = -*n);
    }
    mesh.face_along_normals();
}

fn lines(form: &ShoeForm, extent: &Extent, strap: StrapLook, ends: Ends) -> Option<Lines> {
    let length = extent.length;
    let cos = 1.0 / f64::hypot(1.0, LEAN);
    let sin = LEAN * cos;
    let half = 0.5 * strap.width * length;
    let height = form.cut.side_heights[FootSide::Outer as usize];
    let mut lines = Lines {
        points: Vec::with_capacity(LINES * POINTS),
        along: Vec::with_capacity(LINES),
    };
    for number in 0..LINES {
        // Closer together at the edges, where the round end is steep.
        let share = (number as f64 / (LINES - 1) as f64 - 0.5) * std::f64::consts::PI;
        let across = half * share.sin();
        let plane = Plane {
            form,
            at: strap.at * length + across / cos,
            height,
            length,
        };
        let (points, toplines) = plane.line()?;
        let along = lengths(&points);
        let [inner, outer] = toplines.map(|number| {
            let (whole, share) = (number as usize, number.fract());
            along[whole] + share * (along[whole + 1] - along[whole])
        });
        let [start, end] = match ends {
            Ends::Outside => {
                let side = plane.length_at_height(&points, &along)?;
                let round = (half * half - across * across).max(0.0).sqrt();
                let start = side - BUTTON_BELOW * length - across / cos * sin - round;
                [start, inner + ENDS_BELOW * length]
            }
            // Square to the strap, though its planes lean.
            Ends::Above(by) => [outer + by - across / cos * sin, inner + ENDS_BELOW * length],
            // Square to the ribbon, too, wherever its edges cross the topline; where a line stays below the
            // sides, from its topline.
            Ends::Ribbons => {
                let below = RIBBON_BELOW * length + across / cos * sin;
                let outside = plane.length_at_height(&points, &along);
                let inside = plane.length_at_inner_height(&points, &along);
                [
                    outside.unwrap_or(outer) - below,
                    inside.unwrap_or(inner) + below,
                ]
            }
            Ends::Elastic(by) => [
                outer - ELASTIC_ENDS_BELOW * length,
                outer + by - across / cos * sin,
            ],
        };
        lines.along.push([start, end, inner, outer]);
        for point in 0..POINTS {
            let wanted = start + (end - start) * point as f64 / (POINTS - 1) as f64;
            lines.points.push(smooth_at(&points, &along, wanted));
        }
    }
    Some(lines)
}

/// The point at `wanted` along a line, on a cubic with the tangents of the points' neighbours: on
/// straight spans the strap's silhouette would waver.
fn smooth_at(points: &[Vec3], along: &[f64], wanted: f64) -> Vec3 {
    let last = points.len() - 1;
    let after = along.partition_point(|l| *l <= wanted).clamp(1, last);
    let (i, span) = (after - 1, along[after] - along[after - 1]);
    let t = ((wanted - along[i]) / span.max(1e-12)).clamp(0.0, 1.0);
    let tangent = |i: usize| {
        let (a, b) = (i.saturating_sub(1), (i + 1).min(last));
        (points[b] - points[a]) * (span / (along[b] - along[a]).max(1e-12))
    };
    let (rest, square) = (1.0 - t, t * t);
    points[i] * ((1.0 + 2.0 * t) * rest * rest)
        + points[after] * (square * (3.0 - 2.0 * t))
        + tangent(i) * (t * rest * rest)
        + tangent(after) * (-square * rest)
}

//! The courses of the tapes on a foot's surface. Millimetres, the foot's axes.

use super::body::Body;
use super::measure::Measure;
use crate::figure::drawing::{Curve, LineKind, zero_lines};
use crate::foot::form::{FootForm, FootSide, station};
use crate::geometry::space::Vec3;

/// Half the length of the upright lines at the ends of the heel wrap, as a share of the foot's
/// length.
const END: f64 = 0.035;

/// The course of the tape for `measure`, as one curve or several.
pub(super) fn tape(foot: &FootForm, body: &Body, measure: Measure) -> Vec<Curve> {
    let length = foot.length;
    match measure {
        Measure::BallGirth => upright(foot, body, station::BALL * length),
        Measure::InstepGirth => upright(foot, body, station::INSTEP * length),
        Measure::AnkleGirth => {
            let height = foot.measures.bend_height;
            cut(body, |p| p.z - height)
        }
        Measure::LongHeelGirth => {
            let heel = Vec3::new(foot.form.edge.back(), 0.0, 0.0);
            let x = body.long_heel;
            let way = Vec3::new(x, 0.0, foot.form.height(x)) - heel;
            let normal = Vec3::new(-way.z, 0.0, way.x).unit();
            let inside = 0.002 * length;
            cut(body, |p| (p - heel).dot(normal) - inside)
        }
        Measure::HeelWrap => wrap(foot, body),
        _ => Vec::new(),
    }
}

/// Where `value` vanishes on the surface.
fn cut(body: &Body, value: impl Fn(Vec3) -> f64) -> Vec<Curve> {
    let values: Vec<f64> = body.upper.vertices.iter().map(|p| value(*p)).collect();
    zero_lines(&body.upper, &values, LineKind::Detail)
}

/// Upright over the foot at `x`, and across under the sole.
fn upright(foot: &FootForm, body: &Body, x: f64) -> Vec<Curve> {
    let mut curves = cut(body, |p| p.x - x);
    let edge = &foot.form.edge;
    let ends = FootSide::BOTH.map(|side| Vec3::new(x, edge.across(side, x), 0.0));
    let down = Vec3::new(0.0, 0.0, -1.0);
    curves.push(Curve::new(ends.into(), vec![down; 2], LineKind::Detail));
    curves
}

/// Level round the back of the heel, with the upright lines at its ends.
fn wrap(foot: &FootForm, body: &Body) -> Vec<Curve> {
    let height = station::WRAP_HEIGHT * foot.length;
    let end = station::WRAP_END * foot.length;
    let mut curves = Vec::new();
    for whole in cut(body, |p| p.z - height) {
        for (points, normals) in behind(&whole, end) {
            for at in [0, points.len() - 1] {
                if (points[at].x - end).abs() < 1e-6 {
                    curves.push(end_line(points[at], normals[at], END * foot.length));
                }
            }
            curves.push(Curve::new(points, normals, LineKind::Detail));
        }
    }
    curves
}

fn end_line(at: Vec3, normal: Vec3, half: f64) -> Curve {
    let up = Vec3::new(0.0, 0.0, half);
    Curve::new(
        vec![at - up, at, at + up],
        vec![normal; 3],
        LineKind::Detail,
    )
}

type Part = (Vec<Vec3>, Vec<Vec3>);

/// The parts of a curve behind x, each ending exactly there.
fn behind(curve: &Curve, x: f64) -> Vec<Part> {
    let mut order: Vec<usize> = (0..curve.points.len()).collect();
    if curve.closed {
        order.pop();
        // A closed curve begins before x, so that no part is parted by its start.
        let foremost = order
            .iter()
            .copied()
            .max_by(|a, b| curve.points[*a].x.total_cmp(&curve.points[*b].x));
        order.rotate_left(foremost.unwrap_or(0));
        order.extend(order.first().copied());
    }
    let mut parts: Vec<Part> = Vec::new();
    let mut open = false;
    for pair in order.windows(2) {
        let ([a, b], [n, m]) = (
            [curve.points[pair[0]], curve.points[pair[1]]],
            [curve.normals[pair[0]], curve.normals[pair[1]]],
        );
        let inside = [a.x < x, b.x < x];
        if inside == [false, false] {
            open = false;
            continue;
        }
        if !open {
            parts.push((Vec::new(), Vec::new()));
            open = true;
        }
        let Some(part) = parts.last_mut() else {
            continue;
        };
        let share = (x - a.x) / (b.x - a.x);
        let (from, to) = match inside {
            [true, true] => (0.0, 1.0),
            [false, true] => (share, 1.0),
            _ => (0.0, share),
        };
        if part.0.is_empty() {
            part.0.push(a.lerp(b, from));
            part.1.push(n.lerp(m, from));
        }
        part.0.push(a.lerp(b, to));
        part.1.push(n.lerp(m, to));
        open = inside[1];
    }
    parts
}

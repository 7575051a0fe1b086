//! The grain line: direction from the design, length and place from the outline.

use crate::design::GrainSpec;
use crate::geometry::Outline;
use kurbo::{Line, ParamCurve, Point, Shape, Vec2};

/// Share of the piece's own length along the grain that the line takes (common practice: long
/// enough to lay a rule along).
const SHARE: f64 = 0.6;

/// The grain line of a piece, through the middle of its longest stretch along the grain that
/// passes near the centre of its bounds.
pub(super) fn line(outline: &Outline, grain: GrainSpec) -> Option<[Point; 2]> {
    let GrainSpec::Angle(degrees) = grain else {
        return None;
    };
    let (sin, cos) = degrees.to_radians().sin_cos();
    let along = Vec2::new(sin, -cos);
    let centre = outline.bounds().center();
    let (from, to) = stretch(outline, centre, along)?;
    let middle = from.midpoint(to);
    let half = along * (from.distance(to) * SHARE / 2.0);
    Some([middle + half, middle - half])
}

/// The stretch of the line through `centre` that lies inside the outline: the one that holds the
/// centre, or the longest.
fn stretch(outline: &Outline, centre: Point, along: Vec2) -> Option<(Point, Point)> {
    let bounds = outline.bounds();
    let reach = along * (bounds.width() + bounds.height() + 1.0);
    let ray = Line::new(centre - reach, centre + reach);
    let path = outline.path();
    let mut shares: Vec<f64> = path
        .segments()
        .flat_map(|s| s.intersect_line(ray))
        .map(|crossing| crossing.line_t)
        .collect();
    shares.sort_by(f64::total_cmp);
    shares.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let inside = |pair: &&[f64]| path.contains(ray.eval(f64::midpoint(pair[0], pair[1])));
    let stretches: Vec<&[f64]> = shares.windows(2).filter(|pair| inside(pair)).collect();
    let central = stretches
        .iter()
        .find(|pair| pair[0] <= 0.5 && 0.5 <= pair[1]);
    let longest = stretches
        .iter()
        .max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    let pair = central.or(longest)?;
    Some((ray.eval(pair[0]), ray.eval(pair[1])))
}

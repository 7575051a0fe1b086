//! Outlines made of bytes, and what holds for rings.

use arbitrary::{Result, Unstructured};
use kurbo::{BezPath, ParamCurveNearest, Point, Shape, Vec2};
use pressfoot::geometry::probe::is_inside;
use pressfoot::geometry::{Edge, Outline, curve};
use std::f64::consts::TAU;

/// A number from `from` to `to`, in 65536 steps.
pub fn number(bytes: &mut Unstructured<'_>, from: f64, to: f64) -> Result<f64> {
    let share = f64::from(bytes.arbitrary::<u16>()?) / f64::from(u16::MAX);
    Ok(from + (to - from) * share)
}

/// One of a list.
pub fn one_of<T: Copy>(bytes: &mut Unstructured<'_>, list: &[T]) -> Result<T> {
    bytes.choose(list).copied()
}

/// Corners of a ring: most often round a middle in their order, so that few cross; else anywhere.
pub fn corners(bytes: &mut Unstructured<'_>, count: usize, far: f64) -> Result<Vec<Point>> {
    let anywhere = bytes.ratio(1_u8, 6_u8)?;
    let mut corners = Vec::with_capacity(count);
    for index in 0..count {
        let corner = if anywhere {
            Point::new(number(bytes, -far, far)?, number(bytes, -far, far)?)
        } else {
            let turn = (index as f64 + number(bytes, -0.45, 0.45)?) / count as f64 * TAU;
            let radius = number(bytes, 0.05 * far, far)?;
            Point::new(radius * turn.cos(), radius * turn.sin())
        };
        // many lengths of real pieces are whole
        let whole = bytes.ratio(1_u8, 3_u8)?;
        corners.push(if whole { corner.round() } else { corner });
    }
    Ok(corners)
}

/// An edge from one corner to the next.
pub fn edge(bytes: &mut Unstructured<'_>, from: Point, to: Point) -> Result<BezPath> {
    let along = to - from;
    let across = Vec2::new(along.y, -along.x);
    let mut curve = BezPath::new();
    curve.move_to(from);
    match bytes.int_in_range(0..=3)? {
        0 | 1 => curve.line_to(to),
        2 => {
            let bend = number(bytes, -0.6, 0.6)?;
            curve.quad_to(from.midpoint(to) + bend * across, to);
        }
        _ => {
            let mut handle = |at: f64| -> Result<Point> {
                let share = at + number(bytes, -0.4, 0.4)?;
                Ok(from + share * along + number(bytes, -0.6, 0.6)? * across)
            };
            let handles = [handle(0.3)?, handle(0.7)?];
            curve.curve_to(handles[0], handles[1], to);
        }
    }
    Ok(curve)
}

/// An outline that does not cross itself, of three to ten edges; `None` if the bytes make none.
pub fn outline(bytes: &mut Unstructured<'_>) -> Result<Option<Outline>> {
    let count = bytes.int_in_range(3..=10)?;
    let far = one_of(bytes, &[6.0, 20.0, 60.0, 200.0])?;
    let corners = corners(bytes, count, far)?;
    let mut edges = Vec::with_capacity(count);
    for (index, from) in corners.iter().enumerate() {
        let curve = edge(bytes, *from, corners[(index + 1) % count])?;
        edges.push(Edge::new(format!("edge {index}"), curve));
    }
    let outline = Outline::new(edges).ok();
    Ok(outline.filter(|outline| outline.area() > 1.0 && outline.check_simple().is_ok()))
}

/// Checks that a cut line is one closed ring that does not cross itself, and that the outline lies within.
pub fn lies_round(line: &BezPath, outline: &Outline) {
    is_simple(line);
    assert!(
        line.area() >= outline.area() - 1e-3,
        "the cut line holds {} of {} mm²: {} {}",
        line.area(),
        outline.area(),
        line.to_svg(),
        outline.path().to_svg()
    );
    let seam = outline.path();
    for point in curve::spread(line, 120) {
        // a ray through corners of the outline may be counted amiss: ask beside it too
        let inside = [Vec2::ZERO, Vec2::new(1.3e-6, 1.7e-6)].map(|by| is_inside(&seam, point + by));
        let within = inside == [true; 2] && distance(&seam, point) > 2e-3;
        assert!(
            !within,
            "the cut line lies {} mm inside at {point}: {} {}",
            distance(&seam, point),
            line.to_svg(),
            seam.to_svg()
        );
    }
}

/// Checks that a path is one closed ring that does not cross itself.
pub fn is_simple(path: &BezPath) {
    assert!(path.is_finite(), "{}", path.to_svg());
    let segments: Vec<_> = path.segments().collect();
    let ends = segments.first().zip(segments.last());
    let (first, last) = ends.unwrap_or_else(|| panic!("an empty path"));
    let gap = kurbo::ParamCurve::start(first).distance(kurbo::ParamCurve::end(last));
    assert!(gap < 1e-3, "open by {gap}: {}", path.to_svg());
    let parts = path.elements().iter();
    let parts = parts.filter(|element| matches!(element, kurbo::PathEl::MoveTo(_)));
    assert_eq!(parts.count(), 1, "{}", path.to_svg());
    let ring = Outline::new(vec![Edge::new("ring", curve::chained(segments))]);
    let ring = ring.unwrap_or_else(|fault| panic!("{fault:?}: {}", path.to_svg()));
    let simple = ring.check_simple();
    assert!(simple.is_ok(), "{simple:?}: {}", path.to_svg());
}

/// From a point to a path, mm.
pub fn distance(path: &BezPath, point: Point) -> f64 {
    let near = path.segments().map(|s| s.nearest(point, 1e-9).distance_sq);
    near.fold(f64::INFINITY, f64::min).sqrt()
}

//! Rows that go on beyond the seam line at their ends, to the edge of the cloth. Millimetres in the axes of
//! the piece.

use super::ply::Ply;
use super::request::{Named, RowEnds};
use crate::geometry::probe::meetings;
use crate::geometry::{Edge, curve};
use kurbo::{BezPath, Line, ParamCurve};

/// No allowance is wider, so that a row is led on no further.
const REACH: f64 = 60.0;

/// An edge of the cloth so near the end of a row is where it ends already.
const AT_THE_EDGE: f64 = 1e-6;

/// Where two parts of one line meet they are no further apart.
const AT_NOTCH: f64 = 1e-3;

/// Which ends of a row along `edge` are led on: those at which no other row of the `named` edges goes on.
pub(super) fn led_on(ply: &Ply, edge: &Edge, named: &[Named], ends: RowEnds) -> [bool; 2] {
    let edges = ply.piece.outline.edges();
    let at = edges.iter().position(|other| other.name == edge.name);
    let (Some(at), RowEnds::CutEdge) = (at, ends) else {
        return [false; 2];
    };
    let count = edges.len();
    let neighbours = [(at + count - 1) % count, (at + 1) % count];
    let sewn = |name: &str| named.is_empty() || named.iter().any(|other| other.text == name);
    neighbours.map(|neighbour| !sewn(&edges[neighbour].name))
}

/// Nor is a row led on where it ends at a notch, beyond which the `rest` of its edge is not sewn.
pub(super) fn but_at_notch(led_on: [bool; 2], row: &BezPath, rest: &BezPath) -> [bool; 2] {
    let ends = |path: &BezPath| {
        Some((
            path.segments().next()?.start(),
            path.segments().last()?.end(),
        ))
    };
    let (Some((start, end)), Some((from, to))) = (ends(row), ends(rest)) else {
        return led_on;
    };
    [
        led_on[0] && start.distance(to) > AT_NOTCH,
        led_on[1] && end.distance(from) > AT_NOTCH,
    ]
}

/// A row led straight on to the edge of the `surface` at its `led_on` ends.
pub(super) fn to_cut_edge(
    row: BezPath,
    surface: &BezPath,
    [at_start, at_end]: [bool; 2],
) -> BezPath {
    let whole = curve::length(&row, 1e-4);
    let beyond = |at: f64, way: f64| {
        let station = curve::station(&row, at, 1e-4)?;
        let ray = Line::new(station.point, station.point + station.tangent * way * REACH);
        let met = surface.segments().flat_map(|s| meetings(&s, ray));
        let first = met.map(|m| m.share).filter(|s| *s * REACH > AT_THE_EDGE);
        Some((station.point, ray.eval(first.reduce(f64::min)?)))
    };
    let start = beyond(0.0, -1.0).filter(|_| at_start);
    let end = beyond(whole, 1.0).filter(|_| at_end);
    let mut path = BezPath::new();
    let mut elements = row.elements().iter().copied();
    if let Some((from, out)) = start {
        elements.next();
        path.move_to(out);
        path.line_to(from);
    }
    path.extend(elements);
    if let Some((_, out)) = end {
        path.line_to(out);
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plates::ink::path_of;
    use kurbo::{Point, Rect, Shape};

    #[test]
    fn a_row_is_led_on_straight_to_the_edge_of_the_cloth() {
        let cloth = Rect::new(0.0, 0.0, 50.0, 40.0).to_path(1e-3);
        let row = path_of(&[Point::new(6.0, 6.0), Point::new(6.0, 30.0)]);
        let long = |ends| curve::length(&to_cut_edge(row.clone(), &cloth, ends), 1e-6);
        // by hand: 6 mm are left above it, 10 mm below
        assert!((long([false, false]) - 24.0).abs() < 1e-6);
        assert!((long([true, false]) - 30.0).abs() < 1e-6);
        assert!((long([false, true]) - 34.0).abs() < 1e-6);
        assert!((long([true, true]) - 40.0).abs() < 1e-6);
        // it ends at the edge already
        let whole = path_of(&[Point::new(6.0, 0.0), Point::new(6.0, 40.0)]);
        let same = to_cut_edge(whole.clone(), &cloth, [true, true]);
        assert!((curve::length(&same, 1e-6) - 40.0).abs() < 1e-6);
    }
}

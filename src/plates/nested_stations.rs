//! Stations on the outline of a nested size, and what a leader from one meets. Millimetres, in the
//! axes of the drawing.

use super::drawing::Drawing;
use super::field;
use kurbo::{Line, ParamCurve, Point, Rect, Vec2};

/// From station to station.
pub const STEP: f64 = 1.5;

/// Cut and seam line of a size as straight lines.
pub fn own_lines(drawing: &Drawing, index: usize) -> [Vec<Line>; 2] {
    let size = &drawing.sizes[index];
    let cut = (0..size.ring.len())
        .map(|i| Line::new(size.ring[i], size.ring[(i + 1) % size.ring.len()]))
        .collect();
    let seam = size.seam.as_ref().map(|s| field::flat(s, 0.05));
    [cut, seam.unwrap_or_default()]
}

/// Points of the closed ring every [`STEP`] mm, with unit tangents.
pub fn stations(ring: &[Point]) -> Vec<(Point, Vec2)> {
    let mut stations = Vec::new();
    let mut next = STEP / 2.0;
    let mut gone = 0.0;
    for (i, start) in ring.iter().enumerate() {
        let line = Line::new(*start, ring[(i + 1) % ring.len()]);
        let along = line.p1 - line.p0;
        let length = along.hypot();
        while length > 1e-9 && next <= gone + length {
            stations.push((line.eval((next - gone) / length), along / length));
            next += STEP;
        }
        gone += length;
    }
    stations
}

/// How often a leader crosses `lines`; `None` if it runs along one of them, or meets its `own` line
/// again.
pub fn crossings(leader: Line, lines: &[Line], own: bool) -> Option<usize> {
    let way = (leader.p1 - leader.p0).normalize();
    let mut count = 0;
    // its own line is met where the leader begins
    let begin = if own { 1.5 } else { 0.0 };
    let from = leader.p0 + way * begin;
    let rest = Line::new(from, leader.p1 + way * 0.3);
    let room = Rect::from_points(rest.p0, rest.p1).inflate(0.3, 0.3);
    for line in lines {
        let along = line.p1 - line.p0;
        let length = along.hypot();
        if length < 1e-9 || field::clipped(*line, room).is_none() {
            continue;
        }
        if own || way.cross(along / length).abs() < 0.5 {
            return None;
        }
        count += 1;
    }
    Some(count)
}

//! Cutting cut lines back at a line: beside an edge without allowance, and at folded corners.

use super::FOLD_REACH;
use super::corner::{Bridge, Turn, Way, through};
use crate::geometry::probe::meetings;
use kurbo::{Line, ParamCurve, PathSeg, Point, Vec2};

/// Where `path` first meets the line through `point` along `direction`, between `-back` and
/// `ahead` mm from `point`: index of the segment and parameter.
pub(super) fn first_crossing(
    path: &[PathSeg],
    point: Point,
    direction: Vec2,
    back: f64,
    ahead: f64,
) -> Option<(usize, f64)> {
    let line = Line::new(point - back * direction, point + ahead * direction);
    path.iter().enumerate().find_map(|(index, segment)| {
        let crossings = meetings(segment, line);
        let first = crossings.iter().map(|c| c.t).min_by(f64::total_cmp)?;
        Some((index, first.clamp(0.0, 1.0)))
    })
}

/// `path` from the given place on.
pub(super) fn from_place(path: &[PathSeg], (index, t): (usize, f64)) -> Vec<PathSeg> {
    let mut kept = vec![path[index].subsegment(t..1.0)];
    kept.extend_from_slice(&path[index + 1..]);
    kept
}

/// `path` up to the given place.
pub(super) fn to_place(path: &[PathSeg], (index, t): (usize, f64)) -> Vec<PathSeg> {
    let mut kept = path[..index].to_vec();
    kept.push(path[index].subsegment(0.0..t));
    kept
}

/// `path` run through backwards.
pub(super) fn reversed(path: &[PathSeg]) -> Vec<PathSeg> {
    path.iter().rev().map(PathSeg::reverse).collect()
}

/// The corner between an edge without allowance and one with: where the neighbour's cut line would
/// begin beyond the bare edge's line (an outward turn of less than a right angle), it is cut back
/// to that line, unless more than [`FOLD_REACH`] times its width would be lost; then it steps down
/// square to its seam line. `None` if this is no such corner.
pub(super) fn at_bare_edge(
    turn: &Turn,
    sides: &mut [Vec<PathSeg>],
    before: usize,
    next: usize,
) -> Option<Bridge> {
    let bare = |width: f64| width == 0.0;
    if bare(turn.width_before) == bare(turn.width_after) || turn.way() != Way::Opening {
        return None;
    }
    if turn.angle().cos() <= 0.0 {
        return None;
    }
    let reach = FOLD_REACH * turn.wider();
    let step = || through(turn, &[turn.vertex]);
    if bare(turn.width_before) {
        let place = first_crossing(&sides[next], turn.vertex, turn.before, 0.0, 2.0 * reach);
        let Some(place) = place.filter(|_| short_enough(turn)) else {
            return Some(step());
        };
        sides[next] = from_place(&sides[next], place);
        let line = Line::new(turn.vertex, sides[next][0].start());
        return Some(Bridge {
            before: vec![line.into()],
            after: Vec::new(),
        });
    }
    let backwards = reversed(&sides[before]);
    let place = first_crossing(&backwards, turn.vertex, -turn.after, 0.0, 2.0 * reach);
    let Some(place) = place.filter(|_| short_enough(turn)) else {
        return Some(step());
    };
    let kept = from_place(&backwards, place);
    let line = Line::new(kept[0].start(), turn.vertex);
    sides[before] = reversed(&kept);
    Some(Bridge {
        before: Vec::new(),
        after: vec![line.into()],
    })
}

/// Whether the stretch cut back, allowance / tan(angle), stays within the reach.
fn short_enough(turn: &Turn) -> bool {
    turn.angle().tan() * FOLD_REACH >= 1.0
}

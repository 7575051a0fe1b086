//! Side seams taken in or let out at the topline, on the flat pieces. Millimetres, y upwards.

use super::edges::PieceEdges;
use super::patch::{UpperEdge, UpperPiece};
use crate::geometry::bezier_fit::Chain;
use crate::geometry::root::root;
use kurbo::{CubicBez, ParamCurve, ParamCurveArclen, Vec2};

/// Where a piece's topline meets one of its sides.
struct Meeting {
    /// Number of the side among the piece's edges: 1 where the topline begins there, 3 where it ends.
    side: usize,
}

impl Meeting {
    fn of(piece: UpperPiece, edge: UpperEdge) -> Self {
        let around = UpperEdge::around(piece);
        let side = if around[1] == edge { 1 } else { 3 };
        Self { side }
    }

    fn topline_begins(&self) -> bool {
        self.side == 1
    }
}

/// Takes the side seam `edge` in by `by` mm at the topline of both pieces, lets it out if negative:
/// each corner moves along its own topline, the corner at the sole stays, and the seam tapers. Then
/// both seams are made as long as their mean by sliding the corners along them. `None` if there is
/// less topline than that.
pub(super) fn take_in(
    toe: &mut PieceEdges,
    heel: &mut PieceEdges,
    edge: UpperEdge,
    by: f64,
) -> Option<()> {
    let meetings = [
        Meeting::of(UpperPiece::Toe, edge),
        Meeting::of(UpperPiece::Heel, edge),
    ];
    for (piece, meeting) in [&mut *toe, &mut *heel].into_iter().zip(&meetings) {
        let way = shorten(&mut piece.chains[2].1, by, meeting.topline_begins())?;
        taper(&mut piece.chains[meeting.side].1, way, meeting);
    }
    let length = |piece: &PieceEdges, meeting: &Meeting| piece.chains[meeting.side].1.length();
    let mean = 0.5 * (length(toe, &meetings[0]) + length(heel, &meetings[1]));
    for (piece, meeting) in [toe, heel].into_iter().zip(&meetings) {
        slide(piece, meeting, mean)?;
    }
    Some(())
}

/// Cuts `by` mm off an end of a topline, or adds them along its tangent. Returns the way of its end.
fn shorten(topline: &mut Chain, by: f64, at_start: bool) -> Option<Vec2> {
    if at_start {
        let mut turned = backwards(topline);
        let way = shorten(&mut turned, by, false)?;
        *topline = backwards(&turned);
        return Some(way);
    }
    let end = topline.segments.last()?.p3;
    if by < 0.0 {
        let next = end - by * topline.end_tangent();
        let third = (next - end) / 3.0;
        topline
            .segments
            .push(CubicBez::new(end, end + third, next - third, next));
        return Some(next - end);
    }
    let mut left = by;
    while let Some(last) = topline.segments.pop() {
        let length = last.arclen(1e-9);
        if length > left {
            let kept = last.inv_arclen(length - left, 1e-9);
            topline.segments.push(last.subsegment(0.0..kept));
            return Some(topline.segments.last()?.p3 - end);
        }
        left -= length;
    }
    None
}

/// Moves a side's end at the topline by `way`, and what lies before it in proportion.
fn taper(side: &mut Chain, way: Vec2, meeting: &Meeting) {
    let count = side.segments.len() as f64;
    for (index, s) in side.segments.iter_mut().enumerate() {
        let share = |control: f64| {
            let along = (index as f64 + control / 3.0) / count;
            if meeting.topline_begins() {
                along
            } else {
                1.0 - along
            }
        };
        *s = CubicBez::new(
            s.p0 + share(0.0) * way,
            s.p1 + share(1.0) * way,
            s.p2 + share(2.0) * way,
            s.p3 + share(3.0) * way,
        );
    }
}

/// Slides the corner at the topline square to the topline, whose length that leaves alone, until the
/// side is `length` mm long.
fn slide(piece: &mut PieceEdges, meeting: &Meeting, length: f64) -> Option<()> {
    let side = piece.chains[meeting.side].1.clone();
    let topline = &piece.chains[2].1;
    let tangent = if meeting.topline_begins() {
        topline.start_tangent()
    } else {
        topline.end_tangent()
    };
    let along = Vec2::new(-tangent.y, tangent.x);
    let moved = |by: f64| {
        let mut side = side.clone();
        taper(&mut side, by * along, meeting);
        side
    };
    let off = |by: f64| moved(by).length() - length;
    let reach = 0.5 * length;
    let by = root(off, -reach, reach, 1e-10)?;
    piece.chains[meeting.side].1 = moved(by);
    let topline = &mut piece.chains[2].1.segments;
    if meeting.topline_begins() {
        let first = topline.first_mut()?;
        first.p0 += by * along;
        first.p1 += by * along;
    } else {
        let last = topline.last_mut()?;
        last.p3 += by * along;
        last.p2 += by * along;
    }
    Some(())
}

fn backwards(chain: &Chain) -> Chain {
    let turn = |s: &CubicBez| CubicBez::new(s.p3, s.p2, s.p1, s.p0);
    Chain {
        segments: chain.segments.iter().rev().map(turn).collect(),
        ..chain.clone()
    }
}

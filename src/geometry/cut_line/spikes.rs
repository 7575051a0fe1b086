//! Spikes of no width taken out of a ring: two lines in a row of which the second runs back along
//! the first. They enclose nothing, so winding numbers are the same without them.

use super::ring::Strand;
use crate::geometry::runs_back::TOGETHER;
use kurbo::{Line, PathSeg};

/// `strands`, a ring, without its straight spikes; what remains moves by no more than [`TOGETHER`].
pub(super) fn without_spikes(mut strands: Vec<Strand>) -> Vec<Strand> {
    let mut index = 0;
    let mut sound = 0;
    while strands.len() > 3 && sound < strands.len() {
        index %= strands.len();
        let next = (index + 1) % strands.len();
        if let (PathSeg::Line(out), PathSeg::Line(back)) =
            (strands[index].segment, strands[next].segment)
            && is_spike(&out, &back)
        {
            let left: PathSeg = Line::new(out.p0, back.p1).into();
            let kept = match length(&out) >= length(&back) {
                true => index,
                false => next,
            };
            strands[kept].segment = left;
            strands.remove(if kept == index { next } else { index });
            // the line before may now run back too
            index = index.saturating_sub(2);
            sound = 0;
        } else {
            index += 1;
            sound += 1;
        }
    }
    strands
}

fn is_spike(out: &Line, back: &Line) -> bool {
    let (a, b) = (out.p1 - out.p0, back.p1 - back.p0);
    let longer = length(out).max(length(back));
    a.dot(b) < 0.0 && a.cross(b).abs() <= TOGETHER * longer
}

fn length(line: &Line) -> f64 {
    (line.p1 - line.p0).hypot()
}

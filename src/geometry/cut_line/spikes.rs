//! Spikes of no width taken out of a ring: two lines in a row of which the second runs back along
//! the first. They enclose nothing, so winding numbers are the same without them.

use super::ring::Strand;
use crate::geometry::runs_back::TOGETHER;
use kurbo::{Line, ParamCurve, ParamCurveNearest, PathSeg};

/// Lines that turn back with less than this angle between them, radians, are a spike or a slit too
/// narrow to cut, however long they are.
const NARROW: f64 = 1e-3;

/// `strands`, a ring, without its straight spikes and slits; what remains is not moved by more than
/// [`TOGETHER`].
pub(in crate::geometry) fn without_spikes(mut strands: Vec<Strand>) -> Vec<Strand> {
    let mut index = 0;
    let mut sound = 0;
    while strands.len() > 3 && sound < strands.len() {
        index %= strands.len();
        let next = (index + 1) % strands.len();
        if let (PathSeg::Line(out), PathSeg::Line(back)) =
            (strands[index].segment, strands[next].segment)
            && is_spike(&out, &back)
        {
            cut_off(&mut strands, index, next, &out, &back);
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
    let (longer, shorter) = (a.hypot().max(b.hypot()), a.hypot().min(b.hypot()));
    let cross = a.cross(b).abs();
    a.dot(b) < 0.0 && (cross <= TOGETHER * longer || cross <= NARROW * longer * shorter)
}

/// Makes the shorter of two lines that run along each other end, or begin, square on the longer one.
fn cut_off(strands: &mut Vec<Strand>, index: usize, next: usize, out: &Line, back: &Line) {
    let out_is_longer = length(out) >= length(back);
    let (end, longer) = match out_is_longer {
        true => (back.p1, out),
        false => (out.p0, back),
    };
    let foot = longer.eval(longer.nearest(end, 1e-12).t);
    let apart = foot.distance(end) > TOGETHER;
    let (kept, other) = if out_is_longer {
        (index, next)
    } else {
        (next, index)
    };
    let meeting = if apart { foot } else { end };
    let (stretch, step) = match out_is_longer {
        true => (Line::new(out.p0, meeting), Line::new(meeting, end)),
        false => (Line::new(meeting, back.p1), Line::new(end, meeting)),
    };
    strands[kept].segment = stretch.into();
    strands[other].segment = step.into();
    if !apart {
        strands.remove(other);
    }
}

fn length(line: &Line) -> f64 {
    (line.p1 - line.p0).hypot()
}

//! What is put in where the outline turns: mitre, arc, chamfer, square ends, or the way back
//! through a corner that turns inward.

use super::Corner;
use super::hook::{HIDDEN, SMOOTH};
use kurbo::{CubicBez, Line, PathSeg, Point, Vec2};
use std::f64::consts::PI;

/// The place where one edge ends and the next begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    /// The corner, mm.
    pub vertex: Point,
    /// Unit tangent of the edge that ends.
    pub before: Vec2,
    /// Unit tangent of the edge that begins.
    pub after: Vec2,
    /// Allowance of the edge that ends, mm.
    pub width_before: f64,
    /// Allowance of the edge that begins, mm.
    pub width_after: f64,
    /// Whether its tangents tell of an inward corner only because an edge ends in a hook too small to be seen.
    pub is_hooked: bool,
}

/// What joins two cut lines, parted where one edge's share ends and the other's begins.
#[derive(Debug, Clone, Default)]
pub(super) struct Bridge {
    /// From the end of the first cut line.
    pub before: Vec<PathSeg>,
    /// To the start of the second.
    pub after: Vec<PathSeg>,
}

/// How an outline turns at a corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Way {
    /// Less than a degree.
    Smooth,
    /// Towards the inside of the ring: a convex corner, whose allowances open like a fan.
    Opening,
    /// Towards the outside: a corner whose allowances overlap.
    Closing,
}

/// The outward normal of a unit tangent.
pub(super) fn outward(tangent: Vec2) -> Vec2 {
    Vec2::new(tangent.y, -tangent.x)
}

impl Turn {
    /// Angle of the turn in radians, positive where the ring turns clockwise. A turn right back is one
    /// clockwise, whichever side of it rounding has put it: what is put in there lies beyond the tip of a
    /// needle, and at the bottom of a slit within the piece.
    pub(super) fn angle(&self) -> f64 {
        let angle = self
            .before
            .cross(self.after)
            .atan2(self.before.dot(self.after));
        if angle < SMOOTH - PI { PI } else { angle }
    }

    pub(super) fn way(&self) -> Way {
        let angle = self.angle();
        if angle.abs() < SMOOTH {
            Way::Smooth
        } else if angle > 0.0 {
            Way::Opening
        } else {
            Way::Closing
        }
    }

    /// Where the first cut line ends before anything is put in.
    pub(super) fn end(&self) -> Point {
        self.vertex + self.width_before * outward(self.before)
    }

    /// Where the second cut line begins.
    pub(super) fn start(&self) -> Point {
        self.vertex + self.width_after * outward(self.after)
    }

    /// The larger allowance.
    pub(super) fn wider(&self) -> f64 {
        self.width_before.max(self.width_after)
    }

    /// The smaller allowance.
    fn narrower(&self) -> f64 {
        self.width_before.min(self.width_after)
    }

    /// Whether just one of the two edges has no allowance.
    fn is_beside_bare(&self) -> bool {
        (self.width_before == 0.0) != (self.width_after == 0.0)
    }

    /// Away from the corner along the line of the edge without allowance, run on.
    fn bare_run_on(&self) -> Vec2 {
        match self.width_before == 0.0 {
            true => self.before,
            false => -self.after,
        }
    }

    /// Whether the two cut lines, run on straight, meet beyond the corner; else the wider would
    /// have to be cut back to meet the narrower.
    fn lines_meet(&self) -> bool {
        let cosine = self.angle().cos();
        self.width_before >= self.width_after * cosine - 1e-9
            && self.width_after >= self.width_before * cosine - 1e-9
    }

    /// Where the two cut lines, run on straight, meet.
    fn meeting(&self) -> Point {
        let angle = self.angle();
        let along = (self.width_after - self.width_before * angle.cos()) / angle.sin();
        self.end() + along * self.before
    }
}

/// Joins the two cut lines at `turn`. A folded corner is not made here but mitred.
pub(super) fn bridge(turn: &Turn, corner: Corner, tolerance: f64) -> Bridge {
    match turn.way() {
        Way::Smooth => through(turn, &[]),
        Way::Closing if turn.is_hooked && turn.narrower() > HIDDEN => through_disc(turn, tolerance),
        Way::Closing => through(turn, &[turn.vertex]),
        Way::Opening if turn.is_beside_bare() && corner == Corner::Chamfer => chamfer_at_bare(turn),
        Way::Opening if turn.is_beside_bare() && corner == Corner::Square => square_at_bare(turn),
        Way::Opening if corner == Corner::Chamfer => through(turn, &[]),
        Way::Opening if !turn.lines_meet() => through(turn, &[step(turn)]),
        Way::Opening => match corner {
            Corner::Round => arc(turn, tolerance),
            Corner::Square => square(turn),
            Corner::Mitre { limit } => mitre(turn, limit),
            Corner::Chamfer | Corner::Folded { .. } => mitre(turn, super::MITRE_LIMIT),
        },
    }
}

/// Straight lines through `points`; the first edge's share ends at the middle one.
pub(super) fn through(turn: &Turn, points: &[Point]) -> Bridge {
    let mut stops = vec![turn.end()];
    stops.extend_from_slice(points);
    stops.push(turn.start());
    let lines: Vec<PathSeg> = stops
        .windows(2)
        .map(|pair| Line::new(pair[0], pair[1]).into())
        .collect();
    let (before, after) = lines.split_at(lines.len().div_ceil(2));
    Bridge {
        before: before.to_vec(),
        after: after.to_vec(),
    }
}

/// Back through the corner, with a disc of the narrower allowance about it: the outline turns outward there,
/// and nothing else would lie round that.
fn through_disc(turn: &Turn, tolerance: f64) -> Bridge {
    let mut bridge = through(turn, &[turn.vertex]);
    let disc = disc(
        turn.vertex,
        turn.narrower(),
        turn.after - turn.before,
        tolerance,
    );
    bridge.before.extend(disc);
    bridge
}

/// From `centre` out along `spoke`, once round it at `radius` mm less half the tolerance, and back: a circle that
/// touched the cut lines would be hard to tell from them.
pub(super) fn disc(centre: Point, radius: f64, spoke: Vec2, tolerance: f64) -> Vec<PathSeg> {
    let radius = radius - 0.5 * tolerance;
    let begin = spoke.atan2();
    let count = arc_pieces(radius, 2.0 * PI, tolerance);
    let angle = |i: usize| begin + 2.0 * PI * i as f64 / count as f64;
    let out: PathSeg = Line::new(centre, centre + radius * Vec2::from_angle(begin)).into();
    let mut disc = vec![out];
    disc.extend((0..count).map(|i| arc_piece(centre, radius, angle(i), angle(i + 1))));
    disc.push(out.reverse());
    disc
}

/// The foot of the step by which a wider allowance ends square to its seam line at the corner.
fn step(turn: &Turn) -> Point {
    let cosine = turn.angle().cos();
    if turn.width_before < turn.width_after {
        turn.vertex + turn.width_before / cosine * outward(turn.after)
    } else {
        turn.vertex + turn.width_after / cosine * outward(turn.before)
    }
}

fn mitre(turn: &Turn, limit: f64) -> Bridge {
    let point = turn.meeting();
    let axis = point - turn.vertex;
    let reach = limit.max(1.0) * turn.wider();
    if axis.hypot() <= reach * (1.0 + 1e-9) {
        return through(turn, &[point]);
    }
    let axis = axis.normalize();
    let cut = |from: Point, direction: Vec2| {
        let left = reach - (from - turn.vertex).dot(axis);
        from + left / direction.dot(axis) * direction
    };
    let first = cut(turn.end(), turn.before);
    let last = cut(turn.start(), -turn.after);
    through(turn, &[first, first.midpoint(last), last])
}

/// Rectangular ends, each past the corner by the other's width.
fn square(turn: &Turn) -> Bridge {
    let end = turn.end() + turn.width_after * turn.before;
    let start = turn.start() - turn.width_before * turn.after;
    if turn.angle().cos() >= -1e-9 {
        return through(turn, &[turn.meeting()]);
    }
    // Where the lines that end the two strips cross, unless that lies beyond a seam line.
    let angle = turn.angle();
    let height = (turn.width_before + turn.width_after * angle.cos()) / angle.sin();
    let normal = outward(turn.before);
    let inner = turn.vertex + turn.width_after * turn.before + height * normal;
    if height >= 0.0 && (inner - turn.vertex).dot(outward(turn.after)) >= 0.0 {
        return through(turn, &[end, inner, start]);
    }
    let foot_end = turn.vertex + turn.width_after * turn.before;
    let foot_start = turn.vertex - turn.width_before * turn.after;
    through(turn, &[end, foot_end, turn.vertex, foot_start, start])
}

/// The end of an allowance beside an edge without one that meets it at less than a right angle
/// inside: run on to the bare edge's line, or past the corner by its own width and square down to it.
fn square_at_bare(turn: &Turn) -> Bridge {
    let width = turn.wider();
    let (sine, cosine) = turn.angle().sin_cos();
    let past = -cosine * width;
    if past <= width * sine {
        return through(turn, &[turn.meeting()]);
    }
    let on_bare = turn.vertex - width / cosine * turn.bare_run_on();
    match turn.width_before == 0.0 {
        true => through(turn, &[on_bare, turn.start() - width * turn.after]),
        false => through(turn, &[turn.end() + width * turn.before, on_bare]),
    }
}

/// The end of an allowance beside an edge without one, square to that edge's line.
fn chamfer_at_bare(turn: &Turn) -> Bridge {
    let reach = turn.wider() * turn.angle().sin();
    through(turn, &[turn.vertex + reach * turn.bare_run_on()])
}

/// An arc of the larger allowance about the corner, from where it meets the narrower cut line.
fn arc(turn: &Turn, tolerance: f64) -> Bridge {
    let radius = turn.wider();
    let past = |width: f64| (radius * radius - width * width).max(0.0).sqrt();
    let from = turn.end() + past(turn.width_before) * turn.before;
    let to = turn.start() - past(turn.width_after) * turn.after;
    let (first, last) = (from - turn.vertex, to - turn.vertex);
    let sweep = match first.cross(last).atan2(first.dot(last)) {
        back if back < SMOOTH - PI => back + 2.0 * PI,
        sweep => sweep.max(0.0),
    };
    let mut segments: Vec<PathSeg> = vec![Line::new(turn.end(), from).into()];
    let count = arc_pieces(radius, sweep, tolerance);
    let start_angle = first.atan2();
    for index in 0..count {
        let angle = |i: usize| start_angle + sweep * i as f64 / count as f64;
        segments.push(arc_piece(
            turn.vertex,
            radius,
            angle(index),
            angle(index + 1),
        ));
    }
    let half = 1 + count / 2;
    segments.push(Line::new(to, turn.start()).into());
    Bridge {
        before: segments[..half].to_vec(),
        after: segments[half..].to_vec(),
    }
}

/// An even number of cubics that keeps an arc within a tenth of `tolerance` (mm). A cubic's radial
/// error over the angle a is about (2/27) r sin⁶(a/4) / cos²(a/4) (Goldapp 1991).
fn arc_pieces(radius: f64, sweep: f64, tolerance: f64) -> usize {
    let mut count = 2;
    while count < 64 {
        let quarter = sweep / count as f64 / 4.0;
        let error = 2.0 / 27.0 * radius * quarter.sin().powi(6) / quarter.cos().powi(2);
        if error <= 0.1 * tolerance {
            break;
        }
        count += 2;
    }
    count
}

fn arc_piece(centre: Point, radius: f64, from: f64, to: f64) -> PathSeg {
    let (start, end) = (Vec2::from_angle(from), Vec2::from_angle(to));
    let handle = 4.0 / 3.0 * ((to - from) / 4.0).tan() * radius;
    let (first, last) = (centre + radius * start, centre + radius * end);
    CubicBez::new(
        first,
        first + handle * Vec2::new(-start.y, start.x),
        last - handle * Vec2::new(-end.y, end.x),
        last,
    )
    .into()
}

//! The toe piece from strips, with ruler and compass: centre toe below the throat, ball, side mark
//! and seam top each where two strips meet, then smooth lines. Millimetres, y upwards, the toe below
//! and the inner side at the right.

use super::lengths::{SIDES, Strips};
use super::upright;
use crate::draft::shoe::told::Told;
use crate::foot::form::FootSide;
use crate::geometry::bezier_fit::Chain;
use crate::geometry::curve;
use crate::geometry::root::root;
use kurbo::{Affine, BezPath, CubicBez, Line, PathSeg, Point, Vec2};
use std::f64::consts::{FRAC_PI_2, SQRT_2};

/// By how much both pieces may give up the right angle at a side mark, radians (from judgement).
const MOST_TURNED: f64 = 0.08;

/// How far the handles of the sole edge are stretched round the toe unless a fullness was chosen: a
/// dome laid flat is fuller there than the smoothest line (from judgement, after pieces over a form).
const FULLER: f64 = 1.15;

/// How far handles may be stretched to give an edge its length.
const STRETCH: [f64; 2] = [0.2, 2.2];

/// One half of the toe piece, as if it were the inner one; the throat is the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HalfToe {
    toe: Point,
    ball: Point,
    mark: Point,
    top: Point,
}

/// The whole toe piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Toe {
    sole: BezPath,
    topline: BezPath,
    /// Ends of the seams: marks and tops, inner and outer.
    marks: [Point; 2],
    tops: [Point; 2],
    /// Length of the sole edge from the centre toe to the side marks, inner and outer.
    pub(super) sole_halves: [f64; 2],
}

/// Two strips that must meet at a point, and the one between their other ends.
struct Meeting<'a> {
    names: [&'a str; 3],
    side: &'a str,
}

impl Meeting<'_> {
    /// The corner over the base from `p` to `q`, to the left of it, `r` from `p` and `s` from `q`.
    fn corner(
        &self,
        (p, r): (Point, f64),
        (q, s): (Point, f64),
        told: &mut Told<'_>,
    ) -> Option<Point> {
        let base = p.distance(q);
        let along = (r * r - s * s + base * base) / (2.0 * base.max(1e-9));
        let rise = r * r - along * along;
        // Also false for what is no number.
        if rise >= 0.0 && base > 0.0 {
            let way = (q - p) / base;
            return Some(p + along * way + rise.sqrt() * Vec2::new(-way.y, way.x));
        }
        let mut lengths = [base, r, s];
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        lengths.sort_by(f64::total_cmp);
        let [first, second, third] = self.names.map(|name| named(name, self.side));
        told.refuse(
            "shoe-strips",
            format!(
                "The strips ‘{first}’ ({base:.1} mm), ‘{second}’ ({r:.1} mm) and ‘{third}’ \
                 ({s:.1} mm) do not meet: the longest of them, {longest:.1} mm, is longer than the \
                 other two together, {:.1} mm.",
                lengths[0] + lengths[1]
            ),
            "Lay these three strips again, each straight from point to point.",
        );
        None
    }
}

fn named(name: &str, side: &str) -> String {
    if name == "throat to toe" {
        name.into()
    } else {
        format!("{name} {side}")
    }
}

impl HalfToe {
    /// The points of one half; strips that do not meet are told.
    pub(super) fn new(side: FootSide, strips: &Strips, told: &mut Told<'_>) -> Option<Self> {
        let strip = &strips.sides[side as usize];
        let meeting = |names| Meeting {
            names,
            side: SIDES[side as usize],
        };
        let throat = Point::ZERO;
        let toe = Point::new(0.0, -strips.throat_to_toe);
        let ball = meeting(["throat to toe", "throat to ball", "toe to ball"]).corner(
            (throat, strip.throat_to_ball),
            (toe, strip.toe_to_ball),
            told,
        )?;
        let mark = meeting(["throat to ball", "throat to side mark", "ball to side mark"]).corner(
            (throat, strip.throat_to_side_mark),
            (ball, strip.ball_to_side_mark),
            told,
        )?;
        let top = meeting(["throat to side mark", "throat to seam top", "side seam"]).corner(
            (throat, strip.throat_to_seam_top),
            (mark, strip.seam),
            told,
        )?;
        Some(Self {
            toe,
            ball,
            mark,
            top,
        })
    }

    /// The way of the circle through centre toe, ball and side mark at the ball.
    fn ahead(&self) -> Vec2 {
        let (front, hind) = (self.ball - self.toe, self.mark - self.ball);
        let (near, far) = (front.hypot(), hind.hypot());
        unit(front / near * far + hind / far * near)
    }

    /// The corner between sole edge and seam that would be best for this piece, less or more than a
    /// right angle by half of what a circle from the ball to the side mark asks for; the heel piece,
    /// which would have a right angle, gives the other half. Radians.
    pub(super) fn sole_corner(&self) -> f64 {
        let (ahead, chord) = (self.ahead(), unit(self.mark - self.ball));
        let end = 2.0 * ahead.dot(chord) * chord - ahead;
        let seam = self.top - self.mark;
        let corner = seam.cross(-end).atan2(seam.dot(-end)).abs();
        let half = 0.5 * (corner - FRAC_PI_2);
        FRAC_PI_2 + half.clamp(-MOST_TURNED, MOST_TURNED)
    }

    /// From the centre toe over the ball to the side mark, where it makes `corner` radians with the
    /// seam; the handles of its first part are stretched by `stretch`.
    fn sole(&self, corner: f64, stretch: f64) -> [CubicBez; 2] {
        let ahead = self.ahead();
        let seam = unit(self.top - self.mark).to_point();
        // Back to the ball, on the seam's left seen from the side mark.
        let end = -(Affine::rotate(corner) * seam).to_vec2();
        let level = Vec2::new(1.0, 0.0);
        [
            smooth(self.toe, level, self.ball, ahead, stretch),
            smooth(self.ball, ahead, self.mark, end, 1.0),
        ]
    }

    /// From the throat, which it crosses square to the centre, to the seam's top, where it makes
    /// `corner` radians with the seam; its handles are stretched by `stretch`.
    fn topline(&self, corner: f64, stretch: f64) -> CubicBez {
        let seam = unit(self.mark - self.top).to_point();
        let out = (Affine::rotate(-corner) * seam).to_vec2();
        let level = Vec2::new(1.0, 0.0);
        smooth(Point::ZERO, level, self.top, -out, stretch)
    }
}

/// The cubic between two points with given ways at its ends that looks smoothest (Hobby 1986, from
/// memory), its handles stretched.
fn smooth(from: Point, start: Vec2, to: Point, end: Vec2, stretch: f64) -> CubicBez {
    let chord = to - from;
    let turn = |way: Vec2, other: Vec2| way.cross(other).atan2(way.dot(other));
    let (first, last) = (turn(chord, start), turn(end, chord));
    let share = |a: f64, b: f64| {
        let ((sine, cosine), (other, beside)) = (a.sin_cos(), b.sin_cos());
        let lift = SQRT_2 * (sine - other / 16.0) * (other - sine / 16.0) * (cosine - beside);
        let root = 5.0_f64.sqrt();
        (2.0 + lift) / (3.0 * (1.0 + 0.5 * (root - 1.0) * cosine + 0.5 * (3.0 - root) * beside))
    };
    let handle = |a: f64, b: f64| (stretch * share(a, b)).clamp(0.05, 1.5) * chord.hypot();
    CubicBez::new(
        from,
        from + handle(first, last) * start,
        to - handle(last, first) * end,
        to,
    )
}

/// What a toe piece is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wanted {
    /// Corners between sole edge and seams, and between topline and seams, radians: each inner and
    /// outer.
    pub(super) corners: [[f64; 2]; 2],
    /// Length of the whole sole edge, if a fullness was chosen, mm.
    pub(super) sole: Option<f64>,
    /// Length of the whole topline, if a strip was laid along it, mm.
    pub(super) topline: Option<f64>,
}

/// How far handles must be stretched for an edge to have the `wanted` length; one that cannot have it
/// is told, and left as it is.
fn stretched(
    edge: &str,
    length: impl Fn(f64) -> f64,
    (wanted, usual): (Option<f64>, f64),
    told: &mut Told<'_>,
) -> f64 {
    let Some(wanted) = wanted else {
        return usual;
    };
    let found = root(|s| length(s) - wanted, STRETCH[0], STRETCH[1], 1e-9);
    found.unwrap_or_else(|| {
        told.warn(
            "shoe-strips",
            format!(
                "The {edge} of the toe piece comes out {:.1} mm long and cannot be {wanted:.1} mm \
                 long between the points that the strips give.",
                length(usual)
            ),
            "Lay the strips of the toe again, or ask for less fullness.",
        );
        usual
    })
}

impl Toe {
    /// The piece from its halves, with the lengths that its edges are asked to have.
    pub(super) fn new(halves: [HalfToe; 2], wanted: Wanted, told: &mut Told<'_>) -> Self {
        let [sole_corners, top_corners] = wanted.corners;
        let soles = |stretch: f64| [0, 1].map(|i| halves[i].sole(sole_corners[i], stretch));
        let toplines = |stretch: f64| [0, 1].map(|i| halves[i].topline(top_corners[i], stretch));
        let length = |stretch: f64| soles(stretch).iter().flatten().map(arc).sum::<f64>();
        let soles = soles(stretched("sole edge", length, (wanted.sole, FULLER), told));
        let length = |stretch: f64| toplines(stretch).iter().map(arc).sum::<f64>();
        let toplines = toplines(stretched("topline", length, (wanted.topline, 1.0), told));
        let sole_halves = soles.each_ref().map(|sole| sole.iter().map(arc).sum());
        let mirrored = Affine::FLIP_X;
        // From the inner mark round the toe to the outer one, from the outer top over the throat.
        let sole = reversed(&soles[0])
            .into_iter()
            .chain(soles[1].iter().map(|s| mirrored * *s));
        let topline = reversed(&[mirrored * toplines[1]])
            .into_iter()
            .chain([toplines[0]]);
        let marks = [halves[0].mark, mirrored * halves[1].mark];
        let tops = [halves[0].top, mirrored * halves[1].top];
        let lay = upright(marks[1], marks[0]);
        Self {
            sole: lay * curve::chained(sole.map(PathSeg::Cubic)),
            topline: lay * curve::chained(topline.map(PathSeg::Cubic)),
            marks: marks.map(|p| lay * p),
            tops: tops.map(|p| lay * p),
            sole_halves,
        }
    }

    /// Its edges in their order: sole edge, outer side, topline, inner side.
    pub(super) fn edges(&self) -> [BezPath; 4] {
        let line = |from: Point, to: Point| curve::chained([PathSeg::Line(Line::new(from, to))]);
        [
            self.sole.clone(),
            line(self.marks[1], self.tops[1]),
            self.topline.clone(),
            line(self.tops[0], self.marks[0]),
        ]
    }
}

fn arc(cubic: &CubicBez) -> f64 {
    let chain = Chain {
        segments: vec![*cubic],
        error: 0.0,
        joints: Vec::new(),
    };
    chain.length()
}

fn reversed(chain: &[CubicBez]) -> Vec<CubicBez> {
    let turn = |s: &CubicBez| CubicBez::new(s.p3, s.p2, s.p1, s.p0);
    chain.iter().rev().map(turn).collect()
}

fn unit(v: Vec2) -> Vec2 {
    v / v.hypot().max(1e-300)
}
